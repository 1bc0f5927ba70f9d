"""How long ago was it, counted back from the day the law is asked about?

    vehicle.first_registered: {at least: 40 years ago}
    vehicle.built: {more than: 10 years ago}
    vehicle.first_registered: {at least: 30 calendar years ago}

Years and months are counted from date to date: 40 years from 14 March 1986 are complete on
14 March 2026, so 'at least' holds from that day and 'more than' from the next. Anniversaries of
29 February follow the ruleset. Calendar months and years compare the months and years alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, ClassVar, Self

from regkit.conditions.cut import Between
from regkit.conditions.cut import day as day_number
from regkit.conditions.kinds.kind import (
    COMPARISONS,
    NEGATED,
    Kind,
    counted_period,
    only_keys,
    schema_of_bounds,
)
from regkit.conditions.truth import NO, Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, joined, phrase
from regkit.model.calendar import Period
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import day_of

_AGO = " ago"


@dataclass(frozen=True, slots=True)
class Age(Kind):
    """The date lies at least, more than, less than or at most a period ago."""

    fact: Fact
    bounds: tuple[tuple[str, Period], ...]

    types: ClassVar[tuple[str, ...]] = ("date",)
    example: ClassVar[str] = "{at least: 40 years ago}"
    schema: ClassVar[Mapping[str, Any]] = schema_of_bounds(
        r"^\d{1,5} (day|week|month|year|calendar month|calendar year)s? ago$",
        2, "so long ago: {at least: 40 years ago}")

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        keys = only_keys(written, COMPARISONS)
        if keys is None or not all(str(text).endswith(_AGO) for text in keys.values()):
            return None
        bounds = []
        for key in (key for key in COMPARISONS if key in keys):
            bounds.append((key, counted_period(str(keys[key]).removesuffix(_AGO))))
        return cls(fact, tuple(bounds))

    def cut(self, day: LawDay) -> Between:
        low: list[int] = []
        high: list[int] = []
        for key, length in self.bounds:
            number = day_number(_first_too_young(key, length, day))
            (high if key in ("at least", "more than") else low).append(number)
        return Between(self.key, max(low, default=None), min(high, default=None))

    def rule(self) -> Phrase:
        parts = tuple(
            phrase("{comparison} {length} ago", comparison=phrase(key), length=length)
            for key, length in self.bounds)
        return phrase("{label} {parts}", label=self.fact.label, parts=parts)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        flipped = outcome == NO and len(self.bounds) == 1
        parts = tuple(
            phrase("{comparison} {length} before {day}",
                   comparison=phrase(NEGATED[key] if flipped else key),
                   length=length, day=view.day.on)
            for key, length in self.bounds)
        said = phrase("{parts}", parts=parts)
        if flipped:
            return joined(said, self._reached(view), by=" ")
        return phrase("not {said}", said=said) if outcome == NO else said

    def _reached(self, view: View) -> Phrase:
        """Say when the age asked for is reached, where it still lies ahead on an exact date."""
        value, (key, length) = view.case.value(self.fact.name), self.bounds[0]
        start = day_of(value.low) if value.exact and value.options is None else None
        if start is None or key not in ("at least", "more than"):
            return phrase("")
        try:
            if key == "at least":
                first = length.after(start, view.day.leap_day)
            elif length.in_calendar:
                first = length.longer().after(start)
            else:
                first = length.after(start, view.day.leap_day) + timedelta(days=1)
        except OverflowError:
            return phrase("")
        return phrase("(so from {day})", day=first)


def _first_too_young(key: str, length: Period, day: LawDay) -> date:
    """Return the first date that is not at least (or not more than) this long before the day."""
    if key in ("at least", "less than"):
        return length.before(day.on, day.leap_day)
    if length.in_calendar:
        return length.longer().before(day.on)
    # More than so long ago: complete on the day before already.
    return length.before(day.on - timedelta(days=1), day.leap_day)
