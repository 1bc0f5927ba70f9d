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
        within: the period; None for 'forthwith'; 0 days for 'by' the day of the event itself.
        working: whether its days are working days.
        of: the date facts it may run from; the first that is told counts.
        counting: the counting rule that applies.
        back: whether it runs back from the event: at least so long before it.
    """

    within: Period | None
    working: bool
    of: tuple[str, ...]
    counting: str
    extended_by: Text | None = None
    back: bool = False

    def said(self) -> Phrase:
        """Return the words for its length alone."""
        if self.within is None:
            return phrase("at once")
        if self.back:
            length = plural("{count} working day", "{count} working days",
                            count=self.within.count) if self.working else self.within.said()
            return phrase("at least {length} before", length=length)
        if not self.within.count:
            return phrase("by the day itself")
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
