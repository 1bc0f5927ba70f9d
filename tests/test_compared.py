"""Two quantities compared with each other: a diff of such rules, its witness, its words."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

import regkit
from regkit.compare.changes import compare
from regkit.language import speaker
from regkit.model.ruleset import Ruleset
from tests import small_ruleset

FACTS = """\
thing.load: {type: quantity, unit: kg, group: thing, question: How much does it carry?}
thing.paid: {type: money, group: thing, question: What was paid?}
"""
FIRST, LAST, TODAY = date(2026, 1, 1), date(2026, 12, 31), date(2026, 4, 1)


def loaded(folder: Path, condition: str) -> Ruleset:
    definition = f"old:\n  title: Old\n  when:\n    {condition}\n  sources: [act]\n"
    return regkit.load(small_ruleset.write(folder, facts=FACTS, definitions=definition))


@pytest.mark.parametrize(("old", "new", "least", "most"), [
    ("more than", "at least", 0, 0), ("at least", "less than", None, None),
    ("at most", "less than", 0, 0),
])
def test_a_witness_stands_where_two_comparisons_differ(
    tmp_path: Path, old: str, new: str, least: int | None, most: int | None
) -> None:
    """Its two numbers differ by as much as the difference of the rules asks."""
    one = loaded(tmp_path / "old", f"thing.load: {{{old}: thing.weight}}")
    other = loaded(tmp_path / "new", f"thing.load: {{{new}: thing.weight}}")

    effect = next(e for e in compare(one, other, FIRST, LAST, TODAY).effects if e.id == "paint-it")
    witness = next(region.witness for region in effect.regions if region.witness)
    load, weight = (Decimal(str(witness.facts[name]).split()[0])
                    for name in ("thing.load", "thing.weight"))
    assert least is None or load - weight >= least
    assert most is None or load - weight <= most


def test_the_reason_says_both_numbers(tmp_path: Path) -> None:
    rules = loaded(tmp_path, "thing.load: {more than: thing.weight}")
    case = regkit.read_case({"jurisdiction": "QA", "facts": {
        "thing.load": "120 kg", "thing.weight": "100 kg"}}, rules)
    finding = regkit.assess(case, rules, TODAY).finding("paint-it")

    assert "load 120 kg, more than weight (100 kg)" in finding.text()
    assert speaker().say(rules.definitions["old"].latest.when.rule()) == "load more than weight"


@pytest.mark.parametrize(("condition", "wrong"), [
    ("thing.load: {more than: thing.wieght}", "name another fact of the type quantity in kg"),
    ("thing.load: {more than: thing.paid}", "name another fact of the type quantity in kg"),
    ("thing.paid: {at most: thing.load}", "name another fact of the type money"),
    ("thing.made: {more than: thing.load}", "is no test of a date fact"),
])
def test_what_cannot_be_compared_is_refused(tmp_path: Path, condition: str, wrong: str) -> None:
    with pytest.raises(regkit.Unreadable) as caught:
        loaded(tmp_path, condition)
    assert wrong in str(caught.value)
