"""The diff of two rulesets: exact, proven, and the same as assessing both sides."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import regkit
from regkit.compare.changes import as_of, compare
from regkit.model.changes import Reach
from regkit.model.ruleset import Ruleset
from regkit.read.sides import read_side
from tests.drawn_cases import conditions, read
from tests.rulesets_under_test import INVENTED, NAMES, ruleset
from tests.zedland_changed import FIRST, LAST, ONE_DAY, TODAY, Mutate, effect


@pytest.mark.parametrize("name", NAMES)
def test_a_ruleset_does_not_differ_from_itself(name: str) -> None:
    """No difference for any case, over seventy years."""
    rules = ruleset(name)
    changes = compare(rules, rules, date(1980, 1, 1), date(2049, 12, 31), TODAY)

    assert changes.no_difference and not changes.entries
    assert changes.compared >= len(rules.requirements) + len(rules.definitions)


@pytest.mark.parametrize(("before", "after", "spans"), [
    ("{before: 1930-01-01}", "{before: 1930-01-02}", None),  # out of force in the horizon
    ("{on or after: 1950-01-01, on or before: 1959-12-31}",
     "{on or after: 1950-01-01, on or before: 1960-01-01}", (date(1960, 1, 1), date(1960, 1, 1))),
    ("{after: 1965-06-30}", "{after: 1965-06-29}", (date(1965, 6, 30), date(1965, 6, 30))),
])
def test_one_days_shift_of_a_threshold_is_found_with_its_day(
    mutated: Mutate, before: str, after: str, spans: tuple[date, date] | None
) -> None:
    """Exactly the vehicles of that one day differ."""
    changes = mutated("definitions.yaml", before, after)

    if spans is None:
        assert changes.no_difference
        return
    definitions = [one for one in changes.effects if one.kind == "definition"]
    assert any(limit.spans == (spans,) for one in definitions
               for region in one.regions for limit in region.limits)


def test_a_moving_threshold_moves_with_the_day(mutated: Mutate) -> None:
    """'At least 25 years' to '26': a year's vehicles, another year's every day."""
    region, = effect(mutated("definitions.yaml", "{at least: 25 years ago}",
                             "{at least: 26 years ago}"), "of-age").regions
    limit, = region.limits

    assert (region.before, region.after) == ("yes", "no")
    assert limit.spans == ((date(1994, 1, 2), date(1995, 1, 1)),)
    assert limit.spans_later == ((date(2004, 1, 1), date(2004, 12, 31)),)
    assert region.days == ((FIRST, LAST),) and limit.moves


@pytest.mark.parametrize(("file", "before", "after"), [
    ("definitions.yaml", "title: Of age\n", "title: Grown up\n"),
    ("definitions.yaml", "vehicle.kind: [trailer, bus]", "vehicle.kind: [bus, trailer]"),
    ("requirements/arrival.yaml", "Late payment is dear.", "Paying late is dear."),
    ("facts.yaml", "label: laid up", "label: asleep since"),
    ("definitions.yaml", "    vehicle.engine_capacity: {more than: 50 cc, at most: 250 cc}",
     "    all:\n      - vehicle.engine_capacity: {more than: 50 cc}\n"
     "      - vehicle.engine_capacity: {at most: 250 cc}"),
    ("definitions.yaml", "middling-engine:", "above-small:\n  title: Above small\n  when:\n"
     "    vehicle.engine_capacity: {more than: 50 cc}\n  sources: [engine-rule]\n\n"
     "middling-engine:"),
])
def test_names_and_words_only(mutated: Mutate, file: str, before: str, after: str) -> None:
    """Reordering, renaming labels, splitting a condition: proven to change no answer."""
    changes = mutated(file, before, after)
    changed = [one for one in changes.effects if one.id != "above-small"]

    assert not changed
    assert changes.entries


@pytest.fixture
def renaming(tmp_path: Path) -> Callable[[str, str], tuple[Ruleset, Ruleset]]:
    """Return a function that gives Zedland's woken vehicles and port slips other names."""
    def rename(before: str = "", after: str = "") -> tuple[Ruleset, Ruleset]:
        folder = tmp_path / "zz"
        shutil.copytree(INVENTED / "zz", folder)
        for file in folder.rglob("*.yaml"):
            text = file.read_text("utf-8").replace(before, after) if before else (
                file.read_text("utf-8"))
            file.write_text(text.replace("zz.woken", "zz.awake").replace("port-slip", "port-note"),
                            "utf-8")
        with (folder / "renamed.yaml").open("a", encoding="utf-8") as renamed:
            renamed.write("zz.woken: {to: zz.awake, on: 2026-11-25, because: Shorter.}\n"
                          "port-slip: {to: port-note, on: 2026-11-25, because: Shorter.}\n")
        return read_side(str(INVENTED / "zz")).ruleset, read_side(str(folder)).ruleset

    return rename


