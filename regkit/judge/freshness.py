"""How long a paper is good: the period its type states, which may hang on the vehicle.

Of several periods the first whose condition holds counts. While a condition is open, every period
that may count is looked at: the shortest is the safe one.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from regkit.conditions import View
from regkit.conditions.truth import NO, YES
from regkit.model.calendar import LeapDay, Period
from regkit.model.ruleset import Evidence, Fresh, Ruleset


def evidence_on(ruleset: Ruleset, name: str, on: date) -> Evidence:
    """Return the edition of a type of paper in force on a day, else the latest."""
    history = ruleset.evidence[name]
    return history.on(on) or history.latest


def may_count(fresh: Iterable[Fresh], view: View) -> tuple[Period | None, ...]:
    """Return each period that may be the one that counts; None if it may be that none does."""
    found: list[Period | None] = []
    for one in fresh:
        truth = YES if one.when is None else one.when.truth(view)
        if truth != NO:
            found.append(one.period)
        if truth == YES:
            return tuple(found)
    return (*found, None)


def last_good_day(issued: date, period: Period, leap_day: LeapDay) -> date:
    """Return the last day on which a paper issued on a day is not older than a period.

    A period of calendar months or years ends with the month or year that so many bring.
    """
    try:
        if period.in_calendar:
            return period.longer().after(issued) - timedelta(days=1)
        return period.after(issued, leap_day)
    except OverflowError:
        return date.max


def oldest_good(on: date, period: Period, leap_day: LeapDay) -> date:
    """Return the earliest day of issue with which a paper is good on a day: `last_good_day` back.

    Raises:
        OverflowError: the day lies outside the years 1 to 9999.
    """
    if period.in_calendar:
        return period.longer().before(on)
    return period.before(on - timedelta(days=1), leap_day)


def good_until(given: Iterable[str], ruleset: Ruleset, view: View, issued: date) -> date | None:
    """Return the last day on which all papers issued on a day are surely good; None for ever."""
    ends = [
        last_good_day(issued, period, view.day.leap_day)
        for name in given
        for period in may_count(evidence_on(ruleset, name, view.day.on).fresh, view)
        if period is not None
    ]
    return min(ends, default=None)
