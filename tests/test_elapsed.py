"""Time between two dates: the same as time ago, with the later date as the day of assessment."""

from __future__ import annotations

from datetime import date, timedelta
from typing import get_args

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from regkit.conditions.kinds.age import Age
from regkit.conditions.kinds.elapsed import Elapsed
from regkit.conditions.kinds.kind import COMPARISONS
from regkit.conditions.truth import YES
from regkit.conditions.view import LawDay, View
from regkit.model.calendar import LeapDay, Period, Unit
from regkit.model.case import Case
from regkit.model.values import days
from tests.small_world import VOCABULARY

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
