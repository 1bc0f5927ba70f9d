"""What README and docs show is what happens: commands, outputs and code are run."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from regkit.commands import main

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
PAGES = sorted((ROOT / "docs").glob("*.rst"))


def blocks(language: str) -> list[str]:
    """Return the fenced blocks of a language in the README."""
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.S | re.M)


def test_the_first_two_shell_blocks_are_the_two_commands() -> None:
    """A newcomer copies the first to see an assessment, the second to run all tests."""
    first, second, *_ = blocks("sh")

    assert first.count("\n") == 1 and first.rstrip().endswith("assess docs/cases/gb-import.yaml")
    assert second.count("\n") == 1 and "-m pytest" in second


def test_the_readmes_worked_case_prints_what_it_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    """The block behind '$ regkit …' is the command's output, cut only where '…' stands."""
    monkeypatch.chdir(ROOT)
    shown = [block for block in blocks("text") if block.startswith("$ regkit ")]

    assert shown
    for block in shown:
        command, _, expected = block.partition("\n")
        result = CliRunner().invoke(main, shlex.split(command.removeprefix("$ regkit ")))
        assert result.exit_code == 0
        for part in re.split(r"^ *…$\n?", expected, flags=re.M):
            assert part.strip("\n") in result.output


@pytest.mark.parametrize("at", range(len(blocks("python"))))
def test_the_readmes_python_runs(at: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Embedding code in the README runs as it stands."""
    monkeypatch.chdir(ROOT)

    exec(compile(blocks("python")[at], "README.md", "exec"), {})


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_the_pages_python_runs(page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Python shown in the documentation runs as it stands, in the order of the page."""
    monkeypatch.chdir(ROOT)
    code = re.findall(r"^\.\. code-block:: python\n\n((?:   .*\n|\n)+)", page.read_text(), re.M)

    space: dict[str, object] = {}
    for block in code:
        exec(compile(re.sub(r"^   ", "", block, flags=re.M), page.name, "exec"), space)


@pytest.mark.parametrize("case", sorted((ROOT / "docs/cases").glob("*.yaml")), ids=lambda c: c.stem)
def test_every_demo_case_is_assessed(case: Path) -> None:
    """Each demo case can be read and assessed on the day it names."""
    result = CliRunner().invoke(main, ["assess", str(case)])

    assert result.exit_code == 0, result.output
