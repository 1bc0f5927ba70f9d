"""Lint: each check says what it should, where it should, and is silent on what is right."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from regkit.keep.lint import CHECKS, Level, lint
from regkit.keep.lint.reading import CHECKS as READING
from tests.lint_corpus import PAGES, PAIRS, TODAY, lay, remarks, shown_on
from tests.rulesets_under_test import ROOT

CODES = sorted(CHECKS)
SHOWING = [code for code in CODES if code not in ("long-file", "released-changed")]
"""Nobody wants to read a page that shows a file of 401 lines, or a frozen copy."""


def test_every_check_has_its_page_and_its_pair_of_files() -> None:
    """Code, page and pair come together; none is left over."""
    assert {page.stem for page in PAGES.glob("*.rst")} - {"index"} == set(CODES)
    assert {file.stem for file in PAIRS.glob("*.yaml")} == set(CODES)
    assert {file.stem for file in PAIRS.glob("*.expected")} == set(CODES)


@pytest.mark.parametrize("code", CODES)
def test_the_pair(code: str, tmp_path: Path) -> None:
    """What stands in <code>.yaml is remarked on as <code>.expected says, and on nothing else."""
    files = yaml.load((PAIRS / f"{code}.yaml").read_text("utf-8"), yaml.BaseLoader)
    expected = (PAIRS / f"{code}.expected").read_text("utf-8").splitlines()

    assert [str(remark) for remark in remarks(tmp_path, files, code)] == expected
    assert expected, "a check that is silent on its own files"


@pytest.mark.parametrize("code", SHOWING)
def test_what_the_page_says_to_avoid_is_remarked_on(code: str, tmp_path: Path) -> None:
    """The page shows a mistake the check finds."""
    assert remarks(tmp_path, shown_on(PAGES / f"{code}.rst")["Avoid"], code)


@pytest.mark.parametrize("code", SHOWING)
def test_what_the_page_says_to_prefer_is_right(code: str, tmp_path: Path) -> None:
    """The page shows the same put right; the ruleset loads and the check is silent."""
    folder = lay(tmp_path, shown_on(PAGES / f"{code}.rst")["Prefer"])
    report = lint(folder, TODAY)

    assert report.ruleset is not None, report.remarks
    assert not [str(remark) for remark in report.remarks if remark.code == code]


@pytest.mark.parametrize("code", CODES)
def test_the_page_names_the_level(code: str) -> None:
    """Page and check agree how much it matters, and the page says why."""
    text = (PAGES / f"{code}.rst").read_text("utf-8")

    assert text.startswith(f"{code}\n{'=' * len(code)}\n\n*{CHECKS[code].level.value}* — ")
    assert "\nWhy\n---\n" in text


def test_every_remark_says_place_level_code_and_what_would_be_right(tmp_path: Path) -> None:
    """One form for all: file:line: level [code] what is wrong; what would be right."""
    form = re.compile(r"(qa/\S+\.yaml:\d+|released/\S+\.json): (error|warning|to-do) "
                      r"\[[a-z-]+\] [^;]+(; .+)?$")
    for code in CODES:
        files = yaml.load((PAIRS / f"{code}.yaml").read_text("utf-8"), yaml.BaseLoader)
        for remark in remarks(tmp_path / code, files, code):
            assert form.match(str(remark)), remark
            assert code in READING or remark.right, remark


def test_a_ruleset_that_does_not_load_says_only_why(tmp_path: Path) -> None:
    """The other checks cannot look; nothing is claimed about rules nobody could read."""
    report = lint(lay(tmp_path, {"definitions.yaml": "young: {title: Young}\n"}), TODAY)

    assert report.ruleset is None
    assert {remark.level for remark in report.remarks} == {Level.ERROR}


def test_one_line_can_be_found_and_put_right_at_a_time(tmp_path: Path) -> None:
    """Files are read anew each time, not remembered from the last look."""
    page = PAGES / "example-fails.rst"

    assert remarks(tmp_path, shown_on(page)["Avoid"], "example-fails")
    assert not remarks(tmp_path, shown_on(page)["Prefer"], "example-fails")


SHIPPED = sorted(file.parent for file in (ROOT / "rulesets").glob("*/ruleset.yaml"))


@pytest.mark.parametrize("folder", SHIPPED, ids=lambda folder: folder.name)
def test_rulesets_pass_at_level_warning(folder: Path) -> None:
    """We keep to our own advice."""
    assert not [str(remark) for remark in lint(folder, TODAY).at_least(Level.WARNING)]
