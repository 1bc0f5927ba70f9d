"""How long a paper is good, and with it what it shows is done: everywhere that this is told.

What the periods mean is tried by tests/conformance/papers.json; here, what comes of it.
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

import regkit
from regkit.compare.ahead import ahead
from regkit.compare.candidates import candidate_days
from regkit.compare.reach import Reach
from regkit.compare.state import state_on
from regkit.follow import CaseOpened, DayPassed, Follower, Notice, StepDone
from regkit.judge.freshness import last_good_day, oldest_good
from regkit.keep.mutants import mutants
from regkit.keep.mutation import score
from regkit.keep.telling import Telling
from regkit.keep.to_complete import for_survivor
from regkit.keep.trials import trials
from regkit.language import speaker
from regkit.model.calendar import LeapDay, Period
from regkit.model.case import Case
from regkit.model.packet import FaultKind, NeedState
from regkit.model.ruleset import Ruleset
from regkit.read.problems import Unreadable
from regkit.show.deadline_text import say_met
from tests.small_ruleset import write

FILES = {
    "definitions": """
old: {title: Old, when: {thing.made: {before: 1960-01-01}}, sources: [act]}
""",
    "evidence": """
report:
  title: Report
  no older than:
    - {period: 12 calendar months, when: {holds: old}}
    - {period: 2 years, when: {thing.red: yes}}
  sources: [act]
""",
    "requirements": """
test-it: {title: Test it, why: W., stage: first, authority: office, when: {thing.kind: cart},
          gives: [report], sources: [act]}
list-it: {title: List it, why: W., stage: first, authority: office, when: {thing.kind: cart},
          needs: [report], sources: [act]}
