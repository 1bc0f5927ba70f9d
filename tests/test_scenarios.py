"""Scenarios side by side: what differs and why, and the strategy question of the engine."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.compare.scenarios import scenarios
from regkit.language import speaker
from regkit.model.scenarios import Scenarios

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
CASES = Path(__file__).parent.parent / "docs" / "cases"


def assessed(**facts: str) -> regkit.Assessment:
    told = {"vehicle.first_registered_here": "never", "vehicle.built": "1962",
            "arrival.date": "2026-03-01"}
    told |= {name.replace("__", "."): value for name, value in facts.items()}
    case = regkit.read_case({"jurisdiction": "QA", "facts": told}, ISLAND)
    return regkit.assess(case, ISLAND, date(2026, 3, 10))


def answers(found: Scenarios, part: str) -> dict[str, list[str]]:
    say = speaker().say
    return {row.id: [say(answer) for answer in row.answers] for row in found.part(part)}


def test_only_what_differs_is_shown_and_each_difference_has_its_reasons() -> None:
    found = scenarios(["as recorded", "other engine"], [
        assessed(qa__engine_as_recorded="yes"), assessed(qa__engine_as_recorded="no")])
    assert answers(found, "fact") == {"qa.engine_as_recorded": ["yes", "no"]}
    assert answers(found, "requirement") == {"explain-engine": ["not required", "required"]}
    (row,) = found.part("requirement")
    assert all("engine as recorded" in speaker().say(why) for why in row.why)
    assert answers(found, "charge") == {"report-fee": ["–", "£180.00"]}


def test_what_the_plans_come_to_is_always_shown() -> None:
    found = answers(scenarios(["a", "b"], [
        assessed(qa__engine_as_recorded="yes"), assessed(qa__engine_as_recorded="no")]), "plan")
    assert found["cost"] == ["£55.00", "£235.00"]
    # The bill leaves open which of the two papers with a fee, 60 and 25, proves the age.
    assert found["total"] == ["£55.00 to £140.00", "£235.00 to £320.00"]
    assert found["finish"] == ["26 March 2026 to 12 April 2026 or later",
                               "14 April 2026 to 19 May 2026 or later"]
    assert found["papers"] == ["2", "2"]


def test_one_case_alone_cannot_be_compared() -> None:
    with pytest.raises(ValueError, match="at least two cases"):
        scenarios(["a"], [assessed()])


def test_register_first_or_fit_the_engine_first_comes_out_of_the_cases() -> None:
    """The trade knows the answer (common practice): registered complete as recorded, the car keeps
    what its papers prove; with another engine fitted, it has to be explained."""
    result = CliRunner().invoke(main, [
        "compare", str(CASES / "gb-engine-later.yaml"), str(CASES / "gb-engine-first.yaml")])
    assert result.exit_code == 0, result.output
    text = " ".join(result.output.split())
    assert "Collectors' piece of historical interest (heading 9705) A yes" in text
    assert "Obtain approval of the vehicle A not required" in text
    assert "Say how the vehicle was built up or altered A not required" in text
    for title in ("Obtain approval of the vehicle", "Register it under a Q number"):
        assert "B undecided" in text[text.index(title):].split(" A ", 1)[1][:400]
    assert max(map(len, result.output.splitlines())) <= 80


def test_after_the_later_change_the_duty_to_tell_is_awake() -> None:
    case = regkit.read_case(CASES / "gb-engine-later-changed.yaml")
    assert case.on is not None
    found = regkit.assess(case, regkit.load("GB"), case.on)
    assert found.finding("tell-of-engine-change").verdict == "required"
    assert found.finding("apply-for-registration").progress == "done"


def test_a_case_that_cannot_be_read_is_said_plainly() -> None:
    result = CliRunner().invoke(main, ["compare", "nowhere.yaml", "nowhere-else.yaml"])
    assert result.exit_code == 2 and "nowhere.yaml" in result.output
