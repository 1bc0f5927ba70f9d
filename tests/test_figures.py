"""Figures of a charge: read, refused, reckoned and said; shares and steps against fractions."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import regkit
from regkit.judge.amounts import bounded, divided, less, times
from regkit.judge.counted import times_counted
from regkit.language import speaker
from regkit.model.bill import Line
from regkit.model.figure import ForEach
from regkit.model.season import MONTHS, days_in, moved_into
from regkit.show.rule_words import charge_details
from tests import small_ruleset

WORDS = ", ".join(f"{month}: x" for month in MONTHS)
SEASON = f"type: choice, group: thing, question: Which month?, values: {{{WORDS}}}"
FACTS = f"""\
thing.begins: {{{SEASON}}}
thing.ends: {{{SEASON}}}
thing.odd_months: {{type: choice, group: thing, question: Which?, values: {{may: x, april: x}}}}
"""
REQUIREMENTS = """\
pay-it:
  title: Pay it
  why: So it is.
  stage: first
  authority: office
  charges: [toll]
  sources: [act]
"""


def loaded(folder: Path, charges: str, languages: str = "[en]") -> Any:
    """Return the small ruleset with charges of its own, `toll` among them."""
    head = small_ruleset.HEAD.replace("[en]", languages)
    (folder / "common").mkdir(exist_ok=True)
    return regkit.load(small_ruleset.write(
        folder, ruleset=head, facts=FACTS, charges=charges, requirements=REQUIREMENTS))


def line(ruleset: Any, **facts: str) -> Line:
    """Return the line of the charge `toll` on the bill of a case."""
    told = {f"thing.{name}": value for name, value in facts.items()}
    case = regkit.read_case({"jurisdiction": "QA", "facts": told}, ruleset)
    found = regkit.assess(case, ruleset, date(2026, 4, 1)).bills[0].line("toll")
    assert found is not None
    return found


def toll(*lines: str) -> str:
    return "\n".join(["toll:", "  title: Toll", *(f"  {one}" for one in lines),
                      "  sources: [act]", ""])


STEPS = toll("amount: 1.84 XTS", "for each: started 25 kg", "in: thing.weight", "at most: 50 XTS")


@pytest.mark.parametrize(("language", "said", "rule"), [
    ("en", "XTS 1.84 for each 25 kg begun of weight: 60 kg, so 3 times",
     "XTS 1.84 for each 25 kg begun of weight, at most XTS 50.00"),
    ("de", "1,84 XTS je angefangene 25 kg, weight: 60 kg, also 3-mal",
     "1,84 XTS je angefangene 25 kg, weight, höchstens 50,00 XTS"),
    ("sv", "1,84 XTS för varje påbörjade 25 kg, weight: 60 kg, alltså 3 gånger",
     "1,84 XTS för varje påbörjade 25 kg, weight, högst 50,00 XTS"),
])
def test_steps_are_said(tmp_path: Path, language: str, said: str, rule: str) -> None:
    ruleset = loaded(tmp_path, STEPS)
    (how,) = line(ruleset, weight="60 kg").how
    ((_, read),) = charge_details(ruleset.charges["toll"].latest, ruleset)

    def plain(phrase: Any) -> str:
        return speaker(language).say(phrase).replace("\xa0", " ")

    assert plain(how) == said
    assert plain(read) == rule


def test_what_is_open_is_named(tmp_path: Path) -> None:
    """A range says which fact would make it one amount."""
    found = line(loaded(tmp_path, STEPS))

    assert found.amount.written == "0 to 50 XTS"
    assert [speaker().say(need) for need in found.needs] == ["weight"]


def test_both_months_of_an_open_season_are_named(tmp_path: Path) -> None:
    ruleset = loaded(tmp_path, toll(
        "amount: 1 XTS", "for each: full 1 days", "in: [thing.begins, thing.ends]"))

    assert line(ruleset, begins="april", ends="may").amount.written == "61 XTS"
    assert line(ruleset, begins="april").amount.written == "30 to 365 XTS"
    assert len(line(ruleset).needs) == 2


@pytest.mark.parametrize(("lines", "wrong"), [
    (["amount: 1 XTS", "for each: started 25 kg"], "`for each` and `in` go together"),
    (["amount: 1 XTS", "for each: started 25 cc", "in: thing.weight"],
     "`for each` is in cc, but thing.weight counts in kg"),
    (["amount: 1 XTS", "for each: 1 kg", "in: thing.weight", "beyond: 350 cc"],
     "`beyond` is in cc, but thing.weight counts in kg"),
    (["amount: 1 XTS", "for each: 0 kg", "in: thing.weight"], "needs a step above 0"),
    (["amount: 1 XTS", "for each: 1 x", "in: thing.red"], "thing.red, which is no quantity"),
    (["amount: 1 XTS", "for each: 1 days", "in: [thing.odd_months, thing.ends]"],
     "thing.odd_months cannot name a month of a season"),
    (["amount: 1 XTS", "for each: 1 kg", "in: thing.wieght"], "there is no fact `thing.wieght`"),
    (["sum: [thing.worth]", "less: [thing.wroth]"], "there is no fact or charge `thing.wroth`"),
    (["rate: 1/365", "of: thing.worth", "payable: no"], "never ends; say how it is rounded"),
    (["lateness table: [{up to: 1 months, rate: 5 %}, {amount: 9 XTS}]", "of: [thing.worth]"],
     "rates or amounts, not both"),
    (["per day: 1 %", "of: thing.worth", "counted from: thing.maed"],
     "there is no fact `thing.maed`"),
])
def test_what_cannot_be_meant_is_refused(tmp_path: Path, lines: list[str], wrong: str) -> None:
    with pytest.raises(regkit.Unreadable) as caught:
        loaded(tmp_path, toll(*lines))
    assert wrong in str(caught.value)
    assert "qa/charges.yaml:" in str(caught.value)


def test_charges_that_are_taken_off_each_other_go_in_a_circle(tmp_path: Path) -> None:
    circle = toll("sum: [thing.worth]", "less: [rest]") + toll(
        "sum: [thing.worth]", "less: [toll]").replace("toll:", "rest:", 1)
    with pytest.raises(regkit.Unreadable, match="charges go in a circle"):
        loaded(tmp_path, circle)


# ------------------------------------------------------------------ against fractions

numbers = st.decimals(0, 10**9, places=6)


@given(numbers, st.decimals(Decimal("0.000001"), 10**4, places=6),
       st.sampled_from(["started", "full", "in proportion"]))
def test_steps_are_those_of_fractions(there: Decimal, step: Decimal, counts: Any) -> None:
    """Begun, full and in proportion, for the same quantity and step."""
    number, parts = times_counted(ForEach(step, ("x",), counts), (there, there))

    exact = Fraction(there) / Fraction(step)
    wanted = {"started": ceil(exact), "full": floor(exact), "in proportion": exact}[counts]
    assert Fraction(number[0]) / Fraction(parts) == wanted


@given(numbers, st.integers(0, 366), st.integers(1, 366))
def test_a_share_is_that_of_fractions(base: Decimal, days: int, parts: int) -> None:
    found, _ = divided(times((base, base), (Decimal(days), Decimal(days))), Decimal(parts))

    assert abs(Fraction(found) - Fraction(base) * days / parts) < Fraction(1, 10**300)


@given(st.lists(numbers, min_size=4, max_size=4))
def test_what_is_taken_off_leaves_a_range_that_holds_every_rest(drawn: list[Decimal]) -> None:
    low, high = sorted(drawn[:2])
    taken = tuple(sorted(drawn[2:]))
    least, most = less((low, high), (taken[0], taken[1]))

    assert most is not None
    for base in (low, high):
        for off in taken:
            assert least <= max(base - off, Decimal(0)) <= most


@given(numbers, numbers, numbers)
def test_bounds_hold(amount: Decimal, least: Decimal, more: Decimal) -> None:
    low, high = bounded((amount, None), least, least + more)

    assert least <= low <= least + more == high


# ------------------------------------------------------------------ seasons


@pytest.mark.parametrize(("season", "days"), [
    # KraftStG § 11(4) no 3: 29 February is not counted.
    ((4, 10), 214), ((5, 6), 61), ((11, 2), 120), ((1, 12), 365), ((2, 2), 28), ((12, 11), 365),
])
def test_a_season_has_the_days_of_its_months(season: tuple[int, int], days: int) -> None:
    assert days_in(season) == days


@given(st.dates(), st.integers(1, 12), st.integers(1, 12))
def test_a_day_moves_into_the_season_and_no_further(day: Any, first: int, last: int) -> None:
    """By less than a year, to the end of the first month; a day inside it stays."""
    if day.year == 9999:
        return
    moved = moved_into(day, (first, last))

    assert 0 <= (moved - day).days < 366 + 31
    assert moved == day or moved.month == first
    assert moved_into(moved, (first, last)) == moved
