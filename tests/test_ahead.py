"""Dates ahead: every day on which an answer changes by itself, held against trying every day."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import regkit
from regkit.compare.ahead import ahead, first_day_not_required
from regkit.compare.candidates import candidate_days
from regkit.compare.moving import bounds, crossing_days, passing_days
from regkit.compare.state import state_on
from regkit.conditions import Test
from regkit.language import speaker
from regkit.model.ahead import Ahead
from regkit.model.ahead_document import ahead_document
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from regkit.show.ahead_text import ahead_lines

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
GB = regkit.load("GB")
START = date(2026, 3, 10)


def case(facts: dict[str, Any], ruleset: Ruleset = ISLAND, **more: Any) -> Case:
    return regkit.read_case({"jurisdiction": ruleset.jurisdiction, "facts": facts, **more}, ruleset)


def told(found: Ahead, kind: str) -> list[tuple[str, str, str]]:
    say = speaker().say
    return [(str(change.on), change.id, say(change.after))
            for change in found.changes if change.kind == kind]


def days_of_change_one_by_one(found: Case, ruleset: Ruleset, on: date, until: date) -> set[date]:
    """The plain way: assess every day and see whether anything is another answer."""
    changed, before = set(), state_on(found, ruleset, on).answers
    for at in range(1, (until - on).days + 1):
        day = on + timedelta(days=at)
        answers = state_on(found, ruleset, day).answers
        if answers != before:
            changed.add(day)
        before = answers
    return changed


def days_of_change(found: Case, ruleset: Ruleset, on: date, until: date) -> set[date]:
    changed, before = set(), state_on(found, ruleset, on).answers
    for day in candidate_days(found, ruleset, on, until):
        answers = state_on(found, ruleset, day).answers
        if answers != before:
            changed.add(day)
        before = answers
    return changed


dates = st.one_of(
    st.dates(date(1978, 1, 1), date(2028, 1, 1)).map(str),
    st.integers(1978, 2028).map(str),
    st.integers(1978, 2027).map(lambda year: f"{year}/{year + 1}"),
    st.sampled_from(["1985/..", "../1999", "unknown", "never"]),
)
facts = st.fixed_dictionaries({}, optional={
    "vehicle.built": dates, "arrival.date": dates, "change.engine": dates, "purchase.date": dates,
    "change.address": dates, "vehicle.first_registered_here": st.just("never"),
    "qa.engine_as_recorded": st.sampled_from(["yes", "no"]),
    "purchase.price": st.just("900 GBP"),
})
starts = st.dates(date(2024, 1, 1), date(2032, 1, 1))


@settings(max_examples=15, deadline=None)
@given(facts, starts, st.integers(1, 500))
def test_trying_every_day_finds_the_same_days(
    told_facts: dict[str, Any], on: date, length: int
) -> None:
    found, until = case(told_facts), on + timedelta(days=length)
    assert days_of_change(found, ISLAND, on, until) == (
        days_of_change_one_by_one(found, ISLAND, on, until))


@pytest.mark.parametrize("told_facts", [
    {},
    {"vehicle.built": "1990/2010"},
    {"arrival.date": "2020/2029", "purchase.date": "2020/2029"},
    {"arrival.date": "2020/..", "purchase.date": "2020/..", "vehicle.built": "1980/.."},
])
def test_answers_settled_either_way_change_on_the_same_days(told_facts: dict[str, str]) -> None:
    found, until = case(told_facts), START + timedelta(days=800)
    one_by_one = days_of_change_one_by_one(found, ISLAND, START, until)
    assert days_of_change(found, ISLAND, START, until) == one_by_one
    assert one_by_one


@pytest.mark.parametrize(("told_facts", "on"), [
    ({"vehicle.kind": "motorcycle", "vehicle.built": "1986/1987", "vehicle.place": "abroad",
      "vehicle.first_registered_here": "never", "arrival.date": "2026-03-10"}, date(2026, 3, 1)),
    ({"vehicle.kind": "car", "vehicle.place": "found_here"}, date(2013, 9, 1)),
])
def test_trying_every_day_of_british_law_finds_the_same_days(
    told_facts: dict[str, str], on: date
) -> None:
    found, until = case(told_facts, GB), on + timedelta(days=60)
    assert days_of_change(found, GB, on, until) == (
        days_of_change_one_by_one(found, GB, on, until))


def test_far_fewer_days_are_assessed_than_there_are() -> None:
    until = date(2060, 1, 1)
    found = ahead(case({"vehicle.built": "1990"}), ISLAND, START, until)
    assert found.looked_at * 50 < (until - START).days


def test_a_class_reached_on_a_stepped_day_and_what_it_wakes() -> None:
    """The step of the tax year: Finance Act 2014, section 88 has such a cut-off, 1 January forty
    years before, moving each 1 April; the island's is made like it, with 45 years from 2030."""
    found = ahead(case({"vehicle.built": "1986-06-01"}), ISLAND, START, date(2040, 1, 1))
    assert [change for change in told(found, "class") if change[1] == "free-of-tax"] == [
        ("2027-04-01", "free-of-tax", "yes"),
        ("2030-04-01", "free-of-tax", "no"),
        ("2032-04-01", "free-of-tax", "yes"),
    ]
    woken = [c for c in found.changes if c.act == "ask-for-freedom-from-tax"]
    assert woken[0].on == date(2027, 4, 1)