""",
}
OLD, RED = {"thing.made": "1950"}, {"thing.made": "1970", "thing.red": "yes"}
TESTED = "2024-05-10"
OLD_LAST, RED_LAST = date(2025, 5, 31), date(2026, 5, 10)
ONE_DAY = timedelta(days=1)


def rules(folder: Path, examples: str = "", **files: str) -> Ruleset:
    return regkit.load(write(folder, **{**FILES, **files, "examples": examples or None}))


def case(ruleset: Ruleset, facts: dict[str, str], *, done: bool = False, **paper: str) -> Case:
    """Return the case of a cart, tested by the list of what is done or by the report it holds."""
    how: dict[str, Any] = {"done": [{"requirement": "test-it", "on": TESTED}]} if done else {
        "papers": [{"evidence": "report", "dated": TESTED, **paper}]}
    return regkit.read_case(
        {"jurisdiction": "QA", "facts": {"thing.kind": "cart", **facts}, **how}, ruleset)


# ---------------------------------------------------------------- the day itself


@pytest.mark.parametrize("period", [
    Period(3, "months"), Period(90, "days"), Period(2, "weeks"), Period(1, "years"),
    Period(12, "calendar months"), Period(1, "calendar years")])
@pytest.mark.parametrize("leap_day", ["1 March", "28 February"])
def test_the_oldest_that_is_good_is_good_and_none_before_it(
    period: Period, leap_day: LeapDay
) -> None:
    """Every day of two years, one a leap year: back from a day is forth to it."""
    for at in range(731):
        on = date(2024, 1, 1) + timedelta(days=at)
        oldest = oldest_good(on, period, leap_day)

        assert last_good_day(oldest, period, leap_day) >= on
        assert last_good_day(oldest - ONE_DAY, period, leap_day) < on


def test_a_period_that_leaves_the_calendar_is_never_over() -> None:
    assert last_good_day(date(9990, 1, 1), Period(20, "years"), "1 March") == date.max
    assert last_good_day(date(9990, 1, 1), Period(20, "calendar years"), "1 March") == date.max


# ---------------------------------------------------------------- what is done


@pytest.mark.parametrize("done", [True, False])
@pytest.mark.parametrize(("facts", "last"), [(OLD, OLD_LAST), (RED, RED_LAST), ({}, OLD_LAST)])
def test_a_duty_is_done_to_the_last_good_day_and_says_so(
    facts: dict[str, str], last: date, done: bool, tmp_path: Path
) -> None:
    """By step or by paper; while the age is open, by the shorter period."""
    ruleset = rules(tmp_path)
    told = case(ruleset, facts, done=done)
    on_it, after = (regkit.assess(told, ruleset, day).finding("test-it")
                    for day in (last, last + ONE_DAY))

    assert on_it.progress.finished and on_it.met is not None
    assert on_it.met.until == last
    assert f"it counts until {last.day} May {last.year}" in speaker().say(
        say_met(on_it.met, ruleset))
    assert not after.progress.finished and after.met is None


def test_the_report_that_is_good_the_longest_counts(tmp_path: Path) -> None:
    """A new one beside the old; the order in which they are told makes no difference."""
    ruleset = rules(tmp_path)
    papers = [{"evidence": "report", "dated": dated} for dated in (TESTED, "2025-05-31")]
    for told in (papers, papers[::-1]):
        met = regkit.assess(regkit.read_case(
            {"jurisdiction": "QA", "facts": {"thing.kind": "cart", **OLD}, "papers": told},
            ruleset), ruleset, OLD_LAST).finding("test-it").met

        assert met is not None and met.until == date(2026, 5, 31)


@pytest.mark.parametrize("facts", [OLD, RED, {}, {"thing.made": "1959/1960"}])
def test_ahead_names_the_day_after_the_last(facts: dict[str, str], tmp_path: Path) -> None:
    """And no day is missed: held against assessing every day."""
    ruleset = rules(tmp_path)
    told, start, end = case(ruleset, facts), date(2025, 4, 1), date(2026, 8, 1)
    days = [start + timedelta(days=at) for at in range((end - start).days + 1)]
    answers = [state_on(told, ruleset, day).answers for day in days]
    changed = {day for day, before, after in zip(days[1:], answers, answers[1:], strict=False)
               if before != after}

    assert changed and changed <= set(candidate_days(told, ruleset, start, end))
    found = [change for change in ahead(told, ruleset, start, end).changes
             if change.kind == "progress"]
    assert {change.on for change in found} == changed
    assert [speaker().say(change.why) for change in found] == [
        f"what showed it counted until {speaker().say(day - ONE_DAY)}" for day in sorted(changed)]


def test_follow_tells_before_and_after_it_has_run_out(tmp_path: Path) -> None:
    folder = write(tmp_path, **FILES)
    heard: list[Notice] = []
    follower = Follower(tmp_path / "cases.journal", heard.append)
    facts = {"thing.kind": "cart", **OLD}
    follower.take(CaseOpened("cart", {"jurisdiction": "QA", "facts": facts}, str(folder)))
    follower.take(DayPassed("2024-05-09"))
    follower.take(StepDone("cart", "test-it", "2024-05-10"))
    for day in ("2024-05-11", "2025-05-23", "2025-05-24", "2025-05-31", "2025-06-01", "2025-06-02"):
        follower.take(DayPassed(day))
        if day == "2025-05-23":
            assert not any("due" in notice.kind for notice in heard)
    follower.close()

    assert [(notice.kind, notice.about, notice.says) for notice in heard
            if "due" in notice.kind] == [
        ("due soon", "test-it", "2025-05-31"), ("overdue", "test-it", "2025-05-31")]


# ---------------------------------------------------------------- where it is needed


@pytest.mark.parametrize(("facts", "sent", "kinds"), [
    (OLD, "2025-05-31", []), (OLD, "2025-06-01", [FaultKind.STALE]),
    (RED, "2026-05-10", []), (RED, "2026-05-11", [FaultKind.STALE]),
    ({}, "2025-05-31", []), ({}, "2025-06-01", [FaultKind.PERHAPS_STALE]),
    # That no period counts is possible too: neither old nor red.
    ({}, "2026-05-11", [FaultKind.PERHAPS_STALE]),
    ({"thing.red": "yes"}, "2026-05-10", [FaultKind.PERHAPS_STALE]),
    ({"thing.red": "yes"}, "2026-05-11", [FaultKind.STALE]),
])
@pytest.mark.parametrize("done", [True, False])
def test_what_a_step_gave_is_as_old_as_the_step(
    facts: dict[str, str], sent: str, kinds: list[FaultKind], done: bool, tmp_path: Path
) -> None:
    ruleset, on = rules(tmp_path), date.fromisoformat(sent)
    found = regkit.assess(case(ruleset, facts, done=done), ruleset, on).packet("list-it", on)
    (need,) = found.needs

    assert [fault.kind for offer in need.offered for fault in offer.faults] == kinds
    assert (need.state == NeedState.IN_ORDER) == (not kinds)


# ---------------------------------------------------------------- for those who keep rules


def expecting(facts: str, outcome: str, on: str) -> str:
    return (f"it: {{title: T, on: {on}, facts: {{thing.kind: cart, {facts}}}, "
            f"papers: [{{evidence: report, dated: {TESTED}}}], "
            f"expect: {{done: {{test-it: {outcome}}}}}, basis: derived, sources: [act]}}\n")


OF_THE_AGE = "no older than 12 calendar months: 'Old' turned round"


@pytest.mark.parametrize(("facts", "outcome", "on", "noticed"), [
    ("thing.made: 1950", "yes", "2025-05-31", {"no older than 12 calendar months 1 less"}),
    ("thing.made: 1950", "no", "2025-06-01", {
        "no older than 12 calendar months 1 more", OF_THE_AGE}),
    ("thing.made: 1970, thing.red: yes", "yes", "2026-05-10", {
        "no older than 2 years 1 less", OF_THE_AGE}),
    ("thing.made: 1970, thing.red: yes", "no", "2026-05-11", {
        "no older than 2 years 1 more", "no older than 2 years: 'red is yes' turned round"}),
])
def test_an_example_notices_a_mistake_in_how_old_a_paper_may_be(
    facts: str, outcome: str, on: str, noticed: set[str], tmp_path: Path
) -> None:
    ruleset = rules(tmp_path, expecting(facts, outcome, on))
    (trial,) = trials(ruleset)

    assert {mutant.mistake.says for mutant in mutants(ruleset)
            if mutant.kind == "evidence" and trial.notices(mutant)} == noticed


def test_each_mistake_has_a_case_that_tells(tmp_path: Path) -> None:
    """The paper dated so that it shows, and the requirement that gives or needs it."""
    ruleset = rules(tmp_path)
    survivors = [survivor for survivor in score(ruleset, date(2026, 12, 1)).survivors
                 if survivor.mutant.kind == "evidence"]

    assert len(survivors) == 6
    for survivor in survivors:
        text = for_survivor(survivor, ruleset)
        assert text is not None and "done: {test-it: }" in text, survivor.mutant.name
        assert "papers: [{evidence: report, dated: " in text, survivor.mutant.name


def test_a_period_that_nothing_reaches_is_the_same_rule(tmp_path: Path) -> None:
    """All that is old has been taken by the first period, so the second may say what it likes."""
    ruleset = rules(tmp_path, evidence=FILES["evidence"].replace(
        "{thing.red: yes}", "{all: [{holds: old}, {thing.red: yes}]}"))
    telling = Telling(ruleset, date(2026, 12, 1))

    assert {mutant.mistake.says for mutant in mutants(ruleset)
            if mutant.kind == "evidence" and telling.apart(mutant) is None} >= {
        "no older than 2 years: 'red is yes' turned round"}


def test_a_condition_that_names_what_is_not_there_is_found(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="there is no definition `olf`"):
        rules(tmp_path, evidence=FILES["evidence"].replace("holds: old", "holds: olf"))


def test_a_definition_that_only_a_period_names_is_used(tmp_path: Path) -> None:
    assert not Reach(rules(tmp_path), date(2026, 12, 1)).never_matters("old")
