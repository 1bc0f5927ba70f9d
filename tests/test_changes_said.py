"""The diff as people and programs read it: words, Markdown, JSON, picture, command."""

from __future__ import annotations

import json
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.compare.changes import as_of, compare
from regkit.model.changes import Reach
from regkit.model.changes_document import changes_document
from regkit.read.sides import read_side
from regkit.show.changes_markdown import changes_markdown
from regkit.show.changes_picture import changes_picture
from regkit.show.changes_text import changes_lines, shortly
from tests.rulesets_under_test import INVENTED, ROOT, SCHEMAS, ruleset
from tests.zedland_changed import TODAY, Mutate


def test_alternatives_are_said_with_or(mutated: Mutate) -> None:
    """'Trailer and bus' would be a vehicle that is both."""
    changes = mutated("definitions.yaml", "vehicle.kind: [trailer, bus]",
                      "vehicle.kind: [trailer, bus, car, tractor]")
    text = " ".join("\n".join(changes_lines(changes)).split())

    assert "kind of vehicle: Car or " in text and "Car and " not in text


@pytest.mark.parametrize(("written", "said"), [
    ("at least: 7 months", "to 'arrived' at least 6 months;"),
    ("at least: 7 months", "to 'arrived' less than 7 months, or never;"),
    ("more than: 5 months", "to 'arrived' more than 5 months;"),
])
def test_how_long_between_two_dates_is_said_as_the_rule_says_it(
    mutated: Mutate, written: str, said: str
) -> None:
    """Not as a count of days from the end of a period."""
    changes = mutated("definitions.yaml", "keeper.possessed_since: {at least: 6 months",
                      f"keeper.possessed_since: {{{written}")
    text = " ".join("\n".join(changes_lines(changes)).split())

    assert said in text and "days between" not in text


@pytest.mark.parametrize(("file", "before", "after", "reach"), [
    ("definitions.yaml", "title: Of age\n", "title: Grown up\n", Reach.WORDS_ONLY),
    ("definitions.yaml", "{more than: 25 years ago}", "{more than: 26 years ago}", None),
    ("evidence.yaml", "as: original", "as: copy", None),
    ("evidence.yaml", "shows: [purchase.price, purchase.date]", "shows: [purchase.price]", None),
])
def test_words_only_is_not_said_of_what_is_not_compared(
    mutated: Mutate, file: str, before: str, after: str, reach: Reach | None
) -> None:
    """What a paper must be like changes no outcome, and is yet more than words."""
    changes = mutated(file, before, after)
    (entry,) = changes.entries
    text = "\n".join(changes_lines(changes))

    assert changes.no_difference
    assert changes.entry_reach(entry) == reach
    assert ("names or words only" in text) == (reach is not None)


def test_what_differs_in_two_long_texts_is_shown(mutated: Mutate) -> None:
    """Not the hundred letters before it that are alike; and lists as they stand in the file."""
    long = "Late payment is dear. " * 12
    text = "\n".join(changes_lines(mutated(
        "requirements/arrival.yaml", "Late payment is dear.", long + "Truly.")))
    before, after = shortly(long + "Truly.", long + "Hardly.")

    assert "Truly." in before and "Hardly." in after and before.startswith("…")
    assert "['" not in text


def test_every_output_says_the_same(mutated: Mutate) -> None:
    """Text, Markdown, JSON (by its schema) and picture of one change."""
    changes = mutated("definitions.yaml", "{at least: 25 years ago}", "{at least: 26 years ago}")
    document = changes_document(changes)
    schema = json.loads((SCHEMAS / "changes.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator(schema).validate(json.loads(json.dumps(document)))
    text = "\n".join(changes_lines(changes))
    picture = ElementTree.fromstring(changes_picture(changes))

    assert all(len(line) <= 80 or " " not in line.strip() for line in text.splitlines())
    assert "of-age" in text and "Of age" in changes_markdown(changes)
    assert picture.findall(".//{*}polygon") and picture.find("{*}desc") is not None


def test_the_picture_draws_one_date_and_counts_what_it_leaves_out() -> None:
    """From 20 May 2018 vehicles built 40 years ago are free of the test (Motor Vehicles (Tests)
    (Amendment) Regulations 2017, S.I. 2017/850; before, those built before 1 January 1960): on an
    axis of age since it was built, a band from 40 years up to those built on 1 January 1960.
    """
    rules, first, last = ruleset("GB"), date(2018, 5, 20), date(2028, 12, 31)
    changes = compare(as_of(rules, date(2018, 5, 19)), as_of(rules, first), first, last, TODAY)
    (effect,) = (one for one in changes.effects
                 if (one.kind, one.id) == ("definition", "exempt-from-periodic-test-by-age"))
    picture = ElementTree.fromstring(changes_picture(replace(changes, effects=(effect,))))
    ages = [sorted({round(float(point.split(",")[1])) for point in shape.get("points", "").split()})
            for shape in picture.findall(".//{*}polygon")]
    words = [str(text.text) for text in picture.findall(".//{*}text")]
    years = {text: float(label.get("y", 0)) - 4 for label in picture.findall(".//{*}text")
             if (text := str(label.text)) in ("0", "20", "40", "60", "80")}

    band = next(shape for shape in ages if round(years["40"]) in shape)
    assert band[-1] == round(years["40"]) and years["80"] < band[0] < years["60"]
    assert [shape for shape in ages if shape is not band] == [[round(years["80"]), *band[:-1]]]
    assert any("age counted from: built; not drawn: 1 of 3" in said for said in words)


def test_the_command_proves_that_nothing_differs() -> None:
    """`regkit diff` of a folder and itself."""
    folder = str(INVENTED / "zz")
    result = CliRunner().invoke(main, ["diff", folder, folder, "--today", "2026-01-01"])

    assert result.exit_code == 0, result.output
    assert "No difference for any case" in result.output and "proof" in result.output


def test_the_command_writes_cases_to_assess(tmp_path: Path) -> None:
    """--save writes each region's vehicle as a case file that can be read."""
    result = CliRunner().invoke(main, [
        "diff", str(INVENTED / "zz"), "--law", "2024-06-30", "2024-07-01",
        "--save", str(tmp_path / "seen"), "--form", "json"])

    assert result.exit_code == 0, result.output
    files = sorted((tmp_path / "seen").iterdir())
    assert files and all(regkit.read_case(file, ruleset("ZZ")) for file in files)


def test_a_missing_side_is_said_plainly() -> None:
    """No such revision or version."""
    result = CliRunner().invoke(main, ["diff", "GB", "GB@1999.9"])

    assert result.exit_code == 2
    assert "there is no such version" in result.output


def test_a_git_revision_is_a_side() -> None:
    """The rulesets of a revision are read from git."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    assert read_side("GB@HEAD").ruleset.jurisdiction == "GB"


def test_a_revision_is_one_of_the_rulesets_where_one_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever installed the program keeps rulesets of their own under git."""
    shutil.copytree(INVENTED / "zz", tmp_path / "rulesets" / "zz")
    shutil.copytree(ROOT / "rulesets" / "common", tmp_path / "rulesets" / "common")
    monkeypatch.chdir(tmp_path)
    for command in (["init"], ["add", "."], ["commit", "-m", "Begun"]):
        subprocess.run(["git", "-c", "user.name=Keeper", "-c", "user.email=keeper@club.example",
                        *command], check=True, capture_output=True)

    assert read_side("ZZ@HEAD").ruleset.jurisdiction == "ZZ"
