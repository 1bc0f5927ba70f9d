"""Whether parts of different domains can be one real vehicle, and on which days events then fell.

They can contradict each other: a date can be no later than another, so much time must lie between
two. All these say 'this day is no earlier than what follows from that day', so the earliest days
that satisfy them are found by pushing days later until nothing moves; if one is pushed past its
latest day there are none. (Solutions of such monotone constraints form a lattice; this finds the
least.) Round a circle of them days may chase each other for ever. That is seen from the least that
each round must gain, wherever in time: a positive circle among difference constraints (R. Bellman,
1958), or from the calendar, which repeats itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from itertools import combinations

from regkit.conditions.cells import Cells
from regkit.conditions.diagram import (
    BEGINNING,
    FALSE,
    NEVER_DAY,
    Node,
    Part,
    TooLarge,
    way_to_true,
)
from regkit.conditions.tree import Test
from regkit.judge.possible_numbers import NUMBERS, possible_numbers
from regkit.model.facts import Fact
from regkit.model.values import Bound

Choice = Mapping[str, Part]
"""For some variables, the part of the domain their value lies in."""

Days = Mapping[str, Bound]
"""The day of each event, as an ordinal, infinite for `never`; and numbers that are compared."""

_FIRST_DAY, _LAST_DAY = date(1, 1, 1).toordinal(), date.max.toordinal()
_CYCLE = 146_097
"""Days of the 400 years after which the calendar repeats itself: a circle of dates that has not
settled within them never will.
"""

MOST_ROUNDS = 3000
"""Rounds after which it is too much to go on pushing days that chase each other round a circle.

