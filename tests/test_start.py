"""A new ruleset passes at once, and the guide takes it from there to a working rule, literally."""

from __future__ import annotations

import re
import shlex
import textwrap
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.keep.lint import Level, lint
from regkit.keep.mutation import score
from regkit.keep.start import start
from regkit.read.ruleset import read_ruleset
from tests.rulesets_under_test import ROOT

GUIDE = (ROOT / "docs" / "maintaining.rst").read_text("utf-8")
TODAY = date(2026, 11, 25)
_BLOCK = re.compile(
    r"^\.\. code-block:: (yaml|console)\n(?:   :caption: (\S+)\n)?\n((?:   .*\n|\n)+)", re.M)


@pytest.mark.parametrize("code", ["ZZ", "SE", "US-CA", "pt"])
def test_a_new_ruleset_passes_at_once(code: str, tmp_path: Path) -> None:
    """No error, no warning; three examples run; the rest is a list of things to do."""
    folder = start(code, tmp_path, TODAY)
    report = lint(folder, TODAY)

    assert folder.name == code.lower()
    assert report.ruleset is not None, [str(remark) for remark in report.remarks]
    assert report.ruleset.jurisdiction == code.upper()
    assert len(report.ruleset.examples) == 3
    assert not report.at_least(Level.WARNING)
    assert "to-replace" in {remark.code for remark in report.remarks}


def test_name_and_currency_come_from_the_unicode_locale_data(tmp_path: Path) -> None:
    """CLDR (through Babel): Sweden pays in Swedish kronor. An invented place uses the test code."""
    assert regkit.load(start("SE", tmp_path, TODAY)).currency == "SEK"
    assert regkit.load(start("ZZ", tmp_path, TODAY)).currency == "XTS"


def test_every_outcome_is_shown_once(tmp_path: Path) -> None:
    """Required, not required and undecided; so that the newcomer sees each written down."""
    rules = regkit.load(start("ZZ", tmp_path, TODAY))

    assert {example.expect["requirements"]["first-requirement"]
            for example in rules.examples.values()} == {"required", "not required", "undecided"}


def test_the_three_examples_notice_every_small_mistake(tmp_path: Path) -> None:
    """A keeper who asks for what is untried is told of nothing that the keeper did not write."""
    found = score(regkit.load(start("ZZ", tmp_path, TODAY)), TODAY)

    assert [survivor.mutant.name for survivor in found.survivors] == []
    assert found.noticed > 5


def test_what_is_there_is_never_overwritten(tmp_path: Path) -> None:
    """A second start of the same code is refused, and nothing half-written lies about."""
    start("ZZ", tmp_path, TODAY)
    with pytest.raises(ValueError, match="is there already"):
        start("ZZ", tmp_path, TODAY)

    assert [item.name for item in tmp_path.iterdir()] == ["zz"]


@pytest.mark.parametrize("code", ["Z", "ZZZ", "../x", "Z Z", ""])
def test_a_code_is_one_of_iso_3166(code: str, tmp_path: Path) -> None:
    """Anything else is refused before anything is written."""
    with pytest.raises(ValueError, match="ISO 3166"):
        start(code, tmp_path, TODAY)

    assert not list(tmp_path.iterdir())


def blocks() -> Iterator[tuple[str, str, str]]:
    """Yield each block of the guide: its language, the file it is, and its text."""
    for language, caption, body in _BLOCK.findall(GUIDE):
        yield language, caption, textwrap.dedent(body).strip("\n") + "\n"


def test_the_guide_followed_literally(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every file is written and every command run in the order of the page; what it prints shows.

    A file that is there keeps its first line, which names its schema: the page says so.
    """
    monkeypatch.chdir(tmp_path)
    ran = 0
    for language, caption, text in blocks():
        if language == "yaml":
            file = tmp_path / caption
            file.parent.mkdir(exist_ok=True)
            first = file.read_text("utf-8").partition("\n")[0] if file.is_file() else ""
            file.write_text(f"{first}\n{text}" if first else text, "utf-8")
            continue
        for command, expected in re.findall(r"^\$ (.*)\n((?:[^$\n].*\n)*)", text, re.M):
            read_ruleset.cache_clear()  # Each command is a process of its own.
            result = CliRunner().invoke(main, shlex.split(command.removeprefix("regkit ")))
            assert result.exit_code == 0, f"{command}\n{result.output}"
            for line in expected.splitlines():
                assert line in result.output, f"{command} does not print: {line}\n{result.output}"
            ran += 1

    assert ran >= 8
    for file in (tmp_path / "zz").glob("*.yaml"):
        schema = file.read_text("utf-8").partition("\n")[0].partition("$schema=")[2]
        assert (file.parent / schema).is_file(), f"{file.name} names a schema that is not there"
    report = lint(tmp_path / "zz", TODAY)
    assert report.ruleset is not None and not report.at_least(Level.WARNING)


def test_the_guide_ends_with_a_rule_that_has_a_window_a_paper_and_examples() -> None:
    """What the guide promises at its beginning stands in its files."""
    files = {caption: text for language, caption, text in blocks() if language == "yaml"}

    assert "window:" in files["zz/requirements.yaml"] and "needs:" in files["zz/requirements.yaml"]
    assert "windows:" in files["zz/examples.yaml"]