def test_a_new_name_of_a_fact_or_a_paper_is_no_difference(
    renaming: Callable[..., tuple[Ruleset, Ruleset]]
) -> None:
    """A case that tells the fact by its old name is answered alike."""
    assert compare(*renaming(), FIRST, LAST, TODAY).no_difference


def test_a_renamed_fact_is_told_so_that_both_sides_understand_it(
    renaming: Callable[..., tuple[Ruleset, Ruleset]]
) -> None:
    """By its old name, which the new side knows too; and each answers as the region says."""
    old, new = renaming("{more than: 30 days ago}", "{more than: 31 days ago}")
    changes = compare(old, new, FIRST, LAST, TODAY)
    found, = (one for one in changes.effects if one.kind == "requirement")
    region, = found.regions

    assert region.witness is not None and "zz.woken" in region.witness.facts
    for side, outcome in ((old, region.before), (new, region.after)):
        case = regkit.read_case(
            {"jurisdiction": "ZZ", "facts": dict(region.witness.facts)}, side)
        assert regkit.assess(case, side, region.witness.on).finding(found.id).verdict == outcome


def test_windows_needs_and_charges_are_compared(mutated: Mutate) -> None:
    """A longer window is one that ended and one that began, for the same vehicles."""
    changes = mutated("requirements/arrival.yaml", "within: 14 days", "within: 15 days")
    windows = [one for one in changes.effects if one.kind == "window"]

    assert {region.after for one in windows for region in one.regions} == {"yes", "no"}
    assert not [one for one in changes.effects if one.kind == "requirement"]


def test_what_a_requirement_asks_for_moves_the_region_of_its_window(mutated: Mutate) -> None:
    """Another window for what was woken more than 30 days ago: another day's vehicles each day."""
    changes = mutated("requirements/keeping.yaml", "{within: forthwith, of: zz.woken",
                      "{within: 5 days, of: zz.woken")
    limits = [limit for one in changes.effects for region in one.regions
              for limit in region.limits if limit.key == "zz.woken"]

    assert limits and all(limit.moves for limit in limits)


def test_from_now_on_and_back_dated(mutated: Mutate) -> None:
    """A change of days before today is back-dated."""
    changes = mutated("definitions.yaml", "{at least: 25 years ago}", "{at least: 26 years ago}")

    assert effect(changes, "of-age").reach(TODAY) == Reach.BACK_DATED
    assert effect(changes, "of-age").reach(FIRST) == Reach.FROM_NOW_ON


MUTATIONS = [
    ("definitions.yaml", "{at least: 25 years ago}", "{more than: 25 years ago}"),
    ("definitions.yaml", "{less than: 120 months ago}", "{less than: 119 months ago}"),
    ("definitions.yaml", '"1 January, 30 years before the latest 1 April"',
     '"1 January, 31 years before the latest 1 April"'),
    ("definitions.yaml", "{less than: 4 kW}", "{less than: 5 kW}"),
    ("definitions.yaml", "arrival.from: {not: [FR, DE]}", "arrival.from: {not: [FR]}"),
    ("definitions.yaml", "{at least: 6 months before arrival.date}",
     "{at least: 7 months before arrival.date}"),
    ("definitions.yaml", "zz.bell: none", "zz.bell: brass"),
    ("requirements/keeping.yaml", "vehicle.first_registered_here: never",
     "vehicle.first_registered_here: {after: 2020-01-01}"),
]


@pytest.mark.parametrize(("file", "before", "after"), MUTATIONS, ids=lambda text: str(text)[:30])
def test_every_witness_is_answered_differently(
    mutated: Mutate, file: str, before: str, after: str, tmp_path: Path
) -> None:
    """The case shown for each region of a requirement is assessed on both sides as told."""
    changes = mutated(file, before, after)
    old, new = ruleset("ZZ"), regkit.load(tmp_path / "zz")

    assert changes.effects
    for one in changes.effects:
        for region in one.regions:
            assert region.witness is not None
            case = read(new, region.witness.facts)
            assert case is not None
            if one.kind == "requirement":
                found = tuple(regkit.assess(case, rules, region.witness.on).verdicts[one.id].value
                              for rules in (old, new))
                assert found == (region.before, region.after)


@pytest.mark.parametrize(("file", "before", "after"), MUTATIONS, ids=lambda text: str(text)[:30])
def test_the_days_around_every_boundary_agree_with_assessing_both_sides(
    mutated: Mutate, file: str, before: str, after: str, tmp_path: Path
) -> None:
    """Each date of each witness moved by a day, on both sides: only inside a region they differ."""
    changes = mutated(file, before, after)
    old, new = ruleset("ZZ"), regkit.load(tmp_path / "zz")
    differing = {one.id for one in changes.effects if one.kind == "requirement"}

    for one in changes.effects:
        for witness in (region.witness for region in one.regions if region.witness):
            for facts in _around(dict(witness.facts)):
                _agrees(old, new, facts, witness.on, differing)


