"""Windows to deadlines: counting rules, inexact events, open readings, lateness and its cost."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

import regkit
from regkit.judge.rest_days import rest_days
from regkit.judge.windows import Reading, last_day, readings
from regkit.language import Text, speaker
from regkit.model.calendar import Period
from regkit.model.deadline import Deadline, Progress
from regkit.model.ruleset import Counting
from regkit.model.window import SpecialDay, Window
from regkit.show.deadline_text import standing_lines

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
days = st.dates(date(2000, 1, 1), date(2060, 12, 31))
units = st.sampled_from(["days", "weeks", "months", "years"])
COUNTS = ("counted", "not counted", "not stated")
RESTS = ("stays", "moves to the next working day", "not stated")


def rule(event: str = "not counted", rest: str = "stays", place: str = "", **more: Any) -> Counting:
    return Counting(id="rule", title=Text.of("a rule"), day_of_event=event,  # type: ignore[arg-type]
                    rest_day=rest, holidays=place, **more)


def window(count: int, unit: Any, working: bool = False) -> Window:
    return Window(Period(count, unit), working, ("arrival.date",), "rule")


def ends(event: date, length: Window, counting: Counting) -> list[date]:
    calendar = rest_days(counting.holidays, counting.special_days)
    return [last_day(event, length, counting, reading, calendar, "1 March")
            for reading in readings(counting)]


def end(event: str, length: Window, counting: Counting) -> str:
    (only,) = ends(date.fromisoformat(event), length, counting)
    return only.isoformat()


UNION = rule("not counted", "moves to the next working day", "DE", least_working=2)


class TestRegulation1182of71:
    """Regulation (EEC, Euratom) No 1182/71, article 3."""

    @pytest.mark.parametrize(("event", "last"), [
        # Court of Justice, C-171/03 Toeters, 11 November 2004: three weeks end on the day of the
        # week of the event. Its facts: events on 12, 13 and 16 March and 27 and 28 January 1998.
        ("1998-03-12", "1998-04-02"), ("1998-03-13", "1998-04-03"), ("1998-03-16", "1998-04-06"),
        ("1998-01-27", "1998-02-17"), ("1998-01-28", "1998-02-18"),
    ])
    def test_weeks_end_on_the_weekday_of_the_event(self, event: str, last: str) -> None:
        assert end(event, window(3, "weeks"), UNION) == last

    def test_the_day_of_the_event_is_not_counted(self) -> None:
        """Article 3(1)."""
        assert end("2026-03-02", window(14, "days"), UNION) == "2026-03-16"

    def test_a_month_without_that_day_ends_on_its_last_day(self) -> None:
        """Article 3(2)(c), last sentence (from memory)."""
        assert end("2025-01-31", window(1, "months"), UNION) == "2025-02-28"

    @pytest.mark.parametrize(("event", "last"), [
        ("2026-03-14", "2026-03-30"),  # 28 March 2026 is a Saturday
        ("2026-03-15", "2026-03-30"),  # a Sunday
        ("2026-03-20", "2026-04-07"),  # 3 April 2026 is Good Friday, 6 April Easter Monday
    ])
    def test_a_last_day_that_rests_moves_to_the_next_working_day(
        self, event: str, last: str
    ) -> None:
        """Article 3(4)."""
        assert end(event, window(14, "days"), UNION) == last

    def test_two_days_or_more_hold_at_least_two_working_days(self) -> None:
        """Article 3(5) (from memory): from Thursday, three days end on Monday by the fourth
        paragraph alone; the second working day is Monday too; over Easter it is Wednesday."""
        assert end("2026-04-02", window(3, "days"), UNION) == "2026-04-08"
        assert end("2026-04-02", window(1, "days"), UNION) == "2026-04-07"


class TestOfficialExamples:
    """Periods that official pages or laws state; the day itself is derived from their words."""

    def test_british_notice_of_arrival(self) -> None:
        """VAT Regulations 1995, regulation 148A(3): within 14 days of the arrival."""
        assert end("2026-03-01", window(14, "days"), rule()) == "2026-03-15"

    def test_swiss_notice_of_a_change(self) -> None:
        """VZV article 74(5): within 14 days; 1 August to 15 August."""
        assert end("2026-08-01", window(14, "days"), rule()) == "2026-08-15"

    def test_finnish_notice_of_a_change(self) -> None:
        """Traficom, register notices and periods: seven days, the day of the change not counted;
        a Saturday or holiday gives way to the next working day."""
        finland = rule("not counted", "moves to the next working day", "FI")
        assert end("2026-06-12", window(7, "days"), finland) == "2026-06-22"  # Midsummer Eve, Fri.
        assert end("2026-06-08", window(7, "days"), finland) == "2026-06-15"

    def test_pennsylvanian_title(self) -> None:
        """75 Pa.C.S. 1103.1(b): within 20 days of the entry; 10 May to 30 May."""
        assert end("2026-05-10", window(20, "days"), rule()) == "2026-05-30"

    def test_irish_act_counts_the_day_itself(self) -> None:
        """Interpretation Act 2005, section 18(h) (from memory): the day reckoned from counts."""
        assert end("2026-03-01", window(30, "days"), rule("counted")) == "2026-03-30"


@given(days, st.integers(1, 60), units)
def test_dateutil_agrees_on_periods_from_date_to_date(event: date, count: int, unit: Any) -> None:
    """dateutil.relativedelta is an independent calendar; 29 February aside, where law differs."""
    if (event.month, event.day) == (2, 29) and unit in ("months", "years"):
        return
    assert ends(event, window(count, unit), rule()) == [event + relativedelta(**{unit: count})]


@given(days, st.integers(1, 60))
def test_numpy_agrees_on_working_days(event: date, count: int) -> None:
    numpy = pytest.importorskip("numpy")
    expected = numpy.busday_offset(event + timedelta(days=1), count - 1, roll="forward")
    assert ends(event, window(count, "days", True), rule()) == [expected.astype(date)]


@given(days, st.integers(1, 40), units, st.booleans(), st.sampled_from(COUNTS),
       st.sampled_from(RESTS), st.sampled_from(["", "DE", "GB-ENG"]))
def test_a_deadline_never_precedes_its_event_and_the_first_reading_is_the_safe_one(
    event: date, count: int, unit: Any, working: bool, counts: str, rests: str, place: str
) -> None:
    found = ends(event, window(count, unit, working and unit == "days"), rule(counts, rests, place))
    assert min(found) == found[0] >= event


@given(days, st.lists(days, max_size=6), st.integers(1, 30))
def test_one_more_holiday_never_shortens_a_window(
    event: date, more: list[date], count: int
) -> None:
    extra = tuple(SpecialDay(on, True, Text.of("rest"), ()) for on in set(more))
    for working in (True, False):
        length = window(count, "days", working)
        plain = rule("not counted", "moves to the next working day", "DE")
        longer = rule("not counted", "moves to the next working day", "DE", special_days=extra)
        assert ends(event, length, longer)[0] >= ends(event, length, plain)[0]


@given(days, st.integers(0, 400), st.integers(1, 40), units)
def test_a_later_event_never_brings_an_earlier_deadline(
    event: date, later: int, count: int, unit: Any
) -> None:
    for reading in (Reading(True, True), Reading(False, False), Reading(False, True)):
        calendar = rest_days("DE")
        first, second = (last_day(day, window(count, unit), UNION, reading, calendar, "1 March")
                         for day in (event, event + timedelta(days=later)))
        assert first <= second


# ------------------------------------------------------------------ in findings


def finding(requirement: str, on: str, done: list[Any] | None = None, **facts: Any) -> Any:
    written = {name.replace("__", "."): value for name, value in facts.items()}
    case = regkit.read_case({
        "jurisdiction": "QA",
        "facts": {"vehicle.first_registered_here": "never", **written},
        "done": done or [],
    }, ISLAND)
    return regkit.assess(case, ISLAND, date.fromisoformat(on)).finding(requirement)


def deadline(requirement: str, on: str, **facts: Any) -> Deadline:
    found: Deadline = finding(requirement, on, **facts).deadline
    return found


def notes(found: Deadline) -> str:
    return " / ".join(speaker().say(note) for note in found.notes)


def test_days_left_then_overdue_since() -> None:
    ahead = deadline("notify-arrival", "2026-03-10", arrival__date="2026-03-01")
    assert (ahead.first, ahead.days_left, ahead.overdue_since) == (date(2026, 3, 15), 5, None)
    passed = finding("notify-arrival", "2026-03-17", arrival__date="2026-03-01")
    assert passed.progress == Progress.OVERDUE
    assert passed.deadline.overdue_since == date(2026, 3, 16)
    assert passed.deadline.days_left == -2


def test_an_inexact_event_gives_a_range_and_the_safe_day_is_the_earliest() -> None:
    found = finding("notify-arrival", "2026-03-20", arrival__date="2026-03")
    assert (found.deadline.first, found.deadline.last) == (date(2026, 3, 15), date(2026, 4, 14))
    assert found.progress == Progress.PERHAPS_OVERDUE


def test_the_first_event_that_is_told_counts() -> None:
    found = deadline("notify-arrival", "2026-05-02", arrival__date="2026-01-01",
                     arrival__intention_changed="2026-05-01")
    assert (found.event, found.first) == ("arrival.intention_changed", date(2026, 5, 15))


def test_an_event_not_told_is_asked_for() -> None:
    found = deadline("notify-arrival", "2026-05-02")
    assert found.first is None and "until this is known" in notes(found)


def test_where_no_rule_is_known_the_safe_reading_is_named() -> None:
    found = deadline("tell-of-new-address", "2026-05-04", change__address="2026-05-02")
    # Counting the day and not moving: Friday 15 May; neither: Saturday 16; moved: Monday 18.
    assert (found.first, found.last) == (date(2026, 5, 15), date(2026, 5, 18))
    assert "whether the day of the event counts; the safe reading" in notes(found)
    assert "on a rest day moves on; the safe reading" in notes(found)


def test_no_word_of_readings_where_they_agree() -> None:
    found = deadline("register", "2026-05-04", arrival__date="2026-03-03")
    assert found.exact and "reading" not in notes(found)


def test_a_deadline_that_touches_an_overridden_day_says_so_with_its_source() -> None:
    facts = {"change__engine": "2026-06-05"}
    found = deadline("notify-engine-change", "2026-06-08", **facts)
    # Ten working days from Friday 5 June, without 12 June: Monday 22 June.
    assert found.first == date(2026, 6, 22)
    assert "Governor's birthday" in notes(found) and "island-order" in found.sources
    assert found.calendar.startswith("holidays ")


def test_who_may_extend_it_and_the_last_moment_are_said() -> None:
    assert "it may be extended by: the registry" in notes(
        deadline("tell-of-new-address", "2026-05-04", change__address="2026-05-02"))
    assert "the last moment: the end of the day" in notes(
        deadline("register", "2026-05-04", arrival__date="2026-03-03"))


def test_forthwith_names_no_number_of_days_and_is_never_called_overdue() -> None:
    found = finding("report-new-colour", "2026-05-20", change__colour="2026-05-02")
    assert found.deadline.at_once and found.deadline.first == date(2026, 5, 2)
    assert (found.progress, found.deadline.days_left) == (Progress.TO_DO, 0)
    assert "names no number of days" in notes(found.deadline)
    text = "\n".join(speaker().say(says) for _, says in standing_lines(found, ISLAND))
    assert "at once, from 2 May 2026" in text


@pytest.mark.parametrize(("done", "state", "late"), [
    ("2026-03-15", Progress.DONE, 0),
    ("2026-03-16", Progress.DONE_LATE, 1),
])
def test_a_step_is_done_in_time_on_the_last_day_and_late_the_day_after(
    done: str, state: Progress, late: int
) -> None:
    found = finding("notify-arrival", "2026-12-01", arrival__date="2026-03-01",
                    done=[{"requirement": "notify-arrival", "on": done}])
    assert (found.progress, found.deadline.late.most) == (state, late)


@pytest.mark.parametrize(("done", "amount"), [
    # VAT Act 1994, section 69: a daily rate of GBP 5, at most 100 days, at least GBP 50; the
    # island's penalty is made like it. Days late: 10, 11, 150; and 1, for the least amount.
    ("2026-03-25", 50), ("2026-03-26", 55), ("2026-08-12", 500), ("2026-03-16", 50),
])
def test_a_daily_penalty_has_a_least_and_a_most(done: str, amount: int) -> None:
    found = finding("notify-arrival", "2026-12-01", arrival__date="2026-03-01",
                    done=[{"requirement": "notify-arrival", "on": done}])
    (charge,) = found.deadline.charges
    assert charge.amount.written == f"{amount} GBP"
    assert charge.certain and not charge.grows and charge.sources == ("island-act",)


@pytest.mark.parametrize(("months", "price", "amount"), [
    # HMRC manual VCP11451: 5 % up to three months late, 10 % over three to six, 15 % over six, at
    # least GBP 50. The cases of 4 and 2 months and the least amount are its words applied.
    (4, "2000 GBP", "200"), (2, "2000 GBP", "100"), (2, "600 GBP", "50"), (3, "2000 GBP", "100"),
    (7, "2000 GBP", "300"),
])
def test_a_lateness_table(months: int, price: str, amount: str) -> None:
    due = date(2026, 6, 3)  # three months from 3 March, a Wednesday
    acted = due + relativedelta(months=months)
    found = finding("register", "2027-12-01", arrival__date="2026-03-03", purchase__price=price,
                    done=[{"requirement": "register", "on": acted.isoformat()}])
    assert found.deadline.first == due
    assert found.deadline.charges[0].amount.most == Decimal(amount)


def test_a_running_penalty_says_that_it_grows_until_its_cap() -> None:
    growing = deadline("notify-arrival", "2026-03-27", arrival__date="2026-03-01").charges[0]
    capped = deadline("notify-arrival", "2026-12-01", arrival__date="2026-03-01").charges[0]
    assert growing.grows and not capped.grows and capped.amount.most == 500


def test_the_json_says_all_of_it() -> None:
    case = regkit.read_case({"jurisdiction": "QA", "facts": {
        "vehicle.first_registered_here": "never", "arrival.date": "2026-03-01"}}, ISLAND)
    document = regkit.assess(case, ISLAND, date(2026, 3, 27)).to_dict()
    found = next(f for f in document["findings"] if f["requirement"] == "notify-arrival")
    assert found["progress"] == "overdue"
    assert found["deadline"]["act_by"] == "2026-03-15"
    assert found["deadline"]["overdue_since"] == "2026-03-16"
    assert found["deadline"]["charges"][0]["most"] == "60"
    assert "island-act" in document["sources"]