def test_a_fee_changes_on_the_first_day_of_its_new_edition() -> None:
    found = ahead(case({"vehicle.first_registered_here": "never"}), ISLAND, START,
                  date(2027, 12, 31))
    assert ("2027-01-01", "registration-fee", "£60.00") in told(found, "charge")


def test_a_deadline_passes_and_its_penalty_grows_to_its_cap() -> None:
    found = ahead(case({"vehicle.first_registered_here": "never", "arrival.date": "2026-03-01"}),
                  ISLAND, START, date(2026, 12, 31))
    assert ("2026-03-16", "notify-arrival", "overdue") in told(found, "progress")
    assert told(found, "late")[0] == ("2026-03-16", "late-notice", "£50.00, growing")
    # 100 days after 15 March.
    assert ("2026-06-23", "late-notice", "£500.00") in told(found, "late")


def test_an_event_that_lies_ahead_wakes_its_duty_on_its_day() -> None:
    found = ahead(case({"change.engine": "2026-05-04"}), ISLAND, START, date(2026, 6, 1))
    assert ("2026-05-04", "notify-engine-change", "required") in told(found, "requirement")


@pytest.mark.parametrize(("kind", "answers"), [
    ("motorcycle", [("2031-01-01", "fit-a-beacon", "required")]),
    ("car", []),
])
def test_an_announced_rule_that_would_change_the_answer_may_change_it(
    kind: str, answers: list[tuple[str, str, str]]
) -> None:
    zedland = regkit.load(Path(__file__).parent / "rulesets" / "zz")
    found = ahead(case({"vehicle.kind": kind}, zedland), zedland, START, date(2035, 1, 1))
    announced = Ahead(START, found.until, tuple(c for c in found.changes if c.announced))
    assert told(announced, "requirement") == answers
    if answers:
        assert "may change from not required to required (announced)" in " ".join(
            " ".join(ahead_lines(announced, zedland)).split())


def test_from_which_day_does_it_stop_being_required() -> None:
    found = case({"vehicle.first_registered_here": "never", "vehicle.built": "1997-05-20"})
    until = date(2040, 1, 1)
    name = "obtain-approval"
    assert first_day_not_required(found, ISLAND, name, START, until) == date(2027, 5, 20)
    assert first_day_not_required(found, ISLAND, name, START, date(2027, 5, 19)) is None


@pytest.mark.parametrize("until", [date(2026, 3, 9), date(2200, 1, 1)])
def test_a_last_day_before_the_first_or_past_all_assessment_is_refused(until: date) -> None:
    with pytest.raises(ValueError, match=r"must lie from 2026-03-10 to 2199-12-31"):
        ahead(case({}), ISLAND, START, until)


# ------------------------------------------------------------------ the days themselves


every_test = sorted({
    node
    for ruleset in (ISLAND, GB)
    for history in ruleset.definitions.values() for edition in history.editions
    for node in edition.when.walk() if isinstance(node, Test)
}, key=repr)


@settings(deadline=None)
@given(st.sampled_from(every_test), st.dates(date(1950, 1, 1), date(2100, 1, 1)),
       st.integers(0, 500))
def test_no_bound_of_a_cut_ever_moves_back(test: Test, day: date, later: int) -> None:
    """What the search by halves rests on."""
    for bound in bounds(test, "1 March"):
        assert bound(day.toordinal()) <= bound(day.toordinal() + later)


steps = st.lists(st.integers(0, 3), min_size=2, max_size=60)


@given(steps, steps, st.integers(-10, 10))
def test_crossings_are_all_days_on_which_the_order_changes(
    one: list[int], other: list[int], shift: int
) -> None:
    last = min(len(one), len(other)) - 1
    first_bound, second_bound = (
        lambda day: sum(one[: day + 1]), lambda day: shift + sum(other[: day + 1]))

    def order(day: int) -> int:
        apart = first_bound(day) - second_bound(day)
        return (apart > 0) - (apart < 0)

    expected = {day for day in range(1, last + 1) if order(day) != order(day - 1)}
    found = list(crossing_days(first_bound, second_bound, 0, last))
    assert expected <= set(found) and len(found) == len(set(found))


@given(steps, st.lists(st.integers(-2, 90), max_size=4))
def test_passing_days_are_all_days_on_which_a_bound_passes_a_value(
    one: list[int], values: list[int]
) -> None:
    def bound(day: int) -> int:
        return sum(one[: day + 1])

    last = len(one) - 1
    expected = {day for day in range(1, last + 1) for value in values
                if bound(day - 1) <= value < bound(day)}
    assert set(passing_days(bound, values, 0, last)) == expected


# ------------------------------------------------------------------ in words and as data


def test_the_text_names_day_answer_and_reason() -> None:
    found = ahead(case({"vehicle.built": "1986-06-01"}), ISLAND, START, date(2028, 1, 1))
    text = "\n".join(ahead_lines(found, ISLAND))
    assert "1 April 2027\n  - Free of vehicle tax: yes (before: no)" in text
    assert "before 1 January 1987, the date that counts from 1 April 2027" in " ".join(text.split())
    assert "nothing of it happens by itself" in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_json_fits_its_published_schema() -> None:
    root = Path(__file__).parent.parent
    schema = json.loads((root / "schemas" / "ahead.schema.json").read_text("utf-8"))
    found = ahead(case({"vehicle.first_registered_here": "never", "arrival.date": "2026-03-01"}),
                  ISLAND, START, date(2027, 1, 1))
    Draft202012Validator(schema).validate(ahead_document(found, ISLAND))
