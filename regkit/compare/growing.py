"""The regions in which one outcome differs, growing era by era.

Definitions that are the same on both sides are kept whole: a region says 'exempt by age' rather
than all that makes a vehicle so. One that itself changed in many ways is kept whole as well, once
as it was and once as it is; its own effect says how it changed. That a region is not empty is shown
by a vehicle in it, found in the diagrams of these definitions too, and assessed on both sides.

What hangs on an open question of the ruleset is undecided, whatever its answer would bring. Where
both sides are undecided they do not differ, though each may hang on the question in its own way.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from regkit.compare.eras import ONE_DAY, Span, events, law_tests, reached_on
from regkit.compare.leap_days import OldCells
from regkit.compare.limits import AFTER, BEFORE, HOLDS
from regkit.compare.outcomes import NEVER, Entry, Item, applies
from regkit.compare.places import Placed, box_on, in_places, parts_on, parts_within
from regkit.compare.questions import answers, asks_a_question, possibly, questions_of
from regkit.compare.regions import MOST_BOXES, Box, Shape
from regkit.compare.witnesses import outcome, witnesses
from regkit.conditions import Condition, Test
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, Diagrams, Node, Part, TooLarge, asked_by
from regkit.judge.law import Law, law_on
from regkit.judge.possible import Possible
from regkit.language import phrase
from regkit.model.case import Case
from regkit.model.changes import Limit, Region, Witness

REPEATED = 4
"""The regions of a changed definition that are told again for what rests on it."""

MOST_TRIES = 24
"""Days on which a vehicle is looked for in a box that is empty on its first day."""

Way = tuple[str, str]
"""What an answer became: the answers before and after."""

WAYS: tuple[Way, ...] = (
    ("yes", "no"), ("yes", "undecided"), ("undecided", "no"),
    ("no", "yes"), ("undecided", "yes"), ("no", "undecided"),
)
LOSSES, GAINS = WAYS[:3], WAYS[3:]

if TYPE_CHECKING:
    from regkit.compare.effects import Comparison


@dataclass
class Found:
    """One box with the days it was met on, a vehicle in it and what the answer for it became.

    Attributes:
        questions: the open questions on which undecided answers in it hang.
    """

    seen: Witness
    way: Way
    grid: Mapping[str, tuple[Part, ...]]
    days: list[Span]
    questions: dict[str, None] = field(default_factory=dict)


@dataclass
class Growing:
    """The regions of one item.

    Attributes:
        complete: whether all boxes were small and few enough to be listed.
        hidden: whether it hangs on an open question, on both sides, and not in the same way.
    """

    comparison: Comparison
    entry: Entry
    was: Entry
    item: Item
    complete: bool = True
    hidden: bool = False
    diagrams: Diagrams = field(default_factory=Diagrams)
    tests: dict[str, Test] = field(default_factory=dict)
    found: dict[tuple[Way, Placed], Found] = field(default_factory=dict)

    def add(self, span: Span) -> None:
        """Compare the item in one stretch of days in which no edition changes."""
        laws = self._laws(span[0])
        whole = self._kept_whole(laws, span)
        drawn = [[self._condition(law, entry), applies(law, entry)]
                 for law, entry in self._sides(laws)]
        tests = list(dict.fromkeys((
            *(test for law, conditions, kept in zip(laws, drawn, whole, strict=True)
              for test in law_tests(law, conditions, kept)),
            *events(self.comparison.old, self.was[1]), *events(self.comparison.new, self.entry[1]),
        )))
        self.tests.update((test.key, test) for test in tests)
        moving = self.comparison.placed_within(span)
        for era in self.comparison.eras.of(tests, span):
            try:
                self._add_era(era, moving, tests, whole)
            except TooLarge:
                self.complete = False

    def _laws(self, on: date) -> tuple[Law, Law]:
        return law_on(self.comparison.old, on), law_on(self.comparison.new, on)

    def _sides(self, laws: tuple[Law, Law]) -> Iterator[tuple[Law, Entry]]:
        yield from zip(laws, (self.was, self.entry), strict=True)

    def _condition(self, law: Law, entry: Entry) -> Condition:
        return self.comparison.items(law, entry).get(self.item, NEVER)

    def _kept_whole(
        self, laws: tuple[Law, Law], span: Span
    ) -> tuple[dict[str, str], dict[str, str]]:
        """Return for each side the definitions not to look into, with their variables."""
        own = self.entry[1] if self.entry[0] == "definition" else ""
        led_to = set[str]().union(*(reached_on(law, self._condition(law, entry))
                                    for law, entry in self._sides(laws)))
        old: dict[str, str] = {}
        new: dict[str, str] = {}
        for name in laws[0].definitions.keys() & laws[1].definitions.keys():
            if self.comparison.same_definition(name, *laws):
                old[name] = new[name] = f"{HOLDS} {name}"
            elif name != own and name in led_to:
                boxes = self.comparison.boxes_of(name, span)
                if boxes == 0:
                    old[name] = new[name] = f"{HOLDS} {name}"
                elif boxes > REPEATED:
                    old[name], new[name] = f"{BEFORE} {name}", f"{AFTER} {name}"
        return old, new

    def cells(
        self, on: date, diagrams: Diagrams, whole: tuple[dict[str, str], dict[str, str]]
    ) -> list[Cells]:
        """Return the drawing of each side for a case that tells nothing."""
        case = Case(self.comparison.new.jurisdiction, {}, vocabulary=self.comparison.vocabulary)
        tests: dict[str, Test] = {}
        (old, new), rule = self._laws(on), self.comparison.new.leap_day
        return [OldCells(old.view(case), diagrams, whole[0], tests, rule=rule),
                Cells(new.view(case), diagrams, whole[1], tests)]

    def _add_era(
        self, era: Span, span: Span, tests: list[Test],
        whole: tuple[dict[str, str], dict[str, str]],
    ) -> None:
        laws, diagrams = self._laws(era[0]), self.diagrams
        drawn: list[Node] = []
        matters: list[Node] = []
        sides = self.cells(era[0], diagrams, whole)
        for cells, (law, entry) in zip(sides, self._sides(laws), strict=True):
            drawn.append(cells.draw(self._condition(law, entry)))
            matters.append(cells.draw(applies(law, entry)))
        if drawn[0] is drawn[1]:
            return
        self.tests.update(sides[0].tests)
        nowhere = self._nowhere(sides, era, asked_by(drawn[0]) | asked_by(drawn[1]))
        among = diagrams.every((*(possibly(node, diagrams) for node in matters),
                                diagrams.negate(nowhere)))
        before, after = (answers(node, diagrams) for node in drawn)
        for way in WAYS:
            region = diagrams.every((before[way[0]], after[way[1]], among))
            shape = Shape(diagrams, region, nowhere)
            for count, box in enumerate(shape.boxes() if region is not FALSE else ()):
                if count == MOST_BOXES:
                    self.complete = False
                    break
                key = way, in_places(
                    box, era[0], span, tests, self.comparison.eras, self.comparison.leap_days)
                found = self._add_box(era, key, shape, box)
                if found is not None:
                    here = shape.draw(box)
                    found.questions |= dict.fromkeys(
                        name for node, answer in zip(drawn, way, strict=True)
                        if answer == "undecided"
                        for name in questions_of(diagrams.both(here, node), diagrams))
        self.hidden |= diagrams.every((
            before["undecided"], after["undecided"], diagrams.differ(*drawn), among)) is not FALSE

    def _nowhere(self, sides: list[Cells], era: Span, asked: Collection[str]) -> Node:
        """Return where a definition that is kept whole came to change in a way it never did."""
        was, now = sides
        return self.diagrams.some(
            self.diagrams.both(off.holds(name), self.diagrams.negate(on.holds(name)))
            for key in asked if key.startswith(f"{BEFORE} ")
            for name in (key.split(" ", 1)[1],)
            for ways, off, on in ((LOSSES, was, now), (GAINS, now, was))
            if not self.comparison.may_change(name, ways, era)
        )

    def _add_box(
        self, era: Span, key: tuple[Way, Placed], shape: Shape, box: Box
    ) -> Found | None:
        known = self.found.get(key) or self._same_today(era[0], key[0], box)
        if known is None:
            known = self._first_seen(era, key, shape)
            if known is not None:
                self.found[key] = known
        elif known.days[-1][1] + ONE_DAY == era[0]:
            known.days[-1] = (known.days[-1][0], era[1])
        else:
            known.days.append(era)
        return known

    def _same_today(self, day: date, way: Way, box: Box) -> Found | None:
        """Return the region that is this very box on a day on which two cut-offs coincide."""
        for (same, placed), found in self.found.items():
            if same == way and box_on(placed, day, self.comparison.eras) == box:
                return found
        return None

    def _first_seen(self, era: Span, key: tuple[Way, Placed], shape: Shape) -> Found | None:
        """Return a box with a vehicle in it from the first day of an era on which there is one.

        What is kept whole may move within the era, so a box that is empty at first is tried again,
        the earlier days first; days are left out together where none of them can have one.
        """
        way, placed = key
        tests = self._tests_of(placed, era)
        tried = 0
        for stretch in self.comparison.eras.of(tests, era):
            waiting = [stretch]
            while waiting:
                day, last = waiting.pop()
                if tried == MOST_TRIES:
                    self.complete = False
                    return None
                tried += 1
                possible = Possible(self.comparison.concrete(day, self)[1])
                box = box_on(placed, day, self.comparison.eras)
                seen = self._witness(day, way, shape, box, possible)
                if seen is not None:
                    return Found(*seen, shape.grid, [(day, era[1])])
                if day < last and self._may_fit_later(possible, tests, stretch):
                    middle = day + (last - day) // 2
                    halves = (middle + ONE_DAY, last), (day + ONE_DAY, middle)
                    waiting += [half for half in halves if half[0] <= half[1]
                                and self._may_fit_within(possible, shape, placed, half)]
        return None

    def _may_fit_within(
        self, possible: Possible, shape: Shape, box: Placed, days: Span
    ) -> bool:
        """Return whether there may be a vehicle in a box on one of some days.

        What is kept whole is left out.
        """
        diagrams = possible.cells.diagrams
        return possible.world(diagrams.every(
            shape.inside(name, parts_within(places, days, self.comparison.eras), diagrams)
            for name, places in box if self.diagrams.variables[name].about != "definition"
        )) is not None

    def _tests_of(self, placed: Placed, era: Span) -> list[Test]:
        """Return the tests that bound a box, those of definitions kept whole among them."""
        inner = (test for law in self._laws(era[0]) for test in law_tests(
            law, [law.definitions[name].condition or NEVER for name in _definitions(placed)]))
        own = (self.tests[key] for key, _ in placed if key in self.tests)
        return list(dict.fromkeys((*inner, *own)))

    def _may_fit_later(self, possible: Possible, tests: list[Test], days: Span) -> bool:
        """Return whether a box that is empty on the first of some days may not be on another.

        Whether a period fits between two dates, or a date has an anniversary, is a matter of single
        days. It is the same on all if nothing moves that was found to contradict another.
        """
        variables = possible.cells.diagrams.variables
        against = asked_by(possible.excluded)
        bounds = self.comparison.eras.bounds
        return any(
            fact.type == "date" and fact.name != key
            for key in against for fact in variables[key].facts
        ) and any(test.key in against and bounds(test, days[0]) != bounds(test, days[1])
                  for test in tests)

    def _witness(
        self, day: date, way: Way, shape: Shape, box: Box, possible: Possible
    ) -> tuple[Witness, Way] | None:
        """Return a vehicle in a box and what its answer became; None if no answer became another.

        Preferred is one for which it became what it does in the box.
        """
        cells = self.comparison.concrete(day, self)
        diagrams = cells[0].diagrams
        cells[1].tests.update(self.tests)
        inside = diagrams.every(
            _as_definition(cells, name, parts) if self.diagrams.variables[name].about
            == "definition" else shape.inside(name, parts, diagrams)
            for name, parts in box.items()
        )
        may_be_open = any(asks_a_question(law, self._condition(law, entry))
                          for law, entry in self._sides(self._laws(day)))
        best: tuple[Witness, Way] | None = None
        alike = False
        for seen in self._differing(day, way, inside, cells, possible) if may_be_open else (
                witnesses(possible, inside, day)):
            became = self._outcomes(seen)
            if became == way:
                return seen, became
            if became[0] == became[1]:
                alike = True
            elif best is None:
                best = seen, became
        if best is None and alike and not may_be_open:
            self.complete = False  # The sides differ in what cannot be told them.
        return best

    def _differing(
        self, day: date, way: Way, inside: Node, cells: list[Cells], possible: Possible
    ) -> Iterator[Witness]:
        """Yield a vehicle in a box, then those in it whose answers differ, its own way first.

        For the first they may not: a definition that is kept whole may hang on an open question.
        """
        first = next(witnesses(possible, inside, day), None)
        if first is None:
            return
        yield first
        diagrams = cells[0].diagrams
        before, after = (
            answers(side.draw(self._condition(law, entry)), diagrams)
            for side, (law, entry) in zip(cells, self._sides(self._laws(day)), strict=True))
        for one in sorted(WAYS, key=lambda other: other != way):
            part = diagrams.every((inside, before[one[0]], after[one[1]]))
            yield from witnesses(possible, part, day)

    def _outcomes(self, seen: Witness) -> Way:
        sides = ((self.comparison.old, self.was), (self.comparison.new, self.entry))
        before, after = (outcome(ruleset, entry, self.item, seen) for ruleset, entry in sides)
        return before, after

    def regions(self) -> tuple[Region, ...]:
        """Return the regions found, the earliest first."""
        made = [
            Region(_word(self.entry, found.way[0]), _word(self.entry, found.way[1]),
                   tuple(self._limits(placed, found)), tuple(found.days), found.seen)
            for (_, placed), found in self.found.items()
        ]
        return tuple(sorted(made, key=lambda region: (region.days[0][0], len(region.limits))))

    def _limits(self, placed: Placed, found: Found) -> Iterator[Limit]:
        for key, places in placed:
            variable = self.diagrams.variables[key]
            first, last = (parts_on(places, day, self.comparison.eras)
                           for day in (found.days[0][0], found.days[-1][1]))
            yield self.comparison.sayer.limit(variable, first, last, found.grid[key])
        for question in found.questions:
            said = phrase("open question '{question}'", question=question)
            yield Limit(f"question {question}", said, said)


def _as_definition(cells: list[Cells], key: str, parts: tuple[Part, ...]) -> Node:
    when, name = key.split(" ", 1)
    drawn = cells[when != BEFORE].holds(name)
    return drawn if parts == ("yes",) else cells[0].diagrams.negate(drawn)


def _definitions(placed: Placed) -> list[str]:
    return [key.split(" ", 1)[1] for key, _ in placed
            if key.split(" ", 1)[0] in (HOLDS, BEFORE, AFTER)]


def _word(entry: Entry, outcome: str) -> str:
    words = {"no": "not required", "yes": "required"} if entry[0] == "requirement" else {}
    return words.get(outcome, outcome)

