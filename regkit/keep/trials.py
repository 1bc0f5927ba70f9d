"""One worked example as a trial of mutants: does an expected answer come out otherwise?

Only answers that may rest on the changed entry are worked out anew, and of a changed condition only
those of cases for which it comes out otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

from regkit.compare.eras import reached
from regkit.conditions import Condition
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.conditions.view import View
from regkit.judge.law import Law, law_on, law_with
from regkit.keep.asked import Asked, found
from regkit.keep.comes_to import Piecewise
from regkit.keep.examples import example_case, expected
from regkit.keep.mutants import Mutant
from regkit.model.case import Case
from regkit.model.ruleset import Example, Ruleset

Entry = tuple[str, str]
"""The kind of an entry, such as `definitions`, and its name."""


class Rests:
    """Which entries an answer of a ruleset may rest on, in any of their editions."""

    def __init__(self, ruleset: Ruleset) -> None:
        self.ruleset = ruleset
        self.of = lru_cache(maxsize=None)(self._of)

    def _of(self, part: str, name: str) -> frozenset[Entry]:
        """Return the entries that an expected answer may rest on.

        Args:
            part: the key of `expect` that it stands under.
            name: what it is about.
        """
        if part == "charges":
            return frozenset(self._charge(name))
        if part == "periods":
            return frozenset({("counting", name)})
        kind = "definitions" if part == "definitions" or (
            part == "cautions" and name in self.ruleset.definitions) else (
            "routes" if part == "routes" else "requirements")
        found_ = {(kind, name), *self._conditions(kind, name)}
        if part == "cautions":
            return frozenset(self._with_dissents(found_))
        if part in ("windows", "papers", "done"):
            found_.update({"windows": self._counting, "papers": self._papers,
                           "done": self._given}[part](name))
        return frozenset(found_)

    def _editions(self, kind: str, name: str) -> tuple[Any, ...]:
        return getattr(self.ruleset, kind)[name].editions  # type: ignore[no-any-return]

    def _definitions(self, conditions: Iterable[Condition | None]) -> Iterator[Entry]:
        there = [condition for condition in conditions if condition is not None]
        yield from (("definitions", name) for name in reached(self.ruleset, there))

    def _conditions(self, kind: str, name: str) -> Iterator[Entry]:
        return self._definitions(edition.when for edition in self._editions(kind, name))

    def _with_dissents(self, entries: set[Entry]) -> set[Entry]:
        dissents = [dissent.when for kind, name in entries
                    for edition in self._editions(kind, name) for dissent in edition.dissents]
        return entries | set(self._definitions(dissents))

    def _counting(self, requirement: str) -> Iterator[Entry]:
        yield from (("counting", edition.window.counting)
                    for edition in self._editions("requirements", requirement) if edition.window)

    def _papers(self, requirement: str) -> Iterator[Entry]:
        needs = [part for edition in self._editions("requirements", requirement)
                 for need in edition.needs for part in need.walk()]
        yield from self._definitions(part.when for part in needs)
        names = {part.evidence for part in needs if part.evidence}
        for name, history in self.ruleset.evidence.items():
            if name in names or any(names & set(edition.stands_in_for)
                                    for edition in history.editions):
                yield from self._freshness(name)

    def _given(self, requirement: str) -> Iterator[Entry]:
        for edition in self._editions("requirements", requirement):
            for name in edition.gives:
                yield from self._freshness(name)

    def _freshness(self, paper: str) -> Iterator[Entry]:
        yield "evidence", paper
        yield from self._definitions(fresh.when for edition in self._editions("evidence", paper)
                                     for fresh in edition.fresh)

    def _charge(self, name: str) -> set[Entry]:
        """Return what a charge, its bases and the requirements that levy them rest on."""
        charges = self._bases(name)
        found_ = {("charges", charge) for charge in charges}
        for charge in charges:
            for edition in self._editions("charges", charge):
                found_.update(self._definitions(
                    (edition.when, *(figure.when for figure in edition.figures))))
        for requirement, history in self.ruleset.requirements.items():
            papers = set(self._papers(requirement))
            if any(charges & {*edition.charges, *edition.late} for edition in history.editions
                   ) or any(charges & set(edition.charges) for kind, paper in papers
                            if kind == "evidence" for edition in self._editions(kind, paper)):
                found_ |= {("requirements", requirement), *papers, *self._given(requirement),
                           *self._counting(requirement),
                           *self._conditions("requirements", requirement)}
        return found_

    def _bases(self, name: str) -> set[str]:
        found_, waiting = {name}, [name]
        while waiting:
            new = {base for edition in self._editions("charges", waiting.pop())
                   for figure in edition.figures for base in figure.facts
                   if base in self.ruleset.charges} - found_
            found_ |= new
            waiting += new
        return found_


@dataclass(frozen=True)
class Trial:
    """One worked example, tried on mutants of its ruleset."""

    ruleset: Ruleset
    example: Example
    rests: Rests

    @cached_property
    def law(self) -> Law:
        """The law of the day as it is written."""
        return law_on(self.ruleset, self.example.on)

    @cached_property
    def case(self) -> Case:
        """The case of the example."""
        return example_case(self.example, self.ruleset)

    @cached_property
    def _view(self) -> View:
        return self.law.view(self.case)

    @cached_property
    def _pieces(self) -> Piecewise:
        return Piecewise(self.law, self.case)

    @cached_property
    def asked(self) -> tuple[Asked, ...]:
        """The answers it expects."""
        return tuple(asked for _, asked in expected(self.example, self.ruleset))

    @cached_property
    def named(self) -> frozenset[str]:
        """What it names in its answers."""
        return frozenset(name for asked in self.asked for name in (asked.name, asked.item))

    def notices(self, mutant: Mutant) -> bool:
        """Return whether an expected answer comes out otherwise."""
        parts, entry = mutant.mistake.parts, (mutant.kind, mutant.entry)
        concerned = [asked for asked in self.asked if (not parts or asked.part in parts)
                     and entry in self.rests.of(asked.part, asked.name)]
        if not concerned or not self._may_count(mutant):
            return False
        law = law_with(self.law, mutant.ruleset, *entry)
        differs = self._differs(mutant, law)
        if differs == UNDECIDED:
            # What is open both ways may be settled after all where facts bound each other.
            concerned = [asked for asked in concerned if self._may_hide(asked)]
        pieces = Piecewise(law, self.case, None if mutant.kind == "definitions" else self._pieces)
        return differs != NO and any(found(pieces, asked) != asked.wanted for asked in concerned)

    def _may_count(self, mutant: Mutant) -> bool:
        """Return whether the changed edition may count on the day; others go by other days."""
        if mutant.goes_by or mutant.kind == "counting":
            return True
        if mutant.mistake.day is not None:
            return mutant.mistake.day == self.example.on
        return mutant.kind == "evidence" or mutant.was.in_force(self.example.on)

    def _differs(self, mutant: Mutant, law: Law) -> Truth:
        """Return whether the changed condition comes out otherwise here."""
        if mutant.changes_more:
            return YES
        where, kind = mutant.mistake.where, mutant.kind
        if where is not None:
            before: Condition | None = where.before
            after: Condition | None = where.after
        elif mutant.changes_condition:
            before, after = (condition_in(one, kind, mutant.entry) for one in (self.law, law))
        else:
            return NO
        if before is None or after is None:
            return NO if before is after else YES
        truths = before.truth(self._view), after.truth(self._view)
        return YES if truths[0] != truths[1] else UNDECIDED if truths[0] == UNDECIDED else NO

    def _may_hide(self, asked: Asked) -> bool:
        """Return whether an answer may be settled though Kleene's logic leaves it open."""
        hiding = {*self.law.may_hide, *self.law.definitions_that_may_hide}
        entries = self.rests.of(asked.part, asked.name)
        return any(name in hiding for _, name in entries)


def condition_in(law: Law, kind: str, entry: str) -> Condition | None:
    """Return the condition of a definition or requirement; None if it is not in force."""
    return law.definitions[entry].condition if kind == "definitions" else law.requirements[entry]


def trials(ruleset: Ruleset) -> list[Trial]:
    """Return every worked example of a ruleset as a trial.

    Raises:
        Unreadable: the case of an example is wrong.
    """
    rests = Rests(ruleset)
    return [Trial(ruleset, example, rests) for example in ruleset.examples.values()]
