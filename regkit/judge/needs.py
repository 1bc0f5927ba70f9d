"""What a step still needs in one case, as a list of needs, each with the ways to meet it.

A need is met by a paper that is held. Else each way to meet it is a set of sources: papers to get
from outside, and steps that give a paper. All-of and any-of needs, papers that stand in for others
and several givers of one paper all come down to such ways.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations, product

from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.exact import Exact
from regkit.judge.offered import offered_for
from regkit.model.plan import Missing
from regkit.model.ruleset import Need, Requirement, Ruleset

MOST_WAYS = 64
"""Ways of one need that are looked at; a need with more is cut off, and the plan says so."""

WayOf = frozenset[Missing]


@dataclass(frozen=True, slots=True)
class OpenNeed:
    """A need that is not met yet.

    Attributes:
        ways: the ways to meet it, in the order of writing; none is a dead end.
        perhaps: whether it is not settled that it is needed.
        lacking: the papers nothing gives, for a dead end.
    """

    ways: tuple[WayOf, ...]
    perhaps: bool
    lacking: tuple[str, ...] = ()
    cut_off: bool = False


@dataclass(frozen=True)
class Supply:
    """Where papers come from in one case.

    Attributes:
        givers: for each paper, the steps that give it.
        demanded: the steps that must be taken anyway; what they give is got from nowhere else.
        from_done: papers that steps already taken have given.
    """

    ruleset: Ruleset
    exact: Exact
    givers: Mapping[str, tuple[str, ...]]
    demanded: frozenset[str]
    from_done: frozenset[str]

    def open_needs(self, requirement: Requirement) -> tuple[OpenNeed, ...]:
        """Return what a requirement still needs."""
        found = (self._open(need) for need in requirement.needs)
        return tuple(need for need in found if need is not None)

    def _open(self, need: Need) -> OpenNeed | None:
        truth = self._truth(need)
        if truth == NO or self._met(need):
            return None
        ways = self._ways(need)
        lacking = () if ways else tuple(
            part.evidence for part in need.walk()
            if part.evidence and not self._met(part) and not self._ways(part)
        )
        least = tuple(way for way in ways if not any(other < way for other in ways))
        return OpenNeed(tuple(dict.fromkeys(least))[:MOST_WAYS], truth == UNDECIDED, lacking,
                        len(ways) > MOST_WAYS)

    def _truth(self, need: Need) -> Truth:
        return YES if need.when is None else self.exact.truth(need.when)

    def _parts(self, need: Need) -> tuple[list[Need], int]:
        """Return the parts of a group that apply, and how many of them are needed."""
        parts = [part for part in need.parts if self._truth(part) != NO]
        return parts, min(need.count, len(parts))

    def _met(self, need: Need) -> bool:
        if need.evidence:
            names = (need.evidence, *self._stand_ins(need.evidence))
            return any(name in self.from_done for name in names) or self._held(need)
        parts, count = self._parts(need)
        return sum(self._met(part) for part in parts) >= count

    def _ways(self, need: Need) -> list[WayOf]:
        """Return the ways to meet a need, an empty one where it is met."""
        if self._met(need):
            return [frozenset()]
        if need.evidence:
            return self._sources(need)
        parts, count = self._parts(need)
        found: list[WayOf] = []
        for group in combinations(parts, count):
            for ways in product(*(self._ways(part) for part in group)):
                found.append(frozenset().union(*ways))
                if len(found) > MOST_WAYS:
                    return found
        return found

    def _sources(self, need: Need) -> list[WayOf]:
        perhaps = self._truth(need) == UNDECIDED
        anyway = [step for step in self.givers.get(need.evidence, ()) if step in self.demanded]
        if anyway:
            return [frozenset({Missing(need.evidence, step, perhaps=perhaps)}) for step in anyway]
        found: list[WayOf] = []
        for name in (need.evidence, *self._stand_ins(need.evidence)):
            found += [frozenset({Missing(name, step, perhaps=perhaps)})
                      for step in self.givers.get(name, ())]
            if self.ruleset.evidence[name].latest.from_outside:
                found.append(frozenset({Missing(name, outside=True, perhaps=perhaps)}))
        return found

    def _stand_ins(self, evidence: str) -> list[str]:
        return [name for name, history in self.ruleset.evidence.items()
                if evidence in history.latest.stands_in_for]

    def _held(self, need: Need) -> bool:
        """Return whether a paper is held that is good enough, as far as can be told."""
        offered = offered_for(self.ruleset, self.exact.view, need, self.exact.view.day.on)
        return any(not any(fault.kind.certain for fault in one.faults) for one in offered)
