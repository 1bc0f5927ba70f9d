"""Rest days: weekends and public holidays of a place, on which a period does not end or count.

Holidays come from the `holidays` library, whose version is recorded. A ruleset may override a day
and names its source; an overridden or estimated day is marked, so that a deadline which depends on
it can say so. Without the library only the days of the weekend are known, which never makes a
deadline later than it is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from importlib.metadata import version
from typing import Any

from regkit.model.window import SpecialDay

SATURDAY_AND_SUNDAY = frozenset({5, 6})
LONGEST_REST = 60
"""No row of rest days is longer than this; a calendar that says otherwise is broken."""


@dataclass(frozen=True, slots=True)
class Day:
    """One day of the calendar.

    Attributes:
        rests: whether it is a rest day.
        name: the holiday's name; empty for a plain weekday or weekend day.
        estimated: whether the library only estimates the holiday (moon calendars).
        special: the ruleset's own word on this day, if it overrides the library.
    """

    on: date
    rests: bool
    name: str = ""
    estimated: bool = False
    special: SpecialDay | None = None


@dataclass(frozen=True)
class RestDays:
    """The calendar of one place.

    Attributes:
        version: the library and its version, empty where holidays are not known.
        missing: why holidays are not known; empty where they are.
    """

    weekend: frozenset[int]
    holiday: Callable[[date], str | None]
    special: dict[date, SpecialDay]
    version: str = ""
    missing: str = ""

    def day(self, on: date) -> Day:
        """Return what the calendar says of a day."""
        special = self.special.get(on)
        if special is not None:
            return Day(on, special.rests, str(special.title), special=special)
        name = self.holiday(on)
        return Day(on, name is not None or on.weekday() in self.weekend, name or "",
                   "(estimated)" in (name or ""))

    def rests(self, on: date) -> bool:
        """Return whether a day is a rest day."""
        return self.day(on).rests

    def next_working_day(self, on: date) -> date:
        """Return the day itself if it is a working day, else the next one."""
        for _ in range(LONGEST_REST):
            if not self.rests(on):
                return on
            on += timedelta(days=1)
        raise ValueError(f"no working day in the {LONGEST_REST} days before {on}")

    def working_day(self, count: int, first: date) -> date:
        """Return the working day that is number `count`, counting from `first` on."""
        on = self.next_working_day(first)
        for _ in range(count - 1):
            on = self.next_working_day(on + timedelta(days=1))
        return on

    def working_day_back(self, count: int, last: date) -> date:
        """Return the working day that is number `count`, counting back from `last` on."""
        on = last + timedelta(days=1)
        for _ in range(count):
            on -= timedelta(days=1)
            for _ in range(LONGEST_REST):
                if not self.rests(on):
                    break
                on -= timedelta(days=1)
            else:
                raise ValueError(f"no working day in the {LONGEST_REST} days after {on}")
        return on

    def marked(self, first: date, last: date) -> list[Day]:
        """Return the days from `first` to `last` that are estimated or overridden."""
        days = (self.day(first + timedelta(days=at)) for at in range((last - first).days + 1))
        return [day for day in days if day.estimated or day.special is not None]


@lru_cache(maxsize=256)
def rest_days(place: str, special: tuple[SpecialDay, ...] = ()) -> RestDays:
    """Return the calendar of a country or subdivision, by its ISO 3166 code (GB, GB-ENG).

    Args:
        place: the code; empty for the weekend alone.
        special: days the ruleset overrides.
    """
    own = {day.on: day for day in special}
    if not place:
        return RestDays(SATURDAY_AND_SUNDAY, _none, own, missing="the rule names no calendar")
    try:
        import holidays
    except ImportError:
        return RestDays(SATURDAY_AND_SUNDAY, _none, own,
                        missing="the package 'holidays' is not installed: pip install holidays")
    country, _, part = place.partition("-")
    try:
        calendar: Any = holidays.country_holidays(country, subdiv=part or None)
    except NotImplementedError:
        return RestDays(SATURDAY_AND_SUNDAY, _none, own,
                        missing=f"the package 'holidays' has no calendar for {place}")
    return RestDays(frozenset(calendar.weekend), _names(calendar), own,
                    version=f"holidays {version('holidays')}, {place}")


def places_with_holidays() -> frozenset[str]:
    """Return the codes of all countries and parts of countries whose holidays are known; none
    without the package."""
    try:
        import holidays
    except ImportError:
        return frozenset()
    return frozenset(
        code for country, parts in holidays.list_supported_countries().items()
        for code in (country, *(f"{country}-{part}" for part in parts)))


def _names(calendar: Any) -> Callable[[date], str | None]:
    def name(on: date) -> str | None:
        found: str | None = calendar.get(on)
        return found

    return name


def _none(_: date) -> None:
    return None