def _around(facts: dict[str, Any]) -> list[dict[str, Any]]:
    found = [facts]
    for name, value in facts.items():
        if len(str(value)) == 10 and str(value)[4] == "-":
            found += [{**facts, name: str(date.fromisoformat(value) + step)}
                      for step in (-ONE_DAY, ONE_DAY)]
    return found


def _agrees(old: Ruleset, new: Ruleset, facts: Any, on: date, differing: set[str]) -> None:
    one, other = read(old, facts), read(new, facts)
    if one is None or other is None:
        return
    before, after = regkit.assess(one, old, on).verdicts, regkit.assess(other, new, on).verdicts
    assert {name for name in before if before[name] != after[name]} <= differing


@pytest.mark.parametrize(("file", "before", "after"), MUTATIONS, ids=lambda text: str(text)[:30])
def test_drawn_cases_differ_only_where_the_diff_says(
    mutated: Mutate, file: str, before: str, after: str, tmp_path: Path
) -> None:
    """Cases drawn at random: an answer that differs belongs to a requirement that was listed."""
    changes = mutated(file, before, after)
    old, new = ruleset("ZZ"), regkit.load(tmp_path / "zz")
    differing = {one.id for one in changes.effects if one.kind == "requirement"}
    chance = random.Random(5)

    for _ in range(150):
        on = FIRST + chance.randrange((LAST - FIRST).days) * ONE_DAY
        facts = {fact.name: _value(fact, chance) for fact in new.asked if chance.random() < 0.7}
        _agrees(old, new, facts, on, differing)


def _value(fact: Any, chance: random.Random) -> Any:
    if fact.allowed is not None:
        return chance.choice(fact.allowed)
    if fact.type == "date":
        return str(date(1940, 1, 1) + chance.randrange(32_000) * ONE_DAY)
    if fact.type == "quantity":
        return f"{chance.randrange(400)} {fact.unit}"
    return {"money": "12000 XTS", "country": chance.choice(["FR", "DE", "JP"])}.get(fact.type, "A")


def test_another_rule_for_29_february_differs_on_28_february_alone() -> None:
    """What was first registered on 29 February 1996, 2000 or 2004 is 25 on another day.

    The days on which the two laws answer otherwise are found by asking both on each day.
    """
    rules = ruleset("ZZ")
    other = replace(rules, digest="another 29 February", leap_day=(
        "28 February" if rules.leap_day == "1 March" else "1 March"))
    changes = compare(rules, other, FIRST, LAST, TODAY)
    found = {day for region in effect(changes, "of-age").regions for day, last in region.days}
    case = regkit.read_case(
        {"jurisdiction": "ZZ", "facts": {"vehicle.first_registered": "1996-02-29"}}, rules)

    def of_age(law: Ruleset, on: date) -> str:
        (one,) = (c for c in regkit.assess(case, law, on).classes if c.id == "of-age")
        return one.outcome.value

    asked = [date(2021, 1, 1) + ONE_DAY * number for number in range(90)]
    assert {on for on in asked if of_age(rules, on) != of_age(other, on)} == {date(2021, 2, 28)}
    assert found == {date(2021, 2, 28), date(2025, 2, 28), date(2029, 2, 28)}


def test_the_law_of_two_days() -> None:
    """From 1 July 2024 the plaque is no longer required of anyone: by law, not by time."""
    rules = ruleset("ZZ")
    changes = compare(as_of(rules, date(2024, 6, 30)), as_of(rules, date(2024, 7, 1)),
                      date(2024, 7, 1), date(2034, 12, 31), TODAY)
    region, = effect(changes, "carry-a-plaque").regions

    assert {one.id for one in changes.effects} == {"carry-a-plaque"}
    assert (region.before, region.after) == ("required", "not required")


def test_an_open_question_leaves_a_change_undecided(mutated: Mutate) -> None:
    """What hangs on an open question is shown as it is assessed: undecided."""
    changes = mutated("definitions.yaml", "      - zz.bell: none\n",
                      "      - zz.bell: none\n      - zz.bell: steel\n")
    outcomes = {(region.before, region.after) for one in changes.effects
                if one.kind == "requirement" for region in one.regions}

    assert outcomes == {("undecided", "required")}


def test_conditions_are_drawn_from_a_law() -> None:
    """The invented jurisdiction has conditions enough for these tests to mean something."""
    rules = replace(ruleset("ZZ"))
    assert len(list(conditions(rules, TODAY))) > 20
