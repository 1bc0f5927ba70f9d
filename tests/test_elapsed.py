"""Time between two dates: what the comparisons mean, and what can be at all."""

from __future__ import annotations

from datetime import date, timedelta
from typing import get_args

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import example, given, settings
from hypothesis import strategies as st

from regkit.conditions.kinds.age import Age
from regkit.conditions.kinds.elapsed import Elapsed
from regkit.conditions.kinds.kind import COMPARISONS
from regkit.conditions.truth import NO, UNDECIDED, YES
from regkit.conditions.view import LawDay, View
from regkit.judge.exact import Exact
from regkit.model.calendar import LeapDay, Period, Unit
from regkit.model.case import Case
from regkit.model.values import days
from tests import small_world
from tests.small_world import VOCABULARY

ONE_DAY = timedelta(days=1)
BUILT, SOLD = VOCABULARY["v.built"], VOCABULARY["v.sold"]

starts = st.dates(date(1990, 1, 1), date(2030, 12, 31)) | st.sampled_from([
    date(2019, 12, 31), date(2020, 1, 1), date(2020, 1, 31), date(2020, 2, 29), date(2020, 3, 1)])
# Mostly around the end of the period, where it matters.
slips = st.integers(-3, 3) | st.integers(-400, 800)


def holds(test: Age | Elapsed, built: date, sold: date, leap_day: LeapDay = "1 March") -> bool:
    case = Case("QA", {"v.built": days(built, built), "v.sold": days(sold, sold)},
                vocabulary=VOCABULARY)
    return test.truth(View(case, LawDay(sold, leap_day), {}, {})) == YES


@settings(max_examples=600, deadline=None)
@given(starts, st.sampled_from(get_args(Unit)), st.integers(0, 40), st.sampled_from(COMPARISONS),
       st.sampled_from(get_args(LeapDay)), slips)
@example(date(1996, 6, 15), "calendar years", 30, "more than", "1 March", 364)
def test_between_two_dates_the_comparisons_mean_what_they_mean_ago(
    built: date, unit: Unit, count: int, comparison: str, leap_day: LeapDay, slip: int
) -> None:
    """M23: as in M17, with the later date in the place of the day of assessment."""
    length = Period(count, unit)
    sold = length.after(built, leap_day) + timedelta(days=slip)
    ago = Age(BUILT, ((comparison, length),))

    for test in (Elapsed(BUILT, comparison, length, "before", SOLD),
                 Elapsed(SOLD, comparison, length, "after", BUILT)):
        assert holds(test, built, sold, leap_day) == holds(ago, built, sold, leap_day)


@pytest.mark.parametrize(("comparison", "first"), [
    ("at least", date(2021, 1, 1)), ("more than", date(2022, 1, 1)),
])
def test_calendar_years_between_two_dates_turn_on_new_year_s_day(
    comparison: str, first: date
) -> None:
    """M21, M23: 25 calendar years from any day of 1996 are complete on 1 January 2021; more than
    25 begin with 2022. As the law that counts so has it: a vehicle made in a year is 25 from the
    first day of that year and 25 on.
    """
    test = Elapsed(SOLD, comparison, Period(25, "calendar years"), "after", BUILT)
    for built in (date(1996, 1, 1), date(1996, 12, 31)):
        found = [holds(test, built, first + timedelta(days=n)) for n in (-1, 0, 1)]
        assert found == [False, True, True]


@settings(max_examples=60, deadline=None)
@given(starts, st.sampled_from(get_args(Unit)), st.integers(0, 40),
       st.sampled_from(get_args(LeapDay)))
def test_a_period_takes_no_fewer_and_no_more_days_than_is_said(
    start: date, unit: Unit, count: int, leap_day: LeapDay
) -> None:
    """And some day takes as few, and some as many: a year 365 or 366, a month 28 to 31."""
    length = Period(count, unit)
    least, most = length.least_and_most_days(leap_day)

    assert least <= (length.after(start, leap_day) - start).days <= most
    assert Period(1, "years").least_and_most_days(leap_day) == (365, 366)
    assert Period(1, "months").least_and_most_days(leap_day) == (28, 31)
    assert Period(1, "calendar years").least_and_most_days(leap_day) == (1, 366)


# Periods so alike that only some days, or no days, keep more than one and less than another apart.
_alike = st.sampled_from([
    *((count, "days") for count in (28, 29, 30, 31, 32, 59, 60, 62, 364, 365, 366, 367, 730, 731)),
    *((count, "months") for count in (1, 2, 12, 13, 24)), (1, "years"), (2, "years"),
    (1, "calendar months"), (2, "calendar months"), (1, "calendar years")])
_between = st.tuples(st.sampled_from(COMPARISONS), _alike)


@settings(max_examples=150, deadline=None)
@given(st.lists(_between, min_size=2, max_size=3), st.integers(0, 1500), st.integers(0, 1500))
@example([("at least", (2, "months")), ("at most", (59, "days"))], 60, 500)
@example([("at least", (1, "years")), ("at most", (365, "days"))], 60, 1000)
@example([("at least", (32, "days")), ("at most", (1, "months"))], 0, 10)
def test_what_no_two_dates_can_be_is_told_from_what_some_can(
    asked: list[tuple[str, tuple[int, Unit]]], first: int, more: int
) -> None:
    """By trying every day of building; dateutil says between which days it then was sold."""
    written = {"all": [{"v.built": {comparison: f"{count} {unit} before v.sold"}}
                       for comparison, (count, unit) in asked]}
    exact = Exact(small_world.view({"v.built": (first, first + more)}))
    possible = False
    for built in map(small_world.day, range(first, first + more + 1)):
        spans = [_sold(built, *one) for one in asked]
        last = min(last for _, last in spans)
        possible = possible or max(built, *(start for start, _ in spans)) <= last

    assert exact.truth(small_world.read(written)) == (UNDECIDED if possible else NO)


def _sold(built: date, comparison: str, length: tuple[int, Unit]) -> tuple[date, date]:
    """Return the first and the last day of selling that pass a test."""
    count, unit = length
    name = unit.removeprefix("calendar ")
    if unit.startswith("calendar"):
        built = built.replace(day=1, month=1 if name == "years" else built.month)
    complete = built + relativedelta(**{name: count})  # type: ignore[arg-type]
    following = complete + (relativedelta(**{name: 1}) if unit != name else ONE_DAY)  # type: ignore
    if (built.month, built.day, complete.month, complete.day) == (2, 29, 2, 28):
        complete, following = following, following + ONE_DAY
    return {"at least": (complete, date.max), "more than": (following, date.max),
            "less than": (date.min, complete - ONE_DAY),
            "at most": (date.min, following - ONE_DAY)}[comparison]
