"""Rest days: the library's calendar, a ruleset's own days, and what happens without the library."""

from __future__ import annotations

import sys
from datetime import date, timedelta
from importlib.metadata import version

import pytest
from hypothesis import given
from hypothesis import strategies as st

from regkit.judge.rest_days import rest_days
from regkit.language import Text
from regkit.model.window import SpecialDay

days = st.dates(date(2015, 1, 1), date(2035, 12, 31))


def special(on: date, rests: bool) -> SpecialDay:
    return SpecialDay(on, rests, Text.of("a day of its own"), ("an-order",))


@pytest.mark.parametrize("on", [
    # Published in advance by the United Kingdom government, www.gov.uk/bank-holidays (from memory):
    # England and Wales, 2026.
    "2026-01-01", "2026-04-03", "2026-04-06", "2026-05-04", "2026-05-25", "2026-08-31",
    "2026-12-25", "2026-12-28",
])
def test_bank_holidays_of_england_rest(on: str) -> None:
    assert rest_days("GB-ENG").rests(date.fromisoformat(on))


def test_a_subdivision_has_holidays_of_its_own() -> None:
    st_andrew = date(2026, 11, 30)
    assert rest_days("GB-SCT").rests(st_andrew)
    assert not rest_days("GB-ENG").rests(st_andrew)


def test_the_version_of_the_library_is_recorded() -> None:
    assert rest_days("GB-ENG").version == f"holidays {version('holidays')}, GB-ENG"


@given(days)
def test_numpy_counts_the_same_working_days(first: date) -> None:
    """numpy.busday_offset is an independent calendar; it is given the same holidays."""
    numpy = pytest.importorskip("numpy")
    calendar = rest_days("DE")
    holidays = [
        day for at in range(60)
        if (day := first + timedelta(days=at)).weekday() < 5 and calendar.rests(day)
    ]
    for count in (1, 3, 10, 20):
        expected = numpy.busday_offset(first, count - 1, roll="forward", holidays=holidays)
        assert calendar.working_day(count, first) == expected.astype(date)


@given(days, st.lists(days, max_size=8), st.integers(1, 30))
def test_one_more_holiday_never_shortens_a_period_of_working_days(
    first: date, more: list[date], count: int
) -> None:
    with_more = rest_days("DE", tuple(special(day, True) for day in more))
    assert with_more.working_day(count, first) >= rest_days("DE").working_day(count, first)


def test_the_ruleset_has_the_last_word_on_a_day_and_its_source_is_kept() -> None:
    worked = rest_days("GB-ENG", (special(date(2026, 5, 25), False),))
    assert not worked.rests(date(2026, 5, 25))
    rested = rest_days("GB-ENG", (special(date(2026, 5, 26), True),))
    assert rested.next_working_day(date(2026, 5, 25)) == date(2026, 5, 27)
    (marked,) = rested.marked(date(2026, 5, 25), date(2026, 5, 27))
    assert marked.special is not None and marked.special.sources == ("an-order",)


def test_a_holiday_whose_date_is_only_estimated_is_marked() -> None:
    """The library itself calls the days of the moon calendar beyond published ones estimated."""
    marked = rest_days("AE").marked(date(2035, 1, 1), date(2035, 12, 31))
    assert any(day.estimated for day in marked)


def test_without_the_library_only_weekends_rest_and_the_calendar_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rest_days.cache_clear()
    monkeypatch.setitem(sys.modules, "holidays", None)
    calendar = rest_days("GB-ENG")
    rest_days.cache_clear()
    assert not calendar.rests(date(2026, 12, 25))
    assert calendar.rests(date(2026, 12, 26))
    assert "pip install holidays" in calendar.missing


def test_a_place_the_library_does_not_know_is_said() -> None:
    assert "no calendar for XX" in rest_days("XX").missing
