"""`regkit assess --html`: the report as a file."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import pytest

from regkit.compare.ahead import ahead
from regkit.language import speaker
from regkit.show import page as pages
from regkit.show.report import report
from tests.report_pages import (
    CASES,
    by_id,
    found,
    parsed,
    run,
    words,
    written,
)


def test_the_command_writes_the_page_whole(tmp_path: Path) -> None:
    target = tmp_path / "report.html"
    target.write_text("an older one", "utf-8")
    result = run("assess", str(CASES["gb-import"]), "--html", str(target))

    assert result.exit_code == 0 and result.output == ""
    assert target.read_text("utf-8") == written("gb-import")
    assert [file.name for file in tmp_path.iterdir()] == ["report.html"]


def test_without_a_file_the_page_is_the_output() -> None:
    assert run("assess", str(CASES["gb-import"]), "--html").output == written("gb-import")


def test_an_old_page_stays_until_a_new_one_is_complete(tmp_path: Path) -> None:
    """Whatever goes wrong, nothing half-written is left."""
    target = tmp_path / "report.html"
    target.write_text("an older one", "utf-8")
    for arguments in (("--language", "klingon"), ("--on", "2023-02-29"), ("--json",)):
        assert run("assess", str(CASES["gb-import"]), "--html", str(target), *arguments
                   ).exit_code == 2
    assert target.read_text("utf-8") == "an older one"
    assert [file.name for file in tmp_path.iterdir()] == ["report.html"]


@pytest.mark.parametrize(("arguments", "says"), [
    (("--html", "x.html", "--json"), "--html writes the report of one country"),
    (("--html", "x.html", "--jurisdiction", "DE,IE"), "--html writes the report of one country"),
    (("--until", "2027-01-01"), "--until adds to the report"),
    (("--html", "/nowhere/at/all.html"), "cannot be written"),
])
def test_what_is_asked_wrongly_is_one_sentence(
    arguments: tuple[str, ...], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("assess", str(CASES["gb-import"]), *arguments)

    assert result.exit_code == 2 and says in result.output
    assert result.output.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_another_country_says_how_the_case_was_carried(tmp_path: Path) -> None:
    target = tmp_path / "report.html"
    result = run("assess", str(CASES["gb-import"]), "--html", str(target), "--jurisdiction", "IE")

    assert result.exit_code == 0, result.output
    tree = parsed(target.read_text("utf-8"))
    assert "Ireland" in words(next(tree.iter("header")))
    assert by_id(tree, "carried") is not None


def test_what_changes_by_itself_is_there_if_it_is_asked_for(tmp_path: Path) -> None:
    """All changes up to the day, each with its day."""
    target = tmp_path / "report.html"
    result = run("assess", str(CASES["gb-import"]), "--html", str(target), "--until", "2026-12-31")
    assert result.exit_code == 0, result.output

    tree = parsed(target.read_text("utf-8"))
    section = next(e for e in tree.iter("section") if e.get("aria-labelledby") == "ahead")
    assessment = found("gb-import")
    changes = ahead(assessment.case, assessment.ruleset, assessment.on, date(2026, 12, 31)).changes
    assert changes and len(list(section.iter("li"))) == len(changes)
    for change in changes:
        assert speaker().say(change.title) in words(section)


def test_without_jinja2_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    pages._environment.cache_clear()

    with pytest.raises(ImportError, match="pip install jinja2"):
        report(found("gb-import"))
