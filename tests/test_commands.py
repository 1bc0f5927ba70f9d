"""The command line as a user meets it: words on a terminal or in a pipe, JSON, exit codes."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012

import regkit
from regkit.commands import main
from tests.drawn_cases import DAYS
from tests.rulesets_under_test import ROOT, SCHEMAS, ruleset

CASE = str(ROOT / "docs" / "cases" / "gb-import.yaml")
CASES = sorted((ROOT / "docs" / "cases").glob("*.yaml"))


def run(*arguments: str) -> Result:
    """Return what a command says and its exit code."""
    return CliRunner().invoke(main, arguments)


def piped(arguments: Sequence[str], **options: Any) -> subprocess.CompletedProcess[str]:
    """Run the installed command in a process of its own, its output a pipe."""
    return subprocess.run([sys.executable, "-m", "regkit", *arguments], capture_output=True,
                          text=True, check=False, cwd=ROOT, **options)


def validator() -> Draft202012Validator:
    """Return the validator of assessments, the schemas beside it at hand."""
    registry: Registry[Any] = Registry().with_resources([
        (file.name, Resource.from_contents(json.loads(file.read_text("utf-8")),
                                           default_specification=DRAFT202012))
        for file in SCHEMAS.glob("*.schema.json")
    ])
    return Draft202012Validator({"$ref": "assessment.schema.json"}, registry=registry)


def test_a_pipe_gets_plain_text_of_eighty_columns() -> None:
    """No escape codes; only what cannot be broken, such as an address, may be wider."""
    done = piped(["assess", CASE])

    assert (done.returncode, done.stderr) == (0, "")
    assert "\x1b" not in done.stdout
    for line in done.stdout.splitlines():
        assert len(line) <= 80 or len(line.split()) == 1, line


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_every_demo_case_is_assessed_in_words(case: Path) -> None:
    """In short and in full: 80 columns, a verdict mark for each requirement in full."""
    short, full = run("assess", str(case)), run("assess", str(case), "--all")

    assert short.exit_code == full.exit_code == 0, short.output + full.output
    for line in (short.output + full.output).splitlines():
        assert len(line) <= 80 or len(line.split()) == 1, line


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_json_fits_its_schema(case: Path) -> None:
    """The published schema describes every demo case's assessment, strictly."""
    said = json.loads(run("assess", str(case), "--json").stdout)

    assert [f"{error.json_path}: {error.message[:300]}"
            for error in validator().iter_errors(said)] == []
    assert set(said["sources"]) >= {
        name for finding in said["findings"] for name in finding["rests_on"]["sources"]}


@pytest.mark.parametrize("on", DAYS, ids=str)
def test_json_of_the_invented_ruleset_fits_too(on: date) -> None:
    """Dissents, announced rules, gaps, waiting duties: all that the demo cases may lack."""
    rules = ruleset("ZZ")
    for facts in ({}, {"vehicle.first_registered": f"{on.year - 25}-{on:%m-%d}".replace(
            "02-29", "02-28"), "vehicle.kind": "motorcycle", "zz.bell": "steel",
            "change.engine": "2016-03-01", "vehicle.place": "abroad", "arrival.date": "2016"}):
        case = regkit.read_case({"jurisdiction": "ZZ", "facts": facts}, rules)
        said = regkit.assess(case, rules, on).to_dict()

        assert [f"{error.json_path}: {error.message[:300]}"
                for error in validator().iter_errors(said)] == []


def test_the_schema_is_strict() -> None:
    """A field too many, a reason without its fact, or an unknown verdict would be noticed."""
    said = json.loads(run("assess", CASE, "--json").stdout)
    said["findings"][0]["extra"] = 1
    said["findings"][1]["verdict"] = "maybe"
    del said["on"]

    assert len(list(validator().iter_errors(said))) >= 3


def test_json_is_byte_identical_on_repeat() -> None:
    """Twice the same command, twice the same bytes (M40)."""
    one, two = (piped(["assess", CASE, "--json"]) for _ in range(2))

    assert one.stdout == two.stdout and one.returncode == 0


def test_without_a_day_today_is_taken_and_said(tmp_path: Path) -> None:
    """Said on standard error, so that a pipe stays clean."""
    file = tmp_path / "case.yaml"
    file.write_text("jurisdiction: GB\nfacts: {}\n", "utf-8")
    done = run("assess", str(file))

    assert done.exit_code == 0
    assert f"no day was given: today, {date.today()}, is taken" in done.stderr
    assert "no day was given" not in done.stdout


def test_the_day_asked_for_wins_over_the_day_of_the_case() -> None:
    """`--on` asks what the case means on another day."""
    assert json.loads(run("assess", CASE, "--on", "2027-04-01", "--json").stdout)["on"] == (
        "2027-04-01")


def test_why_explains_one_finding_to_its_sources() -> None:
    """Sentence, tree and sources, for every requirement, in 80 columns."""
    assessed = json.loads(run("assess", CASE, "--json").stdout)
    for finding in assessed["findings"]:
        done = run("why", CASE, finding["requirement"])
        assert done.exit_code == 0, done.output
        assert finding["rests_on"]["sources"][0] in done.stdout
        for line in done.stdout.splitlines():
            assert len(line) <= 80 or len(line.split()) <= 2, line


def test_why_of_what_does_not_exist_suggests_the_nearest() -> None:
    """A typing error costs one look, not a search."""
    done = run("why", CASE, "notify-arival")

    assert done.exit_code == 2
    assert "there is no requirement `notify-arival` (did you mean `notify-arrival`?)" in done.stderr


