"""Counting days, months and years against `dateutil.relativedelta`, and properties of our own."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, get_args

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st

from regkit.conditions.kinds.moment import Stepped
from regkit.model.calendar import DayOfYear, LeapDay, Period, Unit

days = st.dates(date(1800, 1, 1), date(2300, 12, 31)) | st.sampled_from(
    [date(year, 2, 29) for year in (1896, 1904, 2000, 2024, 2096)])
leap_days = st.sampled_from(get_args(LeapDay))
units: list[Unit] = ["days", "weeks", "months", "years"]
periods = st.builds(Period, st.integers(0, 500), st.sampled_from(units))
days_of_year = st.dates(date(2001, 1, 1), date(2001, 12, 31)).map(
    lambda day: DayOfYear(day.month, day.day))


@settings(max_examples=500, deadline=None)
@given(days, periods)
def test_a_period_is_complete_when_dateutil_says(start: date, length: Period) -> None:
    """dateutil takes the last day of a month that is too short, as the 28 February choice (M19)."""
    expected = start + relativedelta(**{length.unit: length.count})  # type: ignore[arg-type]

    assert length.after(start, "28 February") == expected


@settings(max_examples=300, deadline=None)
@given(days, periods)
def test_the_two_choices_differ_on_29_february_alone(start: date, length: Period) -> None:
    """Only for 29 February, and only where there is none, by exactly one day (M20)."""
    early, late = length.after(start, "28 February"), length.after(start, "1 March")
    leaps = (start.month, start.day) == (2, 29) and (early.month, early.day) == (2, 28)

    assert late - early == timedelta(days=1 if leaps and length.unit in ("months", "years") else 0)
    if late != early:
        assert (late.month, late.day) == (3, 1)


@settings(max_examples=300, deadline=None)
@given(days, days, periods, leap_days)
def test_a_later_start_is_never_complete_earlier(
    one: date, other: date, length: Period, leap_day: LeapDay
) -> None:
    """`after` never decreases; every comparison with an inexact date rests on this."""
    first, second = sorted((one, other))

    assert length.after(first, leap_day) <= length.after(second, leap_day)


@settings(max_examples=500, deadline=None)
@given(days, st.builds(Period, st.integers(0, 300), st.sampled_from(get_args(Unit))), leap_days)
def test_before_is_the_first_day_not_yet_complete(
    end: date, length: Period, leap_day: LeapDay
) -> None:
    """The day before it is complete at the end, the day itself is not (M17)."""
    first = length.before(end, leap_day)

    assert length.after(first, leap_day) > end
    assert length.after(first - timedelta(days=1), leap_day) <= end


@given(days, st.builds(Period, st.integers(0, 300), st.sampled_from(get_args(Unit))), leap_days)
def test_a_period_written_another_way_is_the_same_period(
    start: date, length: Period, leap_day: LeapDay
) -> None:
    """From every day, by either rule: 24 months are 2 years, and 2 weeks 14 days."""
    assert length.canonical().after(start, leap_day) == length.after(start, leap_day)
    assert length.canonical().canonical() == length.canonical()


@pytest.mark.parametrize(("one", "other"), [
    ((24, "months"), (2, "years")), ((2, "weeks"), (14, "days")), ((0, "years"), (0, "days")),
])
def test_equal_periods_are_written_in_one_way(one: Any, other: Any) -> None:
    """So that what lies between two dates is one quantity, however a rule writes it."""
    assert Period(*one).canonical() == Period(*other).canonical()


@settings(max_examples=200, deadline=None)
@given(days, st.integers(0, 200))
def test_calendar_years_compare_the_years_alone(start: date, count: int) -> None:
    """Complete on 1 January, whatever the day (M21)."""
    assert Period(count, "calendar years").after(start) == date(start.year + count, 1, 1)


@settings(max_examples=200, deadline=None)
@given(days, st.integers(0, 2400))
def test_calendar_months_compare_the_months_alone(start: date, count: int) -> None:
    """Complete on the first of a month, as many months on as are counted (M21)."""
    complete = Period(count, "calendar months").after(start)

    assert complete.day == 1
    assert (complete.year - start.year) * 12 + complete.month - start.month == count


@settings(max_examples=300, deadline=None)
@given(days_of_year, days)
def test_the_latest_step_is_the_last_one_that_has_come(step: DayOfYear, on: date) -> None:
    """It lies on or before the day, and the next one after it (M16)."""
    latest = step.latest(on)

    assert (latest.month, latest.day) == (step.month, step.day)
    assert latest <= on < step.in_year(latest.year + 1)


@settings(max_examples=300, deadline=None)
@given(days_of_year, days_of_year, st.integers(0, 100), days)
def test_a_stepped_cut_off_moves_by_a_year_on_its_day_alone(
    day: DayOfYear, step: DayOfYear, years: int, on: date
) -> None:
    """From one day to the next it stays, or on the step moves on by one year (M16)."""
    cut_off = Stepped(day, years, step)
    today, tomorrow = cut_off.on(on), cut_off.on(on + timedelta(days=1))
    steps = (on + timedelta(days=1)).timetuple()[1:3] == (step.month, step.day)

    assert tomorrow.year - today.year == (1 if steps else 0)
    assert (tomorrow.month, tomorrow.day) == (day.month, day.day)


def test_the_british_step_of_2026() -> None:
    """From 1 April 2026 the cut-off '40 years before' is 1 January 1986, the day before still 1985.

    Source: Vehicle Excise and Registration Act 1994, schedule 2, paragraph 1A.
    """
    cut_off = Stepped(DayOfYear(1, 1), 40, DayOfYear(4, 1))

    assert cut_off.on(date(2026, 3, 31)) == date(1985, 1, 1)
    assert cut_off.on(date(2026, 4, 1)) == date(1986, 1, 1)


@pytest.mark.parametrize(("length", "start"), [
    (Period(1, "days"), date.max), (Period(1, "years"), date(9999, 1, 1)),
    (Period(-1, "months"), date.min), (Period(1, "calendar years"), date.max),
    (Period(1, "calendar months"), date.max),
])
def test_leaving_the_calendar_is_an_error(length: Period, start: date) -> None:
    """Years run from 1 to 9999."""
    with pytest.raises(OverflowError):
        length.after(start)


def test_29_february_is_no_day_of_every_year() -> None:
    """A day that returns every year cannot be one that does not."""
    with pytest.raises(ValueError, match="day"):
        DayOfYear(2, 29)
