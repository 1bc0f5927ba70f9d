"""What a ruleset can never reach, exactly."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

import regkit
from regkit.compare.reach import Unreached, overlapping, unreached
from tests.rulesets_under_test import INVENTED, NAMES, ruleset

ON = date(2026, 4, 1)


def with_text(tmp_path: Path, file: str, before: str, after: str) -> list[Unreached]:
    """Return what Zedland can never reach once one text is changed."""
    folder = tmp_path / "zz"
    shutil.copytree(INVENTED / "zz", folder)
    path = folder / file
    text = path.read_text("utf-8")
    assert before in text
    path.write_text(text.replace(before, after, 1), "utf-8")
    return list(unreached(regkit.load(folder), ON))


@pytest.mark.parametrize(("file", "before", "after", "what", "name"), [
    ("requirements/arrival.yaml", "    vehicle.place: abroad\n",
     "    all: [{vehicle.place: abroad}, {vehicle.place: found_here}]\n",
     "never required", "report-to-the-port"),
    ("requirements/arrival.yaml", "    vehicle.place: abroad\n",
     "    any: [{vehicle.place: abroad}, {none: [{vehicle.place: abroad}]}]\n",
     "always required", "report-to-the-port"),
    # Built before 1950 and registered, which is no earlier, before 1940: the first says nothing.
    ("definitions.yaml", "    vehicle.built: {on or after: 1950-01-01, on or before: 1959-12-31}",
     "    all: [{vehicle.built: {after: 1960-12-31}}, "
     "{vehicle.first_registered: {before: 1950-01-01}}]", "never holds", "middle-aged"),
    ("definitions.yaml", "    vehicle.engine_capacity: {more than: 50 cc, at most: 250 cc}",
     "    all: [{vehicle.engine_capacity: {more than: 50 cc}}, "
     "{vehicle.engine_capacity: {more than: 40 cc}}]", "threshold never decides",
     "middling-engine"),
])
def test_what_can_never_make_a_difference(
    tmp_path: Path, file: str, before: str, after: str, what: str, name: str
) -> None:
    """Each kind is found where it is put in."""
    found = {(one.what, one.names) for one in with_text(tmp_path, file, before, after)}

    assert (what, (name,)) in found


def test_gaps_in_time_are_found() -> None:
    """Zedland had no class of old vehicles in the year 2000."""
    found = {(one.what, one.names): one.detail for one in unreached(ruleset("ZZ"), ON)}

    assert found["gap", ("old-vehicle",)] == "2000-01-01 to 2000-12-31"


def test_overlapping_classes_are_found() -> None:
    """An old vehicle can be of age too; one of the middle years cannot be just made."""
    rules = ruleset("ZZ")

    assert list(overlapping(rules, ON, ("old-vehicle", "of-age")))
    assert not list(overlapping(rules, ON, ("middle-aged", "just-made")))


@pytest.mark.parametrize("name", NAMES)
def test_no_shipped_requirement_is_out_of_reach(name: str) -> None:
    """In every shipped ruleset each requirement in force can be required of some vehicle."""
    found = [one for one in unreached(ruleset(name), ON) if one.what == "never required"]

    assert not found
