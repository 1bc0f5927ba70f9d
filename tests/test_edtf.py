"""Written dates against an independent reader of the same notation, the package `edtf`.

Source: ISO 8601-2:2019 and the Extended Date/Time Format of the Library of Congress. Only the forms
both know are compared. `~` differs on purpose: the notation does not say how far 'about' reaches;
we say one unit of the precision written, the package asks for a padding of the user's own.
"""

from __future__ import annotations

import calendar
from datetime import date

import edtf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from regkit.model.values import Value, day_of
from regkit.read.edtf import read_date

years = st.integers(1, 9998).map(lambda year: f"{year:04}")
days = st.dates(date(1, 1, 1), date(9998, 12, 31))
months = days.map(lambda day: f"{day:%Y-%m}".zfill(7))
ones = st.one_of(years, months, days.map(date.isoformat))
intervals = st.tuples(ones, ones).map(lambda ends: f"{ends[0]}/{ends[1]}")
spread = st.one_of(
    st.integers(100, 998).map(lambda decade: f"{decade}X"),
    st.integers(10, 98).map(lambda century: f"{century}XX"),
)


def ends(value: Value) -> tuple[date | None, date | None]:
    """Return the first and last day a value may be."""
    return day_of(value.low), day_of(value.high)


def theirs(written: str) -> tuple[date | None, date | None]:
    """Return the first and last day as the package `edtf` reads them."""
    parsed = edtf.parse_edtf(written)

    def day(moment: object) -> date | None:
        if isinstance(moment, float):  # an infinity: the end is open
            return None
        return date(*moment[:3])  # type: ignore[index]

    return day(parsed.lower_strict()), day(parsed.upper_strict())


@settings(max_examples=150, deadline=None)
@given(st.one_of(ones, spread))
def test_one_date_means_what_the_library_says(written: str) -> None:
    """Day, month, year, decade, century: same first and last day (M12)."""
    assert ends(read_date(written)) == theirs(written)


@settings(max_examples=100, deadline=None)
@given(intervals)
def test_an_interval_means_what_the_library_says(written: str) -> None:
    """From the first day of the earlier to the last day of the later date (M12)."""
    first, last = (theirs(part) for part in written.split("/"))
    if first[0] is not None and last[1] is not None and first[0] > last[1]:
        with pytest.raises(ValueError, match="ends before it begins"):
            read_date(written)
    else:
        assert ends(read_date(written)) == (first[0], last[1]) == theirs(written)


@settings(max_examples=100, deadline=None)
@given(ones)
def test_an_open_interval_has_one_end(written: str) -> None:
    """The closed end is that of the date written; the other is open (M12)."""
    first, last = theirs(written)

    assert ends(read_date(f"../{written}")) == (None, last)
    assert ends(read_date(f"{written}/..")) == (first, None)
    assert theirs(f"../{written}")[1] == last and theirs(f"{written}/..")[0] == first


@settings(max_examples=100, deadline=None)
@given(st.integers(2, 9997), st.integers(1, 12), st.integers(1, 31))
def test_about_reaches_one_unit_further(year: int, month: int, day: int) -> None:
    """Our reading of '~': a year, a month or a day to either side, as Python's calendar says (M13).

    The package agrees where its own padding is set to a year and the precision is a year.
    """
    assert ends(read_date(f"{year:04}~")) == (date(year - 1, 1, 1), date(year + 1, 12, 31))

    before, after = (year * 12 + month - 2), (year * 12 + month)
    last_month = (after // 12, after % 12 + 1)
    assert ends(read_date(f"{year:04}-{month:02}~")) == (
        date(before // 12, before % 12 + 1, 1),
        date(*last_month, calendar.monthrange(*last_month)[1]),
    )
    if day <= calendar.monthrange(year, month)[1]:
        middle = date(year, month, day).toordinal()
        assert ends(read_date(f"{year:04}-{month:02}-{day:02}~")) == (
            date.fromordinal(middle - 1), date.fromordinal(middle + 1))


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 9998), st.integers(0, 99), st.integers(0, 99))
def test_a_day_that_does_not_exist_is_refused(year: int, month: int, day: int) -> None:
    """What Python's calendar has no day for is no date (M14)."""
    written = f"{year:04}-{month:02}-{day:02}"
    try:
        expected = date(year, month, day)
    except ValueError:
        with pytest.raises(ValueError, match="does not exist"):
            read_date(written)
    else:
        assert ends(read_date(written)) == (expected, expected)


@settings(max_examples=150, deadline=None)
@given(st.text("0123456789-/.~X? ", max_size=14))
def test_any_text_is_a_date_or_a_sentence(written: str) -> None:
    """Nothing else is raised, and what we take the library does not refuse."""
    try:
        value = read_date(written)
    except ValueError as wrong:
        assert written[:8] in str(wrong)
    else:
        assert value.low <= value.high
        edtf.parse_edtf(written)
