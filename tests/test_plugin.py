"""The pytest plugin, outside this repository: it runs a real pytest on a ruleset of a few lines."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.small_ruleset import write

EXAMPLE = """\
made-in-{year}:
  title: Made in {year}
  on: 2026-04-01
  facts: {{thing.made: {year}-06-01}}
  expect: {{definitions: {{old: {old}}}, requirements: {{paint-it: {paint}}}}}
  basis: derived
  sources: [act]
"""
RIGHT = EXAMPLE.format(year=1950, old="yes", paint="required")
WRONG = EXAMPLE.format(year=1970, old="yes", paint="not required")


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run pytest in a folder, with no configuration but the plugin."""
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-q", *arguments]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


def test_examples_of_any_folder_are_collected(tmp_path: Path) -> None:
    """One test an example, from the file and from a folder of files."""
    write(tmp_path, examples=RIGHT, examples__more=RIGHT.replace("made-in-1950", "again"))

    done = run(tmp_path, "-rp")

    assert done.returncode == 0, done.stdout
    assert "PASSED qa/examples.yaml::made-in-1950" in done.stdout
    assert "PASSED qa/examples/more.yaml::again" in done.stdout


def test_a_failure_says_expected_got_why_and_where(tmp_path: Path) -> None:
    """What a maintainer needs to see: no traceback of ours, but the reason tree and the line."""
    write(tmp_path, examples=RIGHT + WRONG)

    done = run(tmp_path)

    assert done.returncode == 1
    assert "1 failed, 1 passed" in done.stdout
    assert "qa/examples.yaml:8" in done.stdout
    assert "  expected: yes\n  got:      no\n  because:\n    no: Old\n" in done.stdout
    assert "no: made 1 June 1970, not before 1 January 1960" in done.stdout
    assert "paint-it" not in done.stdout.split("because:")[0]
    assert "Traceback" not in done.stdout and "def runtest" not in done.stdout


def test_a_ruleset_that_does_not_load_says_why(tmp_path: Path) -> None:
    """Every problem with file and line, instead of an error of ours."""
    write(tmp_path, examples=RIGHT, definitions="old: {title: Old}\n")

    done = run(tmp_path)

    assert done.returncode == 1
    assert "qa/definitions.yaml:1: `old` names no source" in done.stdout


def test_a_file_that_is_no_yaml_is_an_error_of_collection(tmp_path: Path) -> None:
    """It names the line."""
    write(tmp_path, examples="made: [\n")

    done = run(tmp_path)

    assert done.returncode == 2
    assert "examples.yaml:2" in done.stdout and "is not YAML" in done.stdout


@pytest.mark.parametrize("name", ["examples.yaml", "cases.yaml"])
def test_other_files_are_left_alone(name: str, tmp_path: Path) -> None:
    """A file of that name is only ours beside the head of a ruleset; other files never are."""
    beside = tmp_path if name == "examples.yaml" else write(tmp_path)
    (beside / name).write_text(RIGHT, "utf-8")

    assert "no tests ran" in run(tmp_path).stdout
