"""The same requirements through durable-rules: on fully known cases the two engines must agree.

Its condition networks, written in C by others, know nothing of our evaluator. Where they differ,
one of the two has misread a rule.
"""

from __future__ import annotations

import random
from datetime import date
from typing import Any

import pytest

import regkit
from regkit.conditions.tree import Condition
from regkit.judge.law import law_on
from regkit.model.assessment import Verdict
from regkit.model.ruleset import Ruleset
from tests.drawn_cases import DAYS, read, sample_values
from tests.rulesets_under_test import NAMES, ruleset

pytest.importorskip("durable", reason="the extra regkit[durable] is not installed")

from tests.second_engine import SecondEngine

CASES = 150


def known_case(rules: Ruleset, on: date, luck: random.Random) -> dict[str, Any]:
    """Draw a case that tells every fact exactly, and whose dates can all be true."""
    told = {fact.name: luck.choice(sample_values(rules, fact, on)) for fact in rules.asked}
    for _ in rules.vocabulary.bounded:
        for fact in rules.vocabulary.bounded:
            for later in (told.get(other, "never") for other in fact.no_later_than):
                mine = told.get(fact.name, "never")
                if fact.name in told and later != "never" and (mine == "never" or mine > later):
                    told[fact.name] = later
    return told


@pytest.mark.parametrize(
    ("name", "on"),
    [*(("ZZ", day) for day in DAYS), *((name, DAYS[-2]) for name in NAMES if name != "ZZ")],
)
def test_both_engines_agree_on_fully_known_cases(name: str, on: date) -> None:
    """Required here is required there, on every requirement, for every case drawn."""
    rules = ruleset(name)
    engine = SecondEngine(law_on(rules, on))
    luck = random.Random(on.toordinal())
    seen: dict[str, set[bool]] = {}
    for _ in range(CASES):
        told = known_case(rules, on, luck)
        case = read(rules, told)
        assert case is not None, told
        verdicts = regkit.assess(case, rules, on).verdicts
        for requirement, required in engine.required(case).items():
            expected = Verdict.REQUIRED if required else Verdict.NOT_REQUIRED
            assert verdicts[requirement] == expected, (requirement, told)
            seen.setdefault(requirement, set()).add(required)

    assert sum(len(found) == 2 for found in seen.values()) >= 2, "the draw tries too little"


def test_the_second_engine_knows_all_requirements_but_open_questions() -> None:
    """Only a requirement that rests on an open question of the law is left out."""
    rules = ruleset("ZZ")
    law = law_on(rules, date(2026, 4, 1))

    assert set(law.requirements) - set(SecondEngine(law).decides) == {"fit-a-bell"}


def test_a_wrong_rule_would_be_noticed() -> None:
    """With one requirement's condition turned into another's, the engines disagree."""
    rules, on = ruleset("ZZ"), date(2026, 4, 1)
    law = law_on(rules, on)
    swapped: dict[str, Condition | None] = {
        **law.requirements, "pass-the-test": law.requirements["report-to-the-port"]}
    engine = SecondEngine(type(law)(rules, law.day, law.definitions, swapped, law.questions))
    luck = random.Random(1)
    cases = [case for _ in range(30) if (case := read(rules, known_case(rules, on, luck)))]

    assert any(
        engine.required(case)["pass-the-test"]
        != (regkit.assess(case, rules, on).verdicts["pass-the-test"] == Verdict.REQUIRED)
        for case in cases
    )
