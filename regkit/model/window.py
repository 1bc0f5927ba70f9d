"""Lengths of time a rule names: windows, how long a step takes, days that rest or work."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from regkit.language import Phrase, Text, phrase, plural
from regkit.model.calendar import Period

_WITHIN = {
    "days": ("within {count} day", "within {count} days"),
    "weeks": ("within {count} week", "within {count} weeks"),
    "months": ("within {count} month", "within {count} months"),
    "years": ("within {count} year", "within {count} years"),
    "calendar months": ("within {count} calendar month", "within {count} calendar months"),
    "calendar years": ("within {count} calendar year", "within {count} calendar years"),
}
_WITHIN_WORKING = ("within {count} working day", "within {count} working days")


@dataclass(frozen=True, slots=True)
class Window:
    """By when a requirement must be met.

    Attributes:
        within: the period; None for 'forthwith'.
        working: whether its days are working days.
        of: the date facts it may run from; the first that is told counts.
        counting: the counting rule that applies.
    """

    within: Period | None
    working: bool
    of: tuple[str, ...]
    counting: str
    extended_by: Text | None = None

    def said(self) -> Phrase:
        """Return the words for its length alone."""
        if self.within is None:
            return phrase("at once")
        one, many = _WITHIN_WORKING if self.working else _WITHIN[self.within.unit]
        return plural(one, many, count=self.within.count)


@dataclass(frozen=True, slots=True)
class Duration:
    """How long a step takes, as a range."""

    least: Period
    most: Period
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SpecialDay:
    """A day on which a ruleset overrides the holiday calendar, by a source of its own."""

    on: date
    rests: bool
    title: Text
    sources: tuple[str, ...]
