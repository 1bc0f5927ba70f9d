"""Counting days, months and years on the proleptic Gregorian calendar (ISO 8601).

Law counts age in whole years and months from date to date. Only 29 February needs a choice, since
in other years there is no such day: its anniversary falls on 28 February or on 1 March, and each
ruleset states which.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from regkit.language import Phrase, YearDay, phrase, plural

LeapDay = Literal["28 February", "1 March"]
Unit = Literal["days", "weeks", "months", "years", "calendar months", "calendar years"]

_DAYS = {"days": 1, "weeks": 7}
_MONTHS = {"months": 1, "years": 12}
_CALENDAR_MONTHS = {"calendar months": 1, "calendar years": 12}


_SAYS = {
    "days": ("{count} day", "{count} days"),
    "weeks": ("{count} week", "{count} weeks"),
    "months": ("{count} month", "{count} months"),
    "years": ("{count} year", "{count} years"),
    "calendar months": ("{count} calendar month", "{count} calendar months"),
    "calendar years": ("{count} calendar year", "{count} calendar years"),
}


@dataclass(frozen=True, slots=True)
class Period:
    """A length of time in one unit, such as 40 years or 14 days."""

    count: int
    unit: Unit

    def said(self) -> Phrase:
        """Return the words for this period."""
        one, many = _SAYS[self.unit]
        return plural(one, many, count=self.count)

    @property
    def in_calendar(self) -> bool:
        """Whether it turns with the calendar, whatever the day within the month or year."""
        return self.unit in _CALENDAR_MONTHS

    def longer(self) -> Period:
        """Return the period that is one unit longer."""
        return Period(self.count + 1, self.unit)

    def canonical(self) -> Period:
        """Return the one way to write this period: 24 months as 2 years, 2 weeks as 14 days."""
        if self.unit in _DAYS or (self.count == 0 and not self.in_calendar):
            return Period(self.count * _DAYS.get(self.unit, 0), "days")
        if self.unit == "months" and self.count % 12 == 0:
            return Period(self.count // 12, "years")
        return self

    def after(self, start: date, leap_day: LeapDay = "1 March") -> date:
        """Return the day on which this period, counted from `start`, is complete.

        A day missing in the month reached is the month's last day (31 January and one month: 28
        or 29 February), except for 29 February itself, which follows `leap_day`.

        Raises:
            OverflowError: the day lies outside the years 1 to 9999.
        """
        if self.unit in _DAYS:
            return start + timedelta(days=self.count * _DAYS[self.unit])
        if self.in_calendar:
            return self._turn(start, self.count)
        months = start.year * 12 + start.month - 1 + self.count * _MONTHS[self.unit]
        year, month = months // 12, months % 12 + 1
        if not date.min.year <= year <= date.max.year:
            raise OverflowError(f"{self.count} {self.unit} from {start} leaves the calendar")
        last = calendar.monthrange(year, month)[1]
        if start.day <= last:
            return date(year, month, start.day)
        if (start.month, start.day) == (2, 29) and leap_day == "1 March":
            return date(year, month, last) + timedelta(days=1)
        return date(year, month, last)

    def before(self, end: date, leap_day: LeapDay = "1 March") -> date:
        """Return the first day whose period is *not yet* complete on `end`.

        So 'at least 40 years ago' means: earlier than `Period(40, "years").before(day)`.
        The answer is exact for every anniversary rule because `after` never decreases.
        """
        if self.unit in _DAYS:
            return end - timedelta(days=self.count * _DAYS[self.unit] - 1)
        if self.in_calendar:
            return self._turn(end, 1 - self.count)
        guess = Period(-self.count, self.unit).after(end, "28 February") - timedelta(days=3)
        while self._complete(guess, end, leap_day):
            guess += timedelta(days=1)
        return guess

    def least_and_most_days(self, leap_day: LeapDay = "1 March") -> tuple[int, int]:
        """Return the fewest and the most days it takes, whatever day it is counted from."""
        return _least_and_most_days(self, leap_day)

    def _turn(self, day: date, count: int) -> date:
        """Return the first day of the calendar month or year so many after that of a day."""
        months = (day.year * 12 + day.month - 1) // _CALENDAR_MONTHS[self.unit] + count
        year, month = divmod(months * _CALENDAR_MONTHS[self.unit], 12)
        return _day(year, month + 1, 1)

    def _complete(self, start: date, end: date, leap_day: LeapDay) -> bool:
        try:
            return self.after(start, leap_day) <= end
        except OverflowError:  # Complete after the calendar ends, so not by the end.
            return False


@lru_cache(maxsize=512)
def _least_and_most_days(length: Period, leap_day: LeapDay) -> tuple[int, int]:
    # The calendar repeats after 400 years, and a period takes most or least days from the first or
    # the last day of some month.
    firsts = [date(year, month, 1) for year in range(1600, 2001) for month in range(1, 13)]
    days = (*firsts, *(first - timedelta(days=1) for first in firsts))
    found = [(length.after(day, leap_day) - day).days for day in days]
    return min(found), max(found)


@dataclass(frozen=True, slots=True, order=True)
class DayOfYear:
    """A day that returns every year, such as 1 April. 29 February is not allowed."""

    month: int
    day: int

    def __post_init__(self) -> None:
        date(2001, self.month, self.day)

    def said(self) -> Phrase:
        """Return the words for this day."""
        return phrase("{day}", day=YearDay(self.month, self.day))

    def latest(self, on: date) -> date:
        """Return the latest such day on or before `on`."""
        this_year = _day(on.year, self.month, self.day)
        return this_year if this_year <= on else _day(on.year - 1, self.month, self.day)

    def in_year(self, year: int) -> date:
        """Return this day in a given year."""
        return _day(year, self.month, self.day)


def _day(year: int, month: int, day: int) -> date:
    if not date.min.year <= year <= date.max.year:
        raise OverflowError(f"the year {year} lies outside the calendar")
    return date(year, month, day)
