"""A case that tells a mutant from its original, or that there can be none.

A mutant is the same rule if the two conditions differ for no possible vehicle on any day looked at:
their diagrams are one node, or differ only where no vehicle can be. Numbers are always told apart;
for these a case is looked for in which the number counts. An edition that begins or ends on another
day differs on that day alone, and only if one could ask for something that is other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from regkit.compare.eras import Eras, Span, events, law_tests, reached, stretches
from regkit.compare.reach import looked_at
from regkit.compare.witnesses import witness
from regkit.conditions import Condition
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, Node, TooLarge
from regkit.judge.law import law_on, law_with
from regkit.keep.mistakes import Where
from regkit.keep.mutants import Mutant
from regkit.keep.trials import condition_in
from regkit.keep.where import beside, where_it_counts
from regkit.model.case import Case
from regkit.model.changes import Witness
from regkit.model.ruleset import Ruleset

MANY_NODES = 30_000
"""Diagrams of a day are begun anew once they have grown so large."""


@dataclass(frozen=True)
class Told:
    """A day, and the facts of a case for which a mutant differs; None where none was found.

    Attributes:
        requirement: the one by which a changed number counts, if it is not itself one.
        papers: those the case holds, as a case file writes them.
    """

    on: date | None = None
    facts: dict[str, Any] | None = None
    requirement: str = ""
    papers: tuple[dict[str, Any], ...] = ()


@dataclass
class Telling:
    """Looks for cases that tell mutants of one ruleset apart.

    Attributes:
        today: the day that is looked at first.
    """

    ruleset: Ruleset
    today: date
    _cells: dict[date, Cells] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._eras = Eras(self.ruleset.vocabulary, self.ruleset.leap_day,
                          looked_at(self.ruleset, self.today))

    def apart(self, mutant: Mutant) -> Told | None:
        """Return a case that tells a mutant from its original; None if it is the same rule."""
        for on in self._days(mutant):
            try:
                found = self._vehicle(mutant, on)
            except TooLarge:
                return Told()
            if found is not None and mutant.kind == "evidence":
                return self._where_it_counts(mutant)
            if found is not None:
                return Told(on, dict(found.facts))
        return self._where_it_counts(mutant) if mutant.changes_more else None

    def _vehicle(self, mutant: Mutant, on: date) -> Witness | None:
        """Return a vehicle for which a mutant differs on a day, with all that the answer takes.

        Where the rule is turned round it differs for every vehicle, and yet an answer takes facts;
        so one is looked for to which the rule as written applies, and then one to which not.
        """
        cells = self._drawing(on)
        differ, diagrams = self._difference(cells, mutant, on), cells.diagrams
        if differ is FALSE:
            return None
        before = cells.draw(self._conditions(mutant, on)[0])
        for side in (before, diagrams.negate(before)):
            found = witness(cells, diagrams.both(differ, side), on)
            if found is not None:
                return found
        return None

    def _where_it_counts(self, mutant: Mutant) -> Told | None:
        """Return a case in which a changed number counts, as far as one is easily found.

        None if it counts on one day alone, and that day for no vehicle.
        """
        days, else_ = self._days_to_try(mutant)
        for on in days:
            if mutant.kind == "counting":
                return Told(on, {})
            for name, parts in where_it_counts(mutant, law_on(self.ruleset, on)):
                cells = self._drawing(on)
                try:
                    counts = cells.diagrams.every(cells.draw(part) for part in parts)
                    found = witness(cells, counts, on)
                except TooLarge:
                    else_ = Told()
                    continue
                if found is not None:
                    facts, papers = beside(mutant, on, dict(found.facts))
                    return Told(on, facts, name, papers)
        return else_

    def _days_to_try(self, mutant: Mutant) -> tuple[list[date], Told | None]:
        """Return the days to look for a case on, and what it means that none is found on them."""
        day, was = mutant.mistake.day, mutant.was
        if day is None:
            on = self.today if was.in_force(self.today) else was.last or was.first
            return [] if on is None else [on], Told()
        if mutant.goes_by or mutant.kind == "counting":
            return [self.today, day] if mutant.goes_by else [day], Told()
        first, last = looked_at(self.ruleset, self.today)
        return [day] if first <= day <= last else [], None

    def _drawing(self, on: date) -> Cells:
        cells = self._cells.get(on)
        if cells is None or len(cells.diagrams) > MANY_NODES:
            nobody = Case(self.ruleset.jurisdiction, {}, vocabulary=self.ruleset.vocabulary)
            cells = self._cells[on] = Cells(law_on(self.ruleset, on).view(nobody))
        return cells

    def _difference(self, cells: Cells, mutant: Mutant, on: date) -> Node:
        """Return for which vehicles a mutant differs on a day."""
        diagrams = cells.diagrams
        before, after = self._conditions(mutant, on)
        if before == after:
            return FALSE
        differ = diagrams.differ(cells.draw(before), cells.draw(after))
        for given in self._given(mutant, on):
            if differ is FALSE:
                break
            differ = diagrams.both(differ, cells.draw(given))
        for unless in mutant.mistake.where.unless if mutant.mistake.where else ():
            differ = diagrams.both(differ, diagrams.negate(cells.draw(unless)))
        return differ

    def _conditions(self, mutant: Mutant, on: date) -> tuple[Condition | None, Condition | None]:
        where, law = mutant.mistake.where, law_on(self.ruleset, on)
        if where is not None:
            return where.before, where.after
        changed = law_with(law, mutant.ruleset, mutant.kind, mutant.entry)
        return (condition_in(law, mutant.kind, mutant.entry),
                condition_in(changed, mutant.kind, mutant.entry))

    def _given(self, mutant: Mutant, on: date) -> Iterator[Condition | None]:
        """Yield what else must hold on a day for a changed condition to matter."""
        where = mutant.mistake.where
        if where is not None:
            yield from where.given
            if mutant.kind == "requirements" and where.dissent is None:
                yield law_on(self.ruleset, on).requirements[mutant.entry]

    def _days(self, mutant: Mutant) -> Iterator[date]:
        """Yield days that stand for all on which a changed condition may differ, today's first."""
        where = mutant.mistake.where
        if where.before == where.after if where is not None else not mutant.changes_condition:
            return
        rules = [rule for rule in self._rules(mutant) if rule is not None]
        spans = list(self._spans(mutant, rules))
        if any(start <= self.today <= end for start, end in spans):
            yield self.today
        yield from (start for start, _ in spans)
        happened = list(events(self.ruleset, mutant.entry)) if (
            mutant.kind == "requirements") else []
        for span in spans:
            law = law_on(self.ruleset, span[0])
            now = [*self._conditions(mutant, span[0]), *self._given(mutant, span[0]),
                   *(mutant.mistake.where.unless if mutant.mistake.where else ())]
            tests = law_tests(law, [rule for rule in now if rule is not None])
            eras = self._eras.of([*tests, *happened], span)
            yield from (start for start, _ in eras if start != span[0])

    def _rules(self, mutant: Mutant) -> Iterator[Condition | None]:
        """Yield every condition that a difference may lie in, of any edition."""
        where = mutant.mistake.where
        histories: list[Any] = [getattr(self.ruleset, mutant.kind)[mutant.entry]]
        if where is None:
            histories.append(mutant.history)
        else:
            yield from (where.before, where.after, *where.given, *where.unless)
        yield from (getattr(edition, "when", None)
                    for history in histories for edition in history.editions)

    def _spans(self, mutant: Mutant, rules: list[Condition]) -> Iterator[Span]:
        """Yield the spans of days on which the changed edition counts, and no other changes."""
        history = getattr(self.ruleset, mutant.kind)[mutant.entry]
        used = (history, *reached(self.ruleset, rules).values())
        day, (first, last) = mutant.mistake.day, looked_at(self.ruleset, self.today)
        if day is not None and mutant.mistake.where is None and not mutant.goes_by:
            if first <= day <= last:
                yield day, day
            return
        for span in stretches(used, first, last):
            if history.governed_by or mutant.was.in_force(span[0]):
                yield from _speaking(span, mutant.mistake.where)


def _speaking(span: Span, where: Where | None) -> Iterator[Span]:
    """Yield the part of a span on which a dissent speaks."""
    start, end = span
    if where is not None and where.dissent is not None:
        start = max(start, where.dissent.first or start)
        end = min(end, where.dissent.last or end)
    if start <= end:
        yield start, end
