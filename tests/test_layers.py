"""Which layer a rule comes from: the explanation says it wherever it is not the country's own."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from click.testing import CliRunner

from regkit.commands import main

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
