"""How much time lies between two date facts?

    keeper.possessed_since: {at least: 6 months before arrival.date}
    arrival.date: {at most: 3 years after customs.exported}

The period is counted from the earlier event's date; 'at least 6 months before arrival' means that
six months from possession are complete on the day of arrival. 'Before' claims that this fact comes
first, 'after' that the other does. To compare the order alone, write '0 days'. Calendar months and
years compare the months and years alone, so 'more than 2 calendar years' begins with the third.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, ClassVar, Self

from regkit.conditions.cut import Between
from regkit.conditions.kinds.kind import (
    COMPARISONS,
    NEGATED,
    Kind,
    Misread,
    counted_period,
    only_keys,
    schema_of_bounds,
)
from regkit.conditions.truth import NO, Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, phrase
from regkit.model.calendar import Period
from regkit.model.case import Case
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import NEVER, Bound, Value, day_of

_TURNED = {"more than": "at least", "at most": "less than"}
"""Of calendar months and years, more than so many is at least one more."""

_BETWEEN = re.compile(r"(.+) (before|after) ([a-z_]+(?:\.[a-z_]+)+)")


@dataclass(frozen=True, slots=True)
class Elapsed(Kind):
    """So much time passes from the earlier of two dated events to the later."""

    fact: Fact
    comparison: str
    length: Period
    side: str
    other: Fact

    types: ClassVar[tuple[str, ...]] = ("date",)
    example: ClassVar[str] = "{at least: 6 months before arrival.date}"
    schema: ClassVar[Mapping[str, Any]] = schema_of_bounds(
        r"^\d{1,5} (day|week|month|year|calendar month|calendar year)s? "
        r"(before|after) [a-z_]+(\.[a-z_]+)+$",
        1, "so long before or after another date: {at least: 6 months before arrival.date}")

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        keys = only_keys(written, COMPARISONS)
        if keys is None or len(keys) != 1:
            return None
        (comparison, text), = keys.items()
        found = _BETWEEN.fullmatch(str(text))
        if found is None:
            return None
        other = vocabulary.get(found[3])
        if other is None or other.type != "date":
            raise Misread(f"{text!r} names no date fact; write for example {cls.example}")
        return cls(fact, comparison, counted_period(found[1]), found[2], other)

    @property
    def key(self) -> str:
        """The derived quantity: days from the end of the period to the later event."""
        (start, end), length = self._ends(), self._counted[1]
        return f"{start.name} + {length.count} {length.unit} to {end.name}"

    @property
    def facts(self) -> tuple[Fact, ...]:
        return (self.fact, self.other)

    @property
    def start(self) -> Fact:
        """The event from which the period is counted."""
        return self._ends()[0]

    def _ends(self) -> tuple[Fact, Fact]:
        return (self.fact, self.other) if self.side == "before" else (self.other, self.fact)

    @property
    def _counted(self) -> tuple[str, Period]:
        """The comparison that is cut, and the period whose end it is cut at, in one way of writing.
        """
        if self.length.in_calendar and self.comparison in _TURNED:
            return _TURNED[self.comparison], self.length.longer()
        return self.comparison, self.length.canonical()

    def cut(self, day: LawDay) -> Between:
        bound = {"at least": (0, None), "more than": (1, None), "less than": (None, 0),
                 "at most": (None, 1)}[self._counted[0]]
        return Between(self.key, *bound)

    def value(self, case: Case, day: LawDay) -> Value:
        """Return the days by which the later event follows the end of the period."""
        start, end = (case.value(fact.name) for fact in self._ends())
        if NEVER in (start.word, end.word):
            return start if start.word == NEVER else end
        return Value(
            low=end.low - self._complete(start.high, day),
            high=end.high - self._complete(start.low, day),
            written=f"{start.written}/{end.written}" if start.told and end.told else "",
        )

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        """Both ends follow from the other: the later event at the earliest, the earlier in turn."""
        start, end = self._ends()
        first, last = lows[start.name], lows[end.name]
        last = max(last, self._complete(first, day) + inside[0])
        reached = day_of(min(last - inside[1], _ordinal(date.max)))
        if reached is not None:
            first = max(first, self._incomplete(reached - timedelta(days=1), day))
        return {start.name: first, end.name: last}

    def apart(
        self, inside: tuple[Bound, Bound], day: LawDay
    ) -> Iterable[tuple[str, str, Bound]]:
        """The end of the period follows its start by so many days as it may take, and is the same
        for all that it is compared with.
        """
        (start, end), length, (low, high) = self._ends(), self._counted[1], inside
        complete = f"{start.name} + {length.count} {length.unit}"
        least, most = length.least_and_most_days(day.leap_day)
        return ((start.name, complete, least), (complete, start.name, -most),
                (complete, end.name, low), (end.name, complete, -high))

    def _incomplete(self, end: date, day: LawDay) -> Bound:
        """Return the first start whose period is not complete by a day; if none, a day too late."""
        try:
            return _ordinal(self._counted[1].before(end, day.leap_day))
        except OverflowError:
            return _ordinal(date.max) + 1

    def _complete(self, start: Bound, day: LawDay) -> Bound:
        """Return the day the period is complete; the day after the calendar ends at the latest."""
        when = day_of(start)
        try:
            return start if when is None else _ordinal(self._counted[1].after(when, day.leap_day))
        except OverflowError:
            return _ordinal(date.max) + 1

    def rule(self) -> Phrase:
        template = ("{label} {comparison} {length} before {other}" if self.side == "before"
                    else "{label} {comparison} {length} after {other}")
        return phrase(template, label=self.fact.label, comparison=phrase(self.comparison),
                      length=self.length, other=self.other.label)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        comparison = NEGATED[self.comparison] if outcome == NO else self.comparison
        template = ("{comparison} {length} before {other} ({value})" if self.side == "before"
                    else "{comparison} {length} after {other} ({value})")
        return phrase(template, comparison=phrase(comparison), length=self.length,
                      other=self.other.label, value=view.case.value(self.other.name).said())


def _ordinal(when: date) -> int:
    return when.toordinal()