def test_facts_lists_every_fact_with_its_question() -> None:
    """What may be told in a jurisdiction, grouped, in 80 columns."""
    done = run("facts", "GB")

    assert done.exit_code == 0
    for fact in ruleset("GB").asked:
        assert fact.name in done.stdout
    assert all(len(line) <= 80 or len(line.split()) == 1 for line in done.stdout.splitlines())


def test_jurisdictions_lists_every_ruleset_with_version_and_digest() -> None:
    """What an assessment names, so that it can be compared."""
    done = run("jurisdictions")

    assert done.exit_code == 0
    for code in regkit.jurisdictions():
        assert f"{code} " in done.stdout and ruleset(code).digest[:12] in done.stdout


@pytest.mark.parametrize(("arguments", "expected"), [
    (["assess", "no-such-file.yaml"], "no-such-file.yaml: cannot be read: No such file"),
    (["assess", "docs"], "is a directory"),
    (["assess", CASE, "--on", "2023-02-29"], "'2023-02-29' is no day; write for example"),
    (["assess", CASE, "--on", "1066-10-14"], "must lie in 1900 to 2199"),
    (["assess", CASE, "--language", "klingon"], "there are: en, de, sv"),
    (["why", CASE, "apply-for-registratoin", "--language", "de"],
     "es gibt keine Anforderung `apply-for-registratoin` (war `apply-for-registration` gemeint?)"),
    (["assess", CASE, "--jurisdiction", "DEE", "--language", "sv"],
     "DEE är ingen mapp och ingen kod för medföljande regler (menades `DE`?); det finns: DE,"),
    (["assess", CASE, "--on", "1850-01-01", "--language", "de"],
     "1850-01-01 ist kein Tag der Beurteilung; er muss in den Jahren 1900 bis 2199 liegen"),
    (["facts", "AA"], "AA is no folder, and no code of a shipped ruleset"),
    (["facts", "gbb"], "did you mean `GB`"),
    (["assess"], "Missing argument 'CASE'"),
    (["asses"], "No such command 'asses'"),
])
def test_what_is_wrong_is_said_plainly_with_exit_code_2(
    arguments: list[str], expected: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One sentence on standard error, nothing on standard output, no traceback."""
    monkeypatch.chdir(ROOT)
    done = run(*arguments)

    assert done.exit_code == 2
    assert expected in done.stderr and done.stdout == ""


def test_every_mistake_of_a_case_is_listed_at_once(tmp_path: Path) -> None:
    """File and line of each, exit code 2, nothing assessed."""
    file = tmp_path / "case.yaml"
    written = "jurisdiction: GB\nfacts:\n  vehicle.biult: 1962\n  arrival.from: UK\n"
    file.write_text(written, "utf-8")
    done = run("assess", str(file))

    assert (done.exit_code, done.stdout) == (2, "")
    assert f"{file}:3: the vocabulary has no fact `vehicle.biult`" in done.stderr
    assert f"{file}:4: `arrival.from` 'UK' is no country code" in done.stderr


def test_a_json_case_is_read_as_well(tmp_path: Path) -> None:
    """The same case as YAML and as JSON gives the same assessment."""
    case = regkit.read_case(CASE)
    told = {"jurisdiction": case.jurisdiction, "title": case.title, "on": str(case.on),
            "facts": {name: value.written for name, value in case.facts.items()}}
    as_json, as_yaml = tmp_path / "case.json", tmp_path / "case.yaml"
    as_json.write_text(json.dumps(told), "utf-8")
    as_yaml.write_text(json.dumps(told, indent=1), "utf-8")

    assert run("assess", str(as_json)).stdout == run("assess", str(as_yaml)).stdout != ""


def test_help_documents_the_exit_codes() -> None:
    """`regkit --help` names every command and what the exit codes mean."""
    said = run("--help").stdout

    assert "0 done as asked" in said and "2 something given is wrong" in said
    for command in main.commands:
        assert command in said


def test_a_page_goes_to_a_pipe_or_through_a_link_and_leaves_both_as_they_are(
    tmp_path: Path,
) -> None:
    """Only a file is replaced: a device or pipe is written to, and a link stays a link."""
    piped_page = piped(["assess", CASE, "--html", "/dev/stdout"])
    assert piped_page.returncode == 0 and "<!doctype html>" in piped_page.stdout

    page, link = tmp_path / "page.html", tmp_path / "link.html"
    page.write_text("old", "utf-8")
    link.symlink_to(page)
    assert run("assess", CASE, "--html", str(link)).exit_code == 0
    assert link.is_symlink() and page.read_text("utf-8").startswith("<!doctype html>")


@pytest.mark.skipif(not Path("/dev/full").is_char_device(), reason="no device that is full")
def test_a_full_disk_is_a_sentence_not_a_traceback() -> None:
    for arguments in (["assess", CASE], ["plan", CASE, "--calendar", "/dev/full"]):
        with Path("/dev/full").open("w") as full:
            done = subprocess.run([sys.executable, "-m", "regkit", *arguments], stdout=full,
                                  stderr=subprocess.PIPE, text=True, check=False, cwd=ROOT)
        assert done.returncode == 2
        assert "cannot be written" in done.stderr and "Traceback" not in done.stderr


def test_a_country_without_rules_is_told_which_there_are(tmp_path: Path) -> None:
    """UK is no ISO 3166-1 code, and its nearest neighbour in spelling is no help."""
    file = tmp_path / "case.yaml"
    file.write_text("jurisdiction: UK\nfacts: {}\n", "utf-8")
    done = run("assess", str(file))
    assert done.exit_code == 2
    assert "no ruleset of UK is shipped; there are: DE, EU, GB, GB-NIR, IE" in done.stderr
