"""What a ruleset can never reach: duties nobody or everybody has, rules and thresholds that never
decide, classes that overlap, gaps in time. Each answer is exact for the law of one day.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations, pairwise
from typing import Any

from regkit.compare.eras import law_tests
from regkit.conditions import Condition, Holds
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, Node, asked_by
from regkit.judge.law import Law, law_on
from regkit.judge.possible import Possible
from regkit.model.case import Case
from regkit.model.ruleset import History, Ruleset


@dataclass(frozen=True, slots=True)
class Unreached:
    """Something that can never make a difference, or that leaves a hole.

    Attributes:
        what: `never required`, `always required`, `never holds`, `always holds`, `never matters`,
            `threshold never decides`, `overlap` or `gap`.
        names: the entries it is about.
        detail: the fact and rule of a threshold, or the days of a gap.
    """

    what: str
    names: tuple[str, ...]
    detail: str = ""


def unreached(ruleset: Ruleset, on: date) -> Iterator[Unreached]:
    """Yield what the law of a day can never reach, and the gaps in its history."""
    law = law_on(ruleset, on)
    reach = _Reach(law)
    yield from reach.settled()
    yield from reach.definitions_that_never_matter()
    yield from reach.thresholds_that_never_decide()
    for histories in (ruleset.definitions, ruleset.requirements):
        for history in histories.values():
            yield from gaps(history)


def overlapping(ruleset: Ruleset, on: date, classes: tuple[str, ...]) -> Iterator[Unreached]:
    """Yield each pair of classes that may not overlap but do, for some vehicle."""
    reach = _Reach(law_on(ruleset, on))
    diagrams = reach.cells.diagrams
    for one, other in combinations(classes, 2):
        both = diagrams.both(reach.cells.holds(one), reach.cells.holds(other))
        if reach.possible.world(both) is not None:
            yield Unreached("overlap", (one, other))


def gaps(history: History[Any]) -> Iterator[Unreached]:
    """Yield the days between two enacted editions on which there was no rule."""
    enacted = [edition for edition in history.editions if edition.state == "enacted"]
    for earlier, later in pairwise(enacted):
        if earlier.last is not None and later.first is not None:
            first, last = earlier.last + timedelta(days=1), later.first - timedelta(days=1)
            if first <= last:
                yield Unreached("gap", (history.id,), f"{first} to {last}")


class _Reach:
    def __init__(self, law: Law) -> None:
        self.law = law
        case = Case(law.ruleset.jurisdiction, {}, vocabulary=law.ruleset.vocabulary)
        self.cells = Cells(law.view(case))
        self.possible = Possible(self.cells)

    def _can_be(self, drawn: Node) -> bool:
        return self.possible.world(drawn) is not None

    def settled(self) -> Iterator[Unreached]:
        """Yield the requirements and definitions in force that no vehicle can change."""
        for never, always, found in (
            ("never required", "always required", self.law.requirements),
            ("never holds", "always holds",
             {name: named.condition for name, named in self.law.definitions.items()}),
        ):
            for name, condition in found.items():
                if condition is None:
                    continue
                drawn = self.cells.draw(condition)
                if not self._can_be(drawn):
                    yield Unreached(never, (name,))
                elif not self._can_be(self.cells.diagrams.negate(drawn)):
                    yield Unreached(always, (name,))

    def definitions_that_never_matter(self) -> Iterator[Unreached]:
        """Yield definitions that are no class and on which no requirement or charge depends."""
        used = {name for condition in self._rules() for name in _held(condition)}
        for name, history in self.law.ruleset.definitions.items():
            if name in used and not history.latest.is_class and not any(
                self._matters(name, condition) for condition in self._rules()
            ):
                yield Unreached("never matters", (name,))

    def _matters(self, name: str, condition: Condition) -> bool:
        """Return whether a condition that names a definition depends on it for some vehicle."""
        if name not in set(_held(condition)):
            return False
        cells = Cells(self.cells.view, kept_whole={name: f"holds {name}"})
        return f"holds {name}" in asked_by(cells.draw(condition))

    def _rules(self) -> Iterator[Condition]:
        yield from (c for c in self.law.requirements.values() if c is not None)
        for named in self.law.definitions.values():
            if named.condition is not None:
                yield named.condition
        for histories in (self.law.ruleset.requirements, self.law.ruleset.charges):
            for history in histories.values():
                edition: Any = history.on(self.law.day.on)
                for need in getattr(edition, "needs", ()):
                    yield from (part.when for part in need.walk() if part.when is not None)
                for figure in getattr(edition, "figures", ()):
                    yield from (w for w in (figure.when, edition.when) if w is not None)

    def thresholds_that_never_decide(self) -> Iterator[Unreached]:
        """Yield tests whose cut is not in the diagram of the very entry that makes them."""
        for histories in (self.law.ruleset.definitions, self.law.ruleset.requirements):
            for name, history in histories.items():
                editions = history.editions if history.governed_by else (
                    history.on(self.law.day.on),)
                for edition in editions:
                    if edition is not None and edition.state == "enacted":
                        yield from self._idle_tests(name, edition.when)

    def _idle_tests(self, name: str, condition: Condition) -> Iterator[Unreached]:
        asked = asked_by(drawn := self.cells.draw(condition))
        if drawn is FALSE:
            return
        for test in dict.fromkeys(law_tests(self.law, [condition], set(_held(condition)))):
            for key, cuts in asked_by(self.cells.draw(test)).items():
                if not set(cuts) & set(asked.get(key, ())):
                    yield Unreached("threshold never decides", (name,), f"{key}: {cuts}")


def _held(condition: Condition) -> Iterator[str]:
    return (part.definition for part in condition.walk() if isinstance(part, Holds))