Each round gains at least a day or settles; what hangs on leap years settles within eight years.
"""

_LONG, _EARLY = 120 * 366, 1200 * 366


@dataclass
class Possible:
    """Tells which choices are possible in one case; remembers what was not.

    Attributes:
        excluded: true where a contradiction has been met so far.
    """

    cells: Cells
    excluded: Node = FALSE
    _ends: dict[str, tuple[Bound, Bound]] = field(default_factory=dict)

    def world(self, node: Node) -> tuple[Choice, Days] | None:
        """Return a possible choice for which a diagram is true, with days; None if there is none.

        Raises:
            TooLarge: it takes too long to tell.
        """
        diagrams = self.cells.diagrams
        left = diagrams.both(node, diagrams.negate(self.excluded))
        while left is not FALSE:
            choice = way_to_true(left)
            days = self.days(choice)
            if days is not None:
                return choice, days
            wrong = diagrams.every(
                diagrams.inside(key, choice[key]) for key in self._conflict(choice)
            )
            self.excluded = diagrams.either(self.excluded, wrong)
            left = diagrams.both(left, diagrams.negate(wrong))
        return None

    def with_days(self, fact: Fact, first: Bound, last: Bound) -> Possible:
        """Return the same where an event is known to have been on some days, or never."""
        return Possible(self.cells, self.excluded, {**self._ends, fact.name: (first, last)})

    def days_of(self, fact: Fact) -> list[tuple[Bound, Bound]]:
        """Return the spans in which an event may have been as far as the case tells, and never."""
        low, high = self._end(fact)
        never = [(NEVER_DAY, NEVER_DAY)] if high == NEVER_DAY else []
        first, last = max(low, _EARLY), min(high, _LAST_DAY)
        return [(first, last), *never] if first <= last else never

    def days(self, choice: Choice) -> Days | None:
        """Return days on which everything chosen happened; None if that cannot be.

        With them the numbers of quantities that are compared with each other.

        Raises:
            TooLarge: it takes too long to tell.
        """
        variables = self.cells.diagrams.variables
        numbers = possible_numbers(self.cells, choice)
        if numbers is None:
            return None
        spans: dict[str, tuple[Bound, Bound]] = {}
        derived: list[tuple[Test, Part]] = []
        for key, part in choice.items():
            variable = variables[key]
            if variable.about != "value" or not isinstance(part, tuple):
                continue
            if variable.facts[0].type in NUMBERS:
                continue
            if key != variable.facts[0].name:
                derived.append((self.cells.tests[key], part))
            else:
                low, high = self._end(variable.facts[0])
                last = high if part[1] is None else min(high, part[1] - 1, _LAST_DAY)
                spans[key] = (max(low, part[0]), last)
        for told in self._cases_of(derived):
            found = self._pushed(dict(spans), told)
            if found is not None:
                return {**found, **numbers}
        return None

    def _cases_of(
        self, derived: list[tuple[Test, Part]]
    ) -> Iterator[list[tuple[Test, Part, str]]]:
        """Yield each way to read derived quantities: both events happened, or which one did not."""
        if not derived:
            yield []
            return
        (test, part), *rest = derived
        ways = [] if part[0] == NEVER_DAY else [""]
        if part[1] is None:
            ways += [fact.name for fact in test.facts]
        for others in self._cases_of(rest):
            yield from ([(test, part, way), *others] for way in ways)

    def _pushed(
        self, spans: dict[str, tuple[Bound, Bound]], derived: list[tuple[Test, Part, str]]
    ) -> Days | None:
        for test, _, never in derived:
            for fact in test.facts:
                low, high = spans.get(fact.name, self._end(fact))
                if fact.name == never:
                    low = NEVER_DAY
                elif not never:
                    high = min(high, _LAST_DAY)
                spans[fact.name] = (low, high)
        chosen = frozenset(spans)
        for fact in self._bounded:
            spans.setdefault(fact.name, self._end(fact))
        today = self.cells.view.day.on.toordinal()
        bounds = [b for span in spans.values() for b in span if _FIRST_DAY <= b <= _LAST_DAY]
        deep = max(min([today, *bounds]) - _LONG, _EARLY)
        # First try late days, which look like those of a real vehicle.
        for latest, lowest in ((today, deep), (deep, deep), (_EARLY, _EARLY)):
            starts = {name: latest if name in chosen else lowest for name in spans}
            found = self._settled(spans, derived, starts)
            if found is not None:
                return found
        return None

    def _settled(
        self, spans: Mapping[str, tuple[Bound, Bound]], derived: list[tuple[Test, Part, str]],
        starts: Mapping[str, int],
    ) -> Days | None:
        """Push days later until all is satisfied; those without a first day begin at `starts`."""
        lows = {name: min(starts[name], high) if low == BEGINNING else low
                for name, (low, high) in spans.items()}
        for turn in range(MOST_ROUNDS):
            before = dict(lows)
            for fact in self._bounded:
                for other in fact.no_later_than:
                    lows[other] = max(lows[other], lows[fact.name])
            for test, part, never in derived:
                if never:
                    continue
                if _too_late(lows, spans):  # At once, lest two tests push past the calendar.
                    return None
                lows.update(test.earliest(lows, _inside(part), self.cells.view.day))
            if _too_late(lows, spans):
                return None
            if lows == before:
                return lows
            if turn == len(lows):  # What moves from here on moves round a circle.
                if self._endless(derived):
                    return None
                came = dict(lows)
            if turn > len(lows) and any(
                    low - came[name] > _CYCLE * len(lows) for name, low in lows.items()):
                return None
        raise TooLarge(f"days that bound each other still move after {MOST_ROUNDS:,} rounds")

    def _endless(self, derived: Iterable[tuple[Test, Part, str]]) -> bool:
        """Return whether events would have to follow each other round a circle, wherever in time.
        """
        apart: list[tuple[str, str, Bound]] = [
            (fact.name, other, 0) for fact in self._bounded for other in fact.no_later_than]
        for test, part, never in derived:
            apart += () if never else test.apart(_inside(part), self.cells.view.day)
        least: dict[str, Bound] = {name: 0 for one, other, _ in apart for name in (one, other)}
        for _ in least:
            before = dict(least)
            for one, other, days in apart:
                least[other] = max(least[other], least[one] + days)
            if least == before:
                return False
        return True

    @cached_property
    def _bounded(self) -> tuple[Fact, ...]:
        vocabulary = self.cells.view.case.vocabulary
        found = dict.fromkeys(vocabulary.bounded)
        for fact in vocabulary.bounded:
            found.update(dict.fromkeys(vocabulary[name] for name in fact.no_later_than))
        return tuple(found)

    def _end(self, fact: Fact) -> tuple[Bound, Bound]:
        """Return the first and last day an event may have had as far as the case tells."""
        if fact.name not in self._ends:
            value = self.cells.view.case.value(fact.name)
            low, high = value.low, value.high
            if low > high:
                low = high = NEVER_DAY
            elif value.happened:
                high = min(high, _LAST_DAY)
            elif not value.told:
                high = NEVER_DAY
            self._ends[fact.name] = (low, high)
        return self._ends[fact.name]

    def _conflict(self, choice: Choice) -> tuple[str, ...]:
        """Return a smallest part of an impossible choice that is impossible by itself."""
        variables = self.cells.diagrams.variables
        ordered = [key for key, part in choice.items()
                   if isinstance(part, tuple) and variables[key].about == "value"]
        for size in range(1, len(ordered)):
            for keys in combinations(ordered, size):
                if self.days({key: choice[key] for key in keys}) is None:
                    return keys
        return tuple(ordered)


def _inside(part: Part) -> tuple[Bound, Bound]:
    """Return the least and the most of a part of a line of days."""
    low, high = part
    return low, NEVER_DAY if high is None else high - 1


def _too_late(lows: Mapping[str, Bound], spans: Mapping[str, tuple[Bound, Bound]]) -> bool:
    return any(low > spans[name][1] for name, low in lows.items())
