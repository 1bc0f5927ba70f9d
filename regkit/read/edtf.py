"""Inexact dates in the notation of ISO 8601-2:2019 (EDTF).

    1962          some day of 1962
    1962-05       some day of May 1962
    1962-05-17    that day
    196X          some day of the 1960s
    1962/1964     some day from 1 January 1962 to 31 December 1964
    ../1959       no later than 31 December 1959
    1959/..       no earlier than 1 January 1959
    1962~         about 1962

A date here is always *one day that is not known exactly*, never a duration. `~` (approximate) is
read as one unit of the precision written, to either side: `1962~` as 1961 to 1963, `1962-05~` as
April to June 1962, a day as the day before to the day after. Whoever knows better writes an
interval.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from regkit.language import Either, Phrase, Wrong, phrase
from regkit.model.calendar import Period, Unit
from regkit.model.values import Value, days

FORMS = ("1962", "1962-05", "1962-05-17", "1962/1964", "../1959", "1959/..", "1962~")

_LAST_YEAR = 9998
_ONE = re.compile(r"(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?(~?)|(\d{3})X(~?)|(\d{2})XX", re.ASCII)


def read_date(written: str) -> Value:
    """Return the days a written date may be.

    Raises:
        Wrong: it is no such date.
    """
    parts = written.split("/")
    if len(parts) == 1:
        return days(*_one(written, written), written)
    if len(parts) != 2 or parts == ["..", ".."]:
        raise Wrong(_no_date(written))
    first = None if parts[0] == ".." else _one(parts[0], written)[0]
    last = None if parts[1] == ".." else _one(parts[1], written)[1]
    if first is not None and last is not None and first > last:
        raise Wrong(phrase("{written} ends before it begins; write the earlier date first",
                           written=repr(written)))
    return days(first, last, written)


def _one(text: str, written: str) -> tuple[date, date]:
    """Return the first and last day one date of the notation may be."""
    found = _ONE.fullmatch(text)
    if found is None:
        raise Wrong(_no_date(written))
    if found[5] or found[7]:
        digits = found[5] or found[7]
        length = 10 ** (4 - len(digits))
        first = int(digits) * length
        return _years(first, first + length - 1, length if found[6] else 0, written)
    year, about = int(found[1]), bool(found[4])
    if found[2] is None:
        return _years(year, year, 1 if about else 0, written)
    try:
        first_day = date(year, int(found[2]), int(found[3] or 1))
    except ValueError as wrong:
        raise Wrong(phrase("{written} names a day that does not exist; write the year, the month "
                           "and the day, such as 1962-05-17", written=repr(written))) from wrong
    unit: Unit = "months" if found[3] is None else "days"
    margin = 1 if about else 0
    try:
        first = Period(-margin, unit).after(first_day)
        last = Period(1 + margin, unit).after(first_day) - timedelta(days=1)
    except OverflowError as wrong:
        raise Wrong(_outside(written)) from wrong
    if last.year > _LAST_YEAR:
        raise Wrong(_outside(written))
    return first, last


def _years(first: int, last: int, margin: int, written: str) -> tuple[date, date]:
    if first - margin < 1 or last + margin > _LAST_YEAR:
        raise Wrong(_outside(written))
    return date(first - margin, 1, 1), date(last + margin, 12, 31)


def _no_date(written: str) -> Phrase:
    return phrase("{written} is no date; write {forms}", written=repr(written),
                  forms=Either(FORMS))


def _outside(written: str) -> Phrase:
    return phrase("{written} lies outside the years 1 to {last}", written=repr(written),
                  last=str(_LAST_YEAR))
