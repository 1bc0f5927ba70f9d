"""Which layer a rule comes from: the explanation says it wherever it is not the country's own."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.model.assessment import Verdict
from tests import small_ruleset

CASE = str(Path(__file__).parent.parent / "docs" / "cases" / "ie-import.yaml")


def run(*arguments: str) -> str:
    done = CliRunner().invoke(main, list(arguments))
    assert done.exit_code == 0, done.output
    return done.output


def nodes(reason: dict[str, Any]) -> list[dict[str, Any]]:
    return [reason, *(node for child in reason.get("because", ()) for node in nodes(child))]


def test_a_step_of_the_union_is_marked_in_text_and_json() -> None:
    """The customs heading of collectors' pieces is chosen under Union law, in Ireland too."""
    shown = run("why", CASE, "choose-customs-heading")
    found = json.loads(run("why", CASE, "choose-customs-heading", "--json"))

    assert "Stated by the rules of EU, which these build on." in shown
    assert found["layer"] == "EU"


def test_a_definition_of_the_union_below_a_step_of_the_country_is_marked() -> None:
    shown = run("why", CASE, "make-import-declaration")
    found = json.loads(run("why", CASE, "make-import-declaration", "--json"))

    assert found["layer"] == "IE"
    layers = {node["layer"] for node in nodes(found["reason"]) if "layer" in node}
    assert ("EU" in layers) == ("(rule of: EU)" in shown)
    assert "EU" in layers


def test_a_rule_of_the_country_itself_is_not_marked() -> None:
    shown = run("why", CASE, "fit-plates")

    assert "which these build on" not in shown


def layered(folder: Path, **own: str) -> Path:
    """Write a ruleset QB on top of the small one; return its folder."""
    small_ruleset.write(folder)
    head = small_ruleset.HEAD.replace("QA", "QB", 1).replace("Small", "Smaller", 1)
    upper = folder / "qb"
    upper.mkdir()
    for name, text in {"ruleset": head + "builds on: QA\n", **own}.items():
        (upper / f"{name}.yaml").write_text(text, "utf-8")
    return upper


ON = date(2026, 4, 1)
OLD = {"jurisdiction": "QB", "facts": {"thing.made": "1950"}}


def test_a_rule_of_the_layer_below_that_does_not_hold_here_is_not_required(tmp_path: Path) -> None:
    """It keeps the words it has there, and the answer says why."""
    rules = regkit.load(layered(
        tmp_path, requirements="paint-it: {state: not here, sources: [act]}\n"))
    finding = regkit.assess(regkit.read_case(OLD, rules), rules, ON).finding("paint-it")

    assert finding.verdict == Verdict.NOT_REQUIRED
    assert str(finding.requirement.title) == "Paint it"
    assert finding.text().endswith("this rule does not hold here: Smaller")


def test_a_definition_that_does_not_hold_here_is_never_fulfilled(tmp_path: Path) -> None:
    rules = regkit.load(layered(tmp_path, definitions="old: {state: not here, sources: [act]}\n"))
    found = regkit.assess(regkit.read_case(OLD, rules), rules, ON)

    assert found.finding("paint-it").verdict == Verdict.NOT_REQUIRED


def test_what_no_layer_below_has_cannot_be_not_here(tmp_path: Path) -> None:
    with pytest.raises(regkit.Unreadable, match="no layer below has it; leave it out"):
        regkit.load(layered(
            tmp_path, requirements="paint-that: {state: not here, sources: [act]}\n"))


def test_the_scheme_of_great_britain_does_not_reach_northern_ireland() -> None:
    """Continuous insurance enforcement: gov.uk/vehicle-insurance/uninsured-vehicles."""
    rules = regkit.load("GB-NIR")
    case = regkit.read_case({"jurisdiction": "GB-NIR", "facts": {}}, rules)
    finding = regkit.assess(case, rules, ON).finding("keep-continuous-insurance")

    assert finding.verdict == Verdict.NOT_REQUIRED
