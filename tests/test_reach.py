"""What a ruleset can never reach, exactly, on any day of a span."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import regkit
from regkit.compare.reach import Reach, gaps
from regkit.conditions import All, Holds
from regkit.judge.law import law_on
from regkit.read.case import read_case
from tests.drawn_cases import DAYS, cases, days_of_assessment, read
from tests.referee import Referee
from tests.rulesets_under_test import INVENTED, NAMES, ruleset

ON = date(2026, 4, 1)


def changed(tmp_path: Path, file: str, before: str, after: str) -> Reach:
    """Return what Zedland can reach once one text is changed."""
    folder = tmp_path / "zz"
    shutil.copytree(INVENTED / "zz", folder)
    path = folder / file
    text = path.read_text("utf-8")
    assert before in text
    path.write_text(text.replace(before, after, 1), "utf-8")
    return Reach(regkit.load(folder), ON)


@pytest.mark.parametrize(("file", "before", "after", "kind", "name", "always"), [
    ("requirements/arrival.yaml", "    vehicle.place: abroad\n",
     "    all: [{vehicle.place: abroad}, {vehicle.place: found_here}]\n",
     "requirements", "report-to-the-port", False),
    ("requirements/arrival.yaml", "    vehicle.place: abroad\n",
     "    any: [{vehicle.place: abroad}, {none: [{vehicle.place: abroad}]}]\n",
     "requirements", "report-to-the-port", True),
    # Built after 1960 and registered, which is no earlier, before 1950.
    ("definitions.yaml", "    vehicle.built: {on or after: 1950-01-01, on or before: 1959-12-31}",
     "    all: [{vehicle.built: {after: 1960-12-31}}, "
     "{vehicle.first_registered: {before: 1950-01-01}}]", "definitions", "middle-aged", False),
    # Today nothing is both; when the cut-off of age has moved past 2000, something will be.
    ("definitions.yaml", "    vehicle.built: {on or after: 1950-01-01, on or before: 1959-12-31}",
     "    all: [{vehicle.built: {after: 2000-12-31}}, {vehicle.built: {at least: 40 years ago}}]",
     "definitions", "middle-aged", None),
])
def test_what_no_vehicle_or_every_vehicle_meets(
    tmp_path: Path, file: str, before: str, after: str, kind: str, name: str, always: bool | None
) -> None:
    """Over the whole span, not on one day."""
    assert changed(tmp_path, file, before, after).always(kind, name) is always


def test_a_threshold_inside_another_never_decides(tmp_path: Path) -> None:
    """Named with its edition; the one that decides is not."""
    reach = changed(
        tmp_path, "definitions.yaml",
        "    vehicle.engine_capacity: {more than: 50 cc, at most: 250 cc}",
        "    all: [{vehicle.engine_capacity: {more than: 50 cc}}, "
        "{vehicle.engine_capacity: {more than: 40 cc}}]")

    (idle,) = reach.idle_tests("definitions", "middling-engine")
    assert "40" in str(idle[1].rule())


def test_gaps_in_time_are_found() -> None:
    """Zedland had no class of old vehicles in the year 2000."""
    (gap,) = gaps(ruleset("ZZ").definitions["old-vehicle"])

    assert (gap.first, gap.last) == (date(2000, 1, 1), date(2000, 12, 31))


def test_classes_that_meet_are_shown_by_a_vehicle() -> None:
    """An old vehicle can be of age too; the vehicle named is judged to be both on its day."""
    rules = ruleset("ZZ")

    met = Reach(rules, ON).together("old-vehicle", "of-age")

    assert met is not None
    case = read_case({"jurisdiction": "ZZ", "facts": dict(met.facts)}, rules)
    law = law_on(rules, met.on)
    for name in ("old-vehicle", "of-age"):
        assert Holds(name, law.definitions[name].title).truth(law.view(case)).word == "yes"


def test_classes_that_never_meet() -> None:
    """One of the middle years cannot be just made."""
    assert Reach(ruleset("ZZ"), ON).together("middle-aged", "just-made") is None


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_requirement_is_within_reach(name: str) -> None:
    """In every shipped ruleset each requirement can be required of some vehicle on some day."""
    rules = ruleset(name)
    reach = Reach(rules, ON)

    assert not [entry for entry in rules.requirements
                if reach.always("requirements", entry) is False]


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=25)
@given(data=st.data(), on=days_of_assessment)
def test_classes_the_law_keeps_apart_never_hold_of_one_drawn_vehicle(
    name: str, data: st.DataObject, on: date
) -> None:
    """Drawn cases agree with what is said of every vehicle."""
    rules = ruleset(name)
    case = read(rules, data.draw(cases(rules, on)))
    law = law_on(rules, on)
    for entry, history in rules.definitions.items() if case else ():
        for other in history.latest.excludes:
            truths = {Holds(one, law.definitions[one].title).truth(law.view(case)).word
                      for one in (entry, other)}
            assert truths != {"yes"}, (entry, other)


@pytest.mark.parametrize("name", NAMES)
def test_classes_kept_apart_are_apart_for_z3(name: str) -> None:
    """The referee finds no vehicle in both either, under the law of some days."""
    rules = ruleset(name)
    for on in DAYS:
        law = law_on(rules, on)
        referee = Referee(law.definitions, law.day)
        for entry, history in rules.definitions.items():
            for other in history.latest.excludes:
                both = All((Holds(entry, history.latest.title),
                            Holds(other, rules.definitions[other].latest.title)))
                assert not referee.differ(referee.formula(both), referee.formula(None))
