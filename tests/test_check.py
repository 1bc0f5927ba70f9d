"""The command `check`: what it prints, its exit codes, and SARIF that others can read.

SARIF: Static Analysis Results Interchange Format 2.1.0, OASIS Standard; checked against the schema
of the standard, as the package pydantic-sarif carries it.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from pydantic import ValidationError
from pydantic_sarif.model import (
    StaticAnalysisResultsFormatSarifVersion210JsonSchema as PublishedSchema,
)

from regkit.commands import main
from regkit.keep.lint import CHECKS
from tests.lint_corpus import lay

CLEAN = {"examples.yaml": """\
old-one: {title: T, on: 2026-04-01, facts: {thing.made: 1950-01-01}, basis: derived, sources: [act],
          expect: {requirements: {paint-it: required}}}
"""}
UNUSED = {"charges.yaml": "fee: {title: Fee, amount: 5 XTS, sources: [act]}\n"}
WRONG = {"examples.yaml": CLEAN["examples.yaml"].replace(": required", ": not required")}


def check(folder: Path, *options: str) -> Result:
    """Run the command on a folder, as of one day."""
    return CliRunner().invoke(main, ["check", str(folder), "--on", "2026-11-25", *options])


def sarif(folder: Path) -> Any:
    """Return the SARIF of a folder."""
    return json.loads(check(folder, "--format", "sarif").output)


@pytest.mark.parametrize(("files", "fail_at", "code"), [
    (CLEAN, "error", 0),
    (CLEAN, "warning", 0),
    (CLEAN, "to-do", 1),  # its example has no schema line
    (UNUSED, "error", 0),
    (UNUSED, "warning", 1),
    (WRONG, "error", 1),
    ({"definitions.yaml": "young: {}\n"}, "error", 1),
])
def test_the_exit_code_fits_a_build(
    files: dict[str, str], fail_at: str, code: int, tmp_path: Path
) -> None:
    """1 where there is something of the level of --fail-at or above, else 0."""
    assert check(lay(tmp_path, files), "--fail-at", fail_at).exit_code == code


def test_what_cannot_be_found_is_2(tmp_path: Path) -> None:
    """A mistake in the call is no remark about a ruleset."""
    done = check(tmp_path / "nowhere")

    assert done.exit_code == 2
    assert "is no folder, and no code of a shipped ruleset" in done.output


def test_a_file_of_no_known_kind_is_named_at_its_first_line(tmp_path: Path) -> None:
    """An editor opens file:line; there is no line 0."""
    folder = lay(tmp_path, {})
    (folder / "requirement.yaml").write_text("a: {title: A}\n", "utf-8")

    assert "qa/requirement.yaml:1: error" in check(folder).output


def test_lower_levels_are_counted_not_listed(tmp_path: Path) -> None:
    """A club is not greeted by a hundred to-dos; how many there are stands there."""
    done = check(lay(tmp_path, UNUSED))

    assert "[unused]" in done.output and "[no-example]" not in done.output
    assert "not shown: 1 no-example, 1 schema-line (see them with --level to-do)" in done.output
    assert "0 errors, 1 warning, 2 to-dos; 0 worked examples run" in done.output


def test_examples_are_run_and_said_to_be(tmp_path: Path) -> None:
    """Expected, got and why, with the line."""
    done = check(lay(tmp_path, WRONG))

    assert "qa/examples/added.yaml:1: error [example-fails]" in done.output
    assert "expects paint-it: not required, and it is required" in done.output
    assert "made 1 January 1950, before 1 January 1960" in done.output


def test_a_ruleset_that_does_not_load_says_that_its_examples_did_not_run(tmp_path: Path) -> None:
    """Nobody takes silence for success."""
    done = check(lay(tmp_path, {"definitions.yaml": "young: {}\n"}))

    assert "it does not load, so its rules and examples were not looked at" in done.output


def test_places_can_be_opened_from_where_one_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Paths are relative to the working directory, as editors and code hosts want them."""
    folder = lay(tmp_path / "rulesets", UNUSED)
    monkeypatch.chdir(tmp_path)

    assert "rulesets/qa/charges/added.yaml:1: warning" in check(folder).output


def test_sarif_fits_the_published_schema(tmp_path: Path) -> None:
    """Remarks of all three levels, and a rule for each check."""
    log = sarif(lay(tmp_path, {**UNUSED, **WRONG}))
    PublishedSchema.model_validate(log)
    (run,) = log["runs"]

    assert {result["level"] for result in run["results"]} == {"error", "warning", "note"}
    assert [rule["id"] for rule in run["tool"]["driver"]["rules"]] == list(CHECKS)
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]


def test_the_published_schema_would_refuse_a_wrong_log(tmp_path: Path) -> None:
    """So that the test above proves something."""
    log = sarif(lay(tmp_path, UNUSED))
    log["runs"][0]["results"][0]["level"] = "to-do"

    with pytest.raises(ValidationError):
        PublishedSchema.model_validate(log)


def test_sarif_names_file_and_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a relative URI, so that a code host finds the file in its own checkout."""
    folder = lay(tmp_path / "rule sets", UNUSED)
    monkeypatch.chdir(tmp_path)
    (found,) = (r for r in sarif(folder)["runs"][0]["results"] if r["ruleId"] == "unused")
    place = found["locations"][0]["physicalLocation"]

    assert place["artifactLocation"]["uri"] == "rule%20sets/qa/charges/added.yaml"
    assert place["region"] == {"startLine": 1}


def test_json_lists_every_remark(tmp_path: Path) -> None:
    """Also those of lower levels: a program can sort them itself."""
    (report,) = json.loads(check(lay(tmp_path, UNUSED), "--format", "json").output)

    assert [remark["code"] for remark in report["remarks"]] == [
        "unused", "schema-line", "no-example"]
    assert set(report["remarks"][0]) == {
        "file", "line", "level", "code", "text", "right", "can be mended"}


def test_output_goes_to_a_file_whole(tmp_path: Path) -> None:
    """For a build that uploads it."""
    target = tmp_path / "remarks.sarif"
    done = check(lay(tmp_path / "r", UNUSED), "--format", "sarif", "--output", str(target))

    assert done.output == ""
    PublishedSchema.model_validate(json.loads(target.read_text("utf-8")))
