"""A season of whole months that returns every year, such as April to October.

Facts that name its first and last month are choices among `MONTHS`. A season may run over the turn
of the year. 29 February is not counted among its days, so that it has as many in every year.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterator
from datetime import date
from itertools import product

from regkit.model.values import Value

MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september",
          "october", "november", "december")
_COMMON_YEAR = 2001

Season = tuple[int, int]
"""The numbers of its first and its last month, 1 to 12."""


def seasons(first: Value, last: Value) -> Iterator[Season]:
    """Yield every season that two facts may mean."""
    for start, end in product(first.options or MONTHS, last.options or MONTHS):
        yield MONTHS.index(start) + 1, MONTHS.index(end) + 1


def days_in(season: Season) -> int:
    """Return the days of a season, 29 February not among them."""
    return sum(calendar.monthrange(_COMMON_YEAR, month)[1] for month in _months(season))


def moved_into(day: date, season: Season) -> date:
    """Return a day that lies in the season, else the last day of the next season's first month."""
    if day.month in _months(season):
        return day
    year = day.year if day.month < season[0] else day.year + 1
    return date(year, season[0], calendar.monthrange(year, season[0])[1])


def _months(season: Season) -> tuple[int, ...]:
    first, last = season
    length = (last - first) % 12 + 1
    return tuple((first - 1 + at) % 12 + 1 for at in range(length))
