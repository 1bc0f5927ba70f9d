"""Releasing, loading a released version, replaying an assessment from its frozen copy."""

from __future__ import annotations

import hashlib
import json
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.compare.replay import differences
from regkit.keep.release import Refused, release
from regkit.read import places, released
from regkit.read import ruleset as reading
from regkit.read.ruleset import assemble, read_ruleset
from tests.rulesets_under_test import INVENTED, ROOT

TODAY = date(2026, 11, 25)
FACTS = {"vehicle.kind": "car", "vehicle.first_registered": "2000-12-01", "vehicle.built": "2000"}


@pytest.fixture
def there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A place of rulesets of its own, in which Zedland is one of the shipped ones."""
    folder = tmp_path / "rulesets"
    folder.mkdir()
    shutil.copytree(INVENTED / "zz", folder / "zz")
    shutil.copytree(ROOT / "rulesets" / "common", folder / "common")
    elsewhere = places.shipped

    def shipped(what: str) -> Path:
        return folder if what == "rulesets" else elsewhere(what)

    for module in (released, reading):
        monkeypatch.setattr(module, "shipped", shipped)
    read_ruleset.cache_clear()
    return folder


def edit(folder: Path, file: str, before: str, after: str) -> None:
    path = folder / "zz" / file
    text = path.read_text("utf-8")
    assert before in text
    path.write_text(text.replace(before, after), "utf-8")
    read_ruleset.cache_clear()


def run(*arguments: str) -> Any:
    return CliRunner().invoke(main, list(arguments))


def second_version(folder: Path) -> None:
    """Release Zedland, then a version in which late examples are those of after 1966."""
    assert run("release", str(folder / "zz"), "--today", "2026-11-25").exit_code == 0
    edit(folder, "ruleset.yaml", 'version: "2026.1"', 'version: "2026.2"')
    edit(folder, "definitions.yaml", "{less than: 4 kW}", "{less than: 5 kW}")
    made = run("release", str(folder / "zz"), "--today", "2026-11-25")
    assert made.exit_code == 0, made.output


def test_a_release_freezes_the_whole_ruleset(there: Path) -> None:
    """The copy loads by name, with the digest and the findings of the folder."""
    result = run("release", str(there / "zz"), "--today", "2026-11-25")
    assert result.exit_code == 0, result.output
    frozen, current = regkit.load("ZZ@2026.1"), regkit.load(there / "zz")

    assert frozen.digest == current.digest
    assert list(frozen.requirements) == list(current.requirements)
    assert frozen.stages == current.stages


def test_the_notice_is_computed_from_the_diff(there: Path) -> None:
    """What the second version changes, with an example of each; the first changes nothing."""
    second_version(there)
    first, second = ((there / "released" / f"ZZ@2026.{number}.md").read_text("utf-8")
                     for number in (1, 2))

    assert "## ZZ@2026.1\n" in first and "small-engine" not in first
    assert "→ ZZ@2026.2" in second
    assert "engine power at least 4 kW and less than 5 kW" in second
    assert "small-engine" in second


def test_a_version_that_did_not_move_is_refused(there: Path) -> None:
    """A released version is never written again."""
    assert run("release", str(there / "zz"), "--today", "2026-11-25").exit_code == 0
    edit(there, "definitions.yaml", "{less than: 4 kW}", "{less than: 5 kW}")

    with pytest.raises(Refused, match="did not move"):
        release(there / "zz", TODAY)


def test_nothing_new_is_refused(there: Path) -> None:
    """A higher number alone is no new version."""
    assert run("release", str(there / "zz"), "--today", "2026-11-25").exit_code == 0
    result = run("release", str(there / "zz"), "--today", "2026-11-25")

    assert result.exit_code == 2 and "did not move" in result.output


def test_a_failing_example_is_refused(there: Path) -> None:
    """The worked examples must come out."""
    edit(there, "definitions.yaml", "{at least: 25 years ago}", "{at least: 26 years ago}")

    with pytest.raises(Refused, match="twenty-five-today"):
        release(there / "zz", TODAY)
    assert not (there / "released").exists()


def test_a_copy_that_was_changed_is_refused(there: Path) -> None:
    """One altered figure in the frozen copy, and it does not load."""
    assert run("release", str(there / "zz"), "--today", "2026-11-25").exit_code == 0
    file = there / "released" / "ZZ@2026.1.json"
    file.write_text(file.read_text("utf-8").replace("4 kW", "5 kW", 1), "utf-8")
    read_ruleset.cache_clear()

    with pytest.raises(regkit.Unreadable, match="was changed after its release"):
        regkit.load("ZZ@2026.1")


def saved(there: Path, tmp_path: Path) -> Path:
    """Return a saved assessment by the first version."""
    ruleset = regkit.load("ZZ@2026.1")
    case = regkit.read_case({"jurisdiction": "ZZ", "facts": {
        **FACTS, "vehicle.engine_power": "4.5 kW",
        "vehicle.engine_capacity": "100 cc", "arrival.date": "2019-05-05",
        "vehicle.place": "abroad", "arrival.purpose": "stay", "vehicle.built": "1975"}}, ruleset)
    file = tmp_path / "assessment.json"
    file.write_text(json.dumps(regkit.assess(case, ruleset, TODAY).to_dict()), "utf-8")
    return file


def test_a_replay_of_a_frozen_version_is_identical(there: Path, tmp_path: Path) -> None:
    """Though the ruleset has moved on since."""
    second_version(there)
    result = run("replay", str(saved(there, tmp_path)))

    assert result.exit_code == 0, result.output
    assert result.output.startswith("identical: ZZ@2026.1")


def test_a_replay_by_todays_ruleset_says_what_differs(there: Path, tmp_path: Path) -> None:
    """4.5 kW became a small engine, which is free of port tax."""
    second_version(there)
    result = run("replay", "--now", str(saved(there, tmp_path)))

    assert result.exit_code == 1, result.output
    assert "free-of-port-tax: no → yes" in result.output
    assert "ZZ@2026.2" in result.output


def test_a_tampered_assessment_is_found(there: Path, tmp_path: Path) -> None:
    """A verdict that was altered does not replay."""
    assert run("release", str(there / "zz"), "--today", "2026-11-25").exit_code == 0
    file = saved(there, tmp_path)
    file.write_text(file.read_text("utf-8").replace('"verdict": "not required"',
                                                    '"verdict": "required"', 1), "utf-8")
    result = run("replay", str(file))

    assert result.exit_code == 1 and "1 answers differ" in result.output


def test_an_assessment_in_a_language_spoken_no_more_still_replays(
    there: Path, tmp_path: Path
) -> None:
    """Its answers are compared, whatever its words."""
    second_version(there)
    file = saved(there, tmp_path)
    file.write_text(file.read_text("utf-8").replace('"language": "en"', '"language": "fr"', 1))
    result = run("replay", str(file))

    assert result.exit_code == 1, result.output
    assert "every answer is the same" in result.output and "language: fr → en" in result.output


def test_an_assessment_records_what_it_was_made_with(there: Path, tmp_path: Path) -> None:
    """Case, law date, version, digest and engine."""
    assert run("release", str(there / "zz"), "--today", "2026-11-25").exit_code == 0
    document = json.loads(saved(there, tmp_path).read_text("utf-8"))

    assert document["on"] == "2026-11-25" and document["engine"] == regkit.__version__
    assert document["ruleset"]["digest"] == regkit.load("ZZ@2026.1").digest
    assert document["case"]["facts"]["vehicle.engine_power"] == "4.5 kW"


def test_differences_are_found_by_name() -> None:
    """A finding that moved in the list is no difference."""
    one = {"findings": [{"requirement": "a", "verdict": "required"}, {"requirement": "b"}]}
    other = {"findings": [{"requirement": "b"}, {"requirement": "a", "verdict": "undecided"}]}

    assert [found.where for found in differences(one, other)] == ["findings.a.verdict"]


@pytest.mark.parametrize("name", released.released_versions())
def test_shipped_releases_are_what_they_were(name: str) -> None:
    """Every frozen copy loads, with the digest it was released under (read_released checks it)."""
    layers = released.read_released(name)

    assert f"{assemble(layers).jurisdiction}@{assemble(layers).version}" == name


@pytest.mark.parametrize("name", released.released_versions())
def test_each_shipped_release_has_its_notice_beside_it(name: str) -> None:
    """It names the version, and what it is compared with unless it is the first."""
    notice = (released.released_folder() / f"{name}.md").read_text("utf-8")
    (title,) = (line for line in notice.splitlines() if line.startswith("## "))

    assert title.endswith(name)
    assert name.endswith(".1") or "→" in title


def test_frozen_copies_are_listed_with_the_digest_of_their_file() -> None:
    """No copy is edited, added or removed without its line in `released/DIGESTS`."""
    folder = released.released_folder()
    names = released.released_versions()
    if not names:
        pytest.skip("nothing has been released yet")
    listed = dict(
        reversed(line.split()) for line in (folder / "DIGESTS").read_text("utf-8").splitlines())

    assert listed == {
        f"{name}.json": hashlib.sha256((folder / f"{name}.json").read_bytes()).hexdigest()
        for name in names
    }
