"""Following open cases: events, notices, and the same state from the same journal.

The journal itself, killed at any point, is tried in test_journal.py; alarms in test_alarms.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

import regkit
from regkit.commands import main
from regkit.follow import (
    CaseOpened,
    DayPassed,
    Event,
    FactLearnt,
    Follower,
    Notice,
    PaperReceived,
    StepDone,
)
from regkit.follow.alarms import DurableAlarms
from regkit.follow.events import read, written
from tests.rulesets_under_test import INVENTED

BELLMARK = CaseOpened("bellmark", {"jurisdiction": "GB", "facts": {
    "vehicle.kind": "motorcycle", "vehicle.place": "abroad", "vehicle.built": 1986,
    "vehicle.engine_capacity": "247 cc", "vehicle.propulsion": "petrol",
    "vehicle.first_registered_here": "never", "arrival.from": "FR", "arrival.purpose": "stay",
    "arrival.date": "2026-03-01", "customs.entry_accepted": "2026-03-02"}})


ZEDDA = {"jurisdiction": "ZZ", "facts": {"vehicle.built": "1960", "arrival.date": "2026-11-18"}}


@pytest.fixture
def heard() -> list[Notice]:
    return []


@pytest.fixture
def follower(tmp_path: Path, heard: list[Notice]) -> Iterator[Follower]:
    found = Follower(tmp_path / "cases.journal", heard.append)
    yield found
    found.close()


def said(heard: list[Notice]) -> list[str]:
    return [str(notice) for notice in heard]


# ------------------------------------------------------------------ notices


def test_a_window_is_due_soon_once_and_overdue_once(
    follower: Follower, heard: list[Notice]
) -> None:
    follower.take(BELLMARK)
    for day in ("2026-03-08", "2026-03-09", "2026-03-10", "2026-03-16", "2026-03-17", "2026-03-18"):
        follower.take(DayPassed(day))
    assert [text for text in said(heard) if "due" in text] == [
        "bellmark: due soon: notify-arrival, 2026-03-16",
        "bellmark: overdue: notify-arrival, 2026-03-16",
    ]
    assert [notice.cause for notice in heard if notice.kind == "overdue"] != []


def test_days_that_nobody_told_of_are_made_up_for(follower: Follower, heard: list[Notice]) -> None:
    follower.take(BELLMARK)
    follower.take(DayPassed("2026-03-01"))
    follower.take(DayPassed("2026-06-01"))
    assert "bellmark: overdue: notify-arrival, 2026-03-16" in said(heard)
    assert not any(notice.kind == "due soon" for notice in heard)


def test_what_is_done_in_time_is_never_due(follower: Follower, heard: list[Notice]) -> None:
    follower.take(DayPassed("2026-03-03"))
    follower.take(BELLMARK)
    follower.take(StepDone("bellmark", "notify-arrival", "2026-03-03", "N-1"))
    follower.take(DayPassed("2026-05-01"))
    assert not any(notice.about == "notify-arrival" and "due" in notice.kind for notice in heard)


def test_a_paper_makes_a_step_possible(follower: Follower, heard: list[Notice]) -> None:
    follower.take(DayPassed("2026-03-03"))
    follower.take(BELLMARK)
    follower.take(PaperReceived("bellmark", {"evidence": "maker-extract"}))
    assert "bellmark: now possible: date-the-vehicle" in said(heard)


def test_a_fact_changes_answers(follower: Follower, heard: list[Notice]) -> None:
    follower.take(DayPassed("2026-03-03"))
    follower.take(BELLMARK)
    follower.take(FactLearnt("bellmark", "vehicle.engine_capacity", "48 cc"))
    assert "bellmark: answer changed: notify-arrival, not required" in said(heard)


def test_a_day_changes_answers_by_itself(follower: Follower, heard: list[Notice]) -> None:
    follower.take(BELLMARK)
    follower.take(DayPassed("2027-03-31"))
    heard.clear()
    follower.take(DayPassed("2027-04-01"))
    assert "bellmark: answer changed: exempt-from-vehicle-tax-by-age, yes" in said(heard)


@pytest.mark.parametrize(("event", "wrong"), [
    (FactLearnt("nobody", "vehicle.built", 1962), "`nobody` is not open"),
    (FactLearnt("bellmark", "vehicle.biult", 1962), "did you mean `vehicle.built`"),
    (StepDone("bellmark", "notify-arrivals", "2026-03-03"), "did you mean `notify-arrival`"),
    (DayPassed("2026-02-01"), "lies before 2026-03-03"),
    (DayPassed("tomorrow"), "is no day; write for example"),
    (BELLMARK, "open already"),
])
def test_an_event_that_makes_no_sense_is_refused_and_not_written(
    follower: Follower, event: Event, wrong: str
) -> None:
    follower.take(DayPassed("2026-03-03"))
    follower.take(BELLMARK)
    before = follower.journal.path.read_bytes()
    with pytest.raises(ValueError, match=wrong):
        follower.take(event)
    assert follower.journal.path.read_bytes() == before


# ------------------------------------------------------------------ whose rules


def test_a_case_is_followed_by_the_ruleset_it_was_opened_with(
    tmp_path: Path, follower: Follower, heard: list[Notice]
) -> None:
    """ZZ is not shipped; the journal says where its ruleset is, and a new follower reads it again.

    Beside it stands a case of a shipped ruleset.
    """
    follower.take(CaseOpened("zedda", ZEDDA, str(INVENTED / "zz")))
    follower.take(BELLMARK)
    follower.take(DayPassed("2026-11-25"))
    assert "zedda: due soon: report-to-the-port, 2026-12-02" in said(heard)
    state = follower.state()
    follower.close()
    second = Follower(tmp_path / "cases.journal", heard.append)
    assert second.state() == state
    second.take(DayPassed("2026-12-03"))
    second.close()
    assert "zedda: overdue: report-to-the-port, 2026-12-02" in said(heard)


def test_a_case_is_followed_by_a_released_version(follower: Follower) -> None:
    follower.take(CaseOpened("bellmark", BELLMARK.data, "GB@2026.1"))
    assert follower.cases["bellmark"].ruleset.version == "2026.1"


def test_a_case_opened_before_rulesets_were_named_goes_by_the_shipped_one() -> None:
    """A journal of an earlier version has no `ruleset` in the event that opens a case."""
    assert read({"event": "CaseOpened", "case": "bellmark", "data": {}}) == CaseOpened(
        "bellmark", {}, "")


@pytest.mark.parametrize(("rules", "wrong"), [
    ("/nowhere/zz", "/nowhere/zz"), ("GB@1999.1", "no such version"), ("", "ZZ")])
def test_a_ruleset_that_is_not_there_is_refused_and_nothing_is_written(
    follower: Follower, rules: str, wrong: str
) -> None:
    before = follower.journal.path.read_bytes()
    with pytest.raises(regkit.Unreadable, match=wrong):
        follower.take(CaseOpened("zedda", ZEDDA, rules))
    assert follower.journal.path.read_bytes() == before


# ------------------------------------------------------------------ crashes


def test_the_same_journal_comes_to_the_same_state_and_tells_nothing_twice(
    tmp_path: Path, follower: Follower, heard: list[Notice]
) -> None:
    follower.take(BELLMARK)
    follower.take(DayPassed("2026-03-10"))
    follower.take(PaperReceived("bellmark", {"evidence": "maker-extract"}))
    state = follower.state()
    follower.close()
    again: list[Notice] = []
    second = Follower(tmp_path / "cases.journal", again.append)
    assert (second.state(), again) == (state, [])
    second.close()


def test_a_notice_that_was_not_taken_is_given_again_under_the_same_name(tmp_path: Path) -> None:
    tried: list[str] = []

    def failing(notice: Notice) -> None:
        tried.append(notice.name)
        raise RuntimeError("the mail server is down")

    first = Follower(tmp_path / "j", failing)
    first.take(BELLMARK)
    with pytest.raises(RuntimeError):
        first.take(DayPassed("2026-03-10"))
    first.close()
    heard: list[Notice] = []
    second = Follower(tmp_path / "j", heard.append)
    second.close()
    assert [notice.name for notice in heard] == tried


def test_an_event_sent_again_is_taken_once(follower: Follower) -> None:
    assert follower.take(BELLMARK, "from the web form, 17")
    assert not follower.take(BELLMARK, "from the web form, 17")
    assert follower.take(DayPassed("2026-03-03"), "d1")
    assert not follower.take(DayPassed("2026-03-03"), "d1")


events = st.one_of(
    st.builds(FactLearnt, st.just("bellmark"), st.just("vehicle.engine_capacity"),
              st.sampled_from(["48 cc", "247 cc"])),
    st.builds(PaperReceived, st.just("bellmark"),
              st.fixed_dictionaries({"evidence": st.sampled_from(
                  ["maker-extract", "purchase-invoice"])})),
    st.builds(StepDone, st.just("bellmark"), st.just("notify-arrival"), st.just("2026-03-09")),
    st.dates(date(2026, 3, 1), date(2026, 4, 30)).map(lambda day: DayPassed(day.isoformat())),
)


@settings(max_examples=12, deadline=None)
@given(st.lists(events, max_size=6))
def test_replaying_any_events_comes_to_the_same_state(drawn: list[Event]) -> None:
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as folder:
        path, heard = Path(folder) / "j", []
        first = Follower(path, heard.append)
        first.take(BELLMARK)
        for event in drawn:
            try:
                first.take(event)
            except ValueError:
                assert isinstance(event, DayPassed)
        state = first.state()
        first.close()
        second = Follower(path, heard.append, DurableAlarms())
        assert second.state() == state
        assert len({notice.name for notice in heard}) == len(heard)
        second.close()


@given(events)
def test_an_event_is_the_same_once_written_and_read(event: Event) -> None:
    assert read(written(event)) == event


# ------------------------------------------------------------------ as everybody


def test_the_command_line_follows_too(tmp_path: Path) -> None:
    case, journal = tmp_path / "case.yaml", str(tmp_path / "j")
    case.write_text("jurisdiction: GB\nfacts: {vehicle.place: abroad, vehicle.kind: motorcycle, "
                    "vehicle.engine_capacity: 247 cc, vehicle.first_registered_here: never, "
                    "arrival.from: FR, arrival.purpose: stay, arrival.date: 2026-03-01}\n")

    def regkit_follow(*words: str) -> str:
        result = CliRunner().invoke(main, ["follow", *words])
        assert result.exit_code == 0, result.output
        return result.output

    assert regkit_follow("open", journal, "mine", str(case)) == ""
    assert "mine: due soon: notify-arrival, 2026-03-15" in regkit_follow("day", journal,
                                                                         "2026-03-10")
    regkit_follow("done", journal, "mine", "notify-arrival", "2026-03-11", "--reference", "N-1")
    assert "notify-arrival" not in regkit_follow("day", journal, "2026-03-30")


def test_following_asks_the_same_engine_as_everybody(follower: Follower) -> None:
    follower.take(BELLMARK)
    follower.take(DayPassed("2026-03-10"))
    case = regkit.read_case(follower.state()["cases"]["bellmark"])
    found = regkit.assess(case, regkit.load("GB"), date(2026, 3, 10))
    assert follower.cases["bellmark"].answers.items() >= {
        name: verdict.value for name, verdict in found.verdicts.items()}.items()
