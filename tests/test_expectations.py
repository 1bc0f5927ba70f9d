"""What a worked example may expect: each kind of answer, on rules small enough to see oneself."""

from __future__ import annotations

from pathlib import Path

import pytest

from regkit.judge.law import law_on
from regkit.keep.asked import found
from regkit.keep.comes_to import Piecewise
from regkit.keep.examples import answers, example_case, expected
from regkit.read.problems import Unreadable
from tests.listed_carts import carts, example
from tests.rulesets_under_test import NAMES, ruleset

UNSTATED = """
days: {title: D, day of event: not counted, rest day: not stated, sources: [act]}
"""


def outcomes(folder: Path, expect: str, facts: str, more: str = "") -> list[tuple[str, str]]:
    """Return what one example expects and what came out, answer by answer."""
    rules = carts(folder, example(expect, facts, more), counting=UNSTATED)
    return [(answer.expected, answer.found) for answer in answers(rules.examples["it"], rules)]


PAPERS = "papers: {list-it: {bill: needed, photo: one of several, sketch: one of several, slip: "


@pytest.mark.parametrize(("red", "slip"), [
    ("thing.kind: cart, thing.red: yes", "needed"),
    ("thing.kind: cart, thing.red: no", "not needed"),
    ("thing.kind: cart", "undecided"),
])
def test_papers_are_needed_as_the_facts_have_it(red: str, slip: str, tmp_path: Path) -> None:
    """A bill always, a photo or a sketch, a slip for what is red."""
    found_ = outcomes(tmp_path, f"{PAPERS}{slip}}}}}", red)

    assert [came for _, came in found_] == ["needed", "one of several", "one of several", slip]


@pytest.mark.parametrize(("kind", "bill"), [
    ("thing.kind: sledge", "not needed"), ("thing.red: yes", "undecided")])
def test_what_is_not_required_needs_no_papers(kind: str, bill: str, tmp_path: Path) -> None:
    """And while it is not settled that it is required, no more are its papers."""
    assert outcomes(tmp_path, f"papers: {{list-it: {{bill: {bill}}}}}", kind) == [(bill, bill)]


@pytest.mark.parametrize(("dated", "state"), [
    ("2026-01-19", "not in order"), ("2026-01-20", "in order"), ("2026-01-21", "in order")])
def test_a_paper_that_is_held_is_in_order_while_it_is_fresh(
    dated: str, state: str, tmp_path: Path
) -> None:
    """Three months: one of 20 January still serves on 20 April, one of the day before does not."""
    held = f", papers: [{{evidence: slip, dated: {dated}}}]"

    assert outcomes(tmp_path, f"papers: {{list-it: {{slip: {state}}}}}",
                    "thing.kind: cart, thing.red: yes", held) == [(state, state)]


@pytest.mark.parametrize("last", ["2026-04-12", "2026-04-12 to 2026-04-13"])
def test_a_window_ends_on_a_day_or_by_every_reading(last: str, tmp_path: Path) -> None:
    """12 April 2026 is a Sunday, and no rule says whether it moves the end."""
    told = "thing.kind: cart, thing.made: 1950-01-01, thing.sold: 2026-04-02"

    assert outcomes(tmp_path, f"windows: {{list-it: {last}}}", told) == [(last, last)]


@pytest.mark.parametrize(("period", "end"), [
    ("10 days from 2026-04-02", "2026-04-12 to 2026-04-13"),
    ("1 month from 2026-01-31", "2026-02-28 to 2026-03-02"),
    ("3 working days from 2026-04-02", "2026-04-07"),
])
def test_a_rule_of_counting_may_be_asked_by_itself(period: str, end: str, tmp_path: Path) -> None:
    """Without a requirement that uses it; 28 February 2026 is a Saturday."""
    assert outcomes(tmp_path, f"periods: {{days: {{{period}: {end}}}}}", "") == [(end, end)]


@pytest.mark.parametrize(("red", "open_"), [
    ("thing.red: yes", "yes"), ("thing.red: no", "no"), ("", "undecided")])
def test_a_route_is_open_or_not(red: str, open_: str, tmp_path: Path) -> None:
    """By sea goes what is red."""
    assert outcomes(tmp_path, f"routes: {{by-sea: {open_}}}", red) == [(open_, open_)]


@pytest.mark.parametrize(("made", "shown"), [
    ("1959-12-31", "no"), ("1960-01-01", "yes"), ("1960-12-31", "yes"), ("1961-01-01", "no")])
def test_another_reading_is_shown_of_a_definition_too(
    made: str, shown: str, tmp_path: Path
) -> None:
    """Where the leaflet would have it otherwise, and only there."""
    assert outcomes(tmp_path, f"cautions: {{old: {shown}}}", f"thing.made: {made}") == [
        (shown, shown)]


@pytest.mark.parametrize(("expect", "problem"), [
    ("papers: {list-it: {bil: needed}}", "there is no evidence `bil` (did you mean `bill`?)"),
    ("papers: {list: {bill: needed}}", "there is no requirement `list`"),
    ("routes: {by-see: yes}", "there is no route `by-see` (did you mean `by-sea`?)"),
    ("cautions: {olb: yes}", "there is no requirement or definition `olb`"),
    ("periods: {days: {10 days from 2026-02-30: 2026-03-12}}", "names a day that does not exist"),
    ("papers: {list-it: {bill: neded}}", "must be one of needed"),
])
def test_what_names_nothing_is_refused(expect: str, problem: str, tmp_path: Path) -> None:
    """With the name that was probably meant."""
    with pytest.raises(Unreadable) as wrong:
        outcomes(tmp_path, expect, "")

    assert problem in str(wrong.value)


@pytest.mark.parametrize("name", NAMES)
def test_answers_worked_out_one_by_one_are_those_of_the_assessment(name: str) -> None:
    """Mutants are tried answer by answer; every answer of every shipped example comes out alike."""
    rules = ruleset(name)
    for worked in rules.examples.values():
        pieces = Piecewise(law_on(rules, worked.on), example_case(worked, rules))
        one_by_one = [found(pieces, asked) for _, asked in expected(worked, rules)]
        assert one_by_one == [answer.found for answer in answers(worked, rules)], worked.id
