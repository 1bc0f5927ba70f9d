"""A ruleset of one's own, in a folder: every command that takes a jurisdiction takes it too."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from regkit.commands import main
from tests.rulesets_under_test import INVENTED, ROOT

ZEDLAND = str(INVENTED / "zz")
BRITISH = str(ROOT / "docs" / "cases" / "gb-import.yaml")
CASE = """\
jurisdiction: ZZ
on: 2026-11-25
facts: {vehicle.built: "1960", arrival.date: 2026-11-20}
"""
NEEDS_MORE = {"why": ["report-to-the-port"], "packet": ["report-to-the-port"],
              "sheet": ["report-to-the-port"], "ahead": ["--until", "2027-12-31"],
              "compare": ["case.yaml"]}


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """Write a case of Zedland, which is not shipped; return its path from where we are."""
    monkeypatch.chdir(tmp_path)
    Path("case.yaml").write_text(CASE, "utf-8")
    return "case.yaml"


def run(*arguments: str) -> Result:
    """Return what a command says and its exit code."""
    return CliRunner().invoke(main, arguments)


@pytest.mark.parametrize(
    "command", ["assess", "why", "plan", "bill", "packet", "sheet", "ahead", "compare"])
def test_a_case_is_judged_by_the_ruleset_in_a_folder(command: str, case: str) -> None:
    """With the folder it works; without it says which option is wanting, for ZZ is not shipped."""
    arguments = [command, case, *NEEDS_MORE.get(command, [])]
    with_folder, without = run(*arguments, "--ruleset", ZEDLAND), run(*arguments)

    assert with_folder.exit_code == 0, with_folder.output
    assert without.exit_code == 2
    assert f"{case}: no ruleset of ZZ is shipped" in without.output
    assert "name the folder of" in without.output and "--ruleset" in without.output


def test_a_case_is_followed_by_the_ruleset_in_a_folder(
    case: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The journal keeps where the folder is, so that later commands find it from anywhere."""
    journal = str(Path("journal").resolve())
    without = run("follow", "open", journal, "zedda", case)
    opened = run("follow", "open", journal, "zedda", case, "--ruleset", ZEDLAND)
    monkeypatch.chdir("/")
    day = run("follow", "day", journal, "2026-11-30")

    assert without.exit_code == 2 and f"{case}: no ruleset of ZZ is shipped" in without.output
    assert opened.exit_code == 0, opened.output
    assert "zedda: due soon: report-to-the-port, 2026-12-04" in day.output


def test_a_folder_of_another_jurisdiction_is_refused_when_a_case_is_opened(case: str) -> None:
    found = run("follow", "open", "journal", "zedda", case, "--ruleset", "GB")
    assert found.exit_code == 2
    assert "is a case of ZZ, and GB states the rules of GB" in found.output
    assert not Path("journal").exists()


def test_an_assessment_by_a_folder_is_replayed_by_it(case: str) -> None:
    """It comes out identical; without the folder nobody knows the rules."""
    Path("saved.json").write_text(
        run("assess", case, "--ruleset", ZEDLAND, "--json").stdout, "utf-8")
    again, without = run("replay", "saved.json", "--ruleset", ZEDLAND), run("replay", "saved.json")

    assert again.exit_code == 0 and "identical" in again.output
    assert without.exit_code == 2 and "there is no ruleset of that name" in without.output


def test_facts_and_ask_take_a_folder(tmp_path: Path) -> None:
    """Zedland's own fact is listed, and asking ends at once where told to."""
    listed = run("facts", ZEDLAND)
    asked = CliRunner().invoke(
        main, ["ask", ZEDLAND, "--case", str(tmp_path / "new.yaml")], input="stop\n")

    assert listed.exit_code == 0 and "zz." in listed.output
    assert asked.exit_code == 0, asked.output
    assert "jurisdiction: ZZ" in (tmp_path / "new.yaml").read_text("utf-8")


def test_a_case_is_carried_into_the_country_of_a_folder() -> None:
    """One country of a list may be a folder."""
    alone = run("assess", BRITISH, "--jurisdiction", ZEDLAND)
    beside = run("assess", BRITISH, "--jurisdiction", f"IE,{ZEDLAND}")

    assert alone.exit_code == beside.exit_code == 0, alone.output + beside.output
    assert "Zedland" in alone.output and "Zedland" in beside.output


def test_a_released_version_may_judge() -> None:
    """What was said by the law as first written down can be asked again."""
    assert run("assess", BRITISH, "--ruleset", "GB@2026.1").exit_code == 0


def test_the_ruleset_of_another_country_is_refused() -> None:
    """A British case is none of Zedland's; the message names both."""
    refused = run("assess", BRITISH, "--ruleset", ZEDLAND)

    assert refused.exit_code == 2
    assert "is a case of GB" in refused.output and "the rules of ZZ" in refused.output


@pytest.mark.parametrize("where", ["nowhere", "no/where", "GBB"])
def test_a_folder_that_is_not_there_is_refused(where: str, case: str) -> None:
    """Neither folder nor code."""
    refused = run("assess", case, "--ruleset", where)

    assert refused.exit_code == 2
    assert f"{where} is no folder, and no code of a shipped ruleset" in refused.output


def test_a_folder_that_holds_no_ruleset_is_refused(tmp_path: Path, case: str) -> None:
    """It says what is missing."""
    (tmp_path / "empty").mkdir()

    refused = run("assess", case, "--ruleset", str(tmp_path / "empty"))
    assert refused.exit_code == 2 and "has no ruleset.yaml" in refused.output


def test_a_folder_beside_that_happens_to_bear_a_code_hides_no_ruleset(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder of holiday pictures called `gb` is not taken for the rules of Great Britain."""
    (tmp_path / "gb").mkdir()
    monkeypatch.chdir(tmp_path)

    assert run("facts", "gb").exit_code == 0
