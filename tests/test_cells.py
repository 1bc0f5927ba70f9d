"""Diagrams: the same node exactly if no vehicle tells two conditions apart, says z3."""

from __future__ import annotations

from datetime import date
from itertools import combinations
from typing import Any

import pytest
import z3
from hypothesis import given, settings

from regkit.compare.regions import Shape
from regkit.conditions import Condition
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import (
    FALSE,
    TRUE,
    Diagrams,
    Line,
    TooLarge,
    WordSet,
    asked_by,
    way_to_true,
)
from regkit.conditions.view import View
from regkit.judge.law import law_on
from regkit.keep.mutants import mutants
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from tests import small_world
from tests.referee import Referee
from tests.rulesets_under_test import NAMES, ruleset

DAYS = (date(2010, 6, 1), date(2026, 4, 1))


def drawing(rules: Ruleset, on: date) -> Cells:
    """Return the drawing of a case that tells nothing."""
    return Cells(law_on(rules, on).view(Case(rules.jurisdiction, {}, vocabulary=rules.vocabulary)))


def editions(rules: Ruleset) -> list[tuple[str, Condition, Condition]]:
    """Return every pair of editions of every entry."""
    return [
        (history.id, one.when, other.when)
        for histories in (rules.definitions, rules.requirements)
        for history in histories.values()
        for one, other in combinations(history.editions, 2)
    ]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("on", DAYS, ids=str)
def test_two_editions_differ_exactly_where_z3_says_so(name: str, on: date) -> None:
    """Every pair of editions of every entry of every shipped ruleset."""
    rules = ruleset(name)
    cells, law = drawing(rules, on), law_on(rules, on)
    referee = Referee(law.definitions, law.day)
    for entry, one, other in editions(rules):
        same = cells.draw(one) is cells.draw(other)
        assert same != referee.differ(referee.formula(one), referee.formula(other)), entry


@pytest.mark.parametrize("name", NAMES)
def test_never_and_always_are_those_of_z3(name: str) -> None:
    """A requirement's diagram is `FALSE` or `TRUE` exactly if no vehicle makes it otherwise."""
    rules, on = ruleset(name), DAYS[1]
    cells, law = drawing(rules, on), law_on(rules, on)
    referee = Referee(law.definitions, law.day)
    never, always = referee.formula(None), referee.formula(small_world.read({"none": [
        {"all": [{"v.old": "yes"}, {"none": [{"v.old": "yes"}]}]}]}))
    for requirement, condition in law.requirements.items():
        drawn = cells.draw(condition)
        formula = referee.formula(condition)
        assert (drawn is not FALSE) == referee.differ(formula, never), requirement
        assert (drawn is not TRUE) == referee.differ(formula, always), requirement


@pytest.mark.parametrize("name", NAMES)
def test_a_small_mistake_makes_the_difference_z3_says_it_makes(name: str) -> None:
    """Every changed condition of every mutant of every shipped ruleset: whether it differs, and
    that the whole region which a way through the difference describes does differ.
    """
    rules, on = ruleset(name), DAYS[1]
    cells, law = drawing(rules, on), law_on(rules, on)
    referee = Referee(law.definitions, law.day)
    for mutant in mutants(rules):
        if mutant.changes_condition and mutant.edition is not None and mutant.was.in_force(on):
            before, after = (edition.when for edition in (mutant.was, mutant.edition))
            apart = z3.Xor(referee.formula(before), referee.formula(after))
            differ = cells.diagrams.differ(cells.draw(before), cells.draw(after))
            assert (differ is not FALSE) == referee.possible(apart), mutant.name
            if differ is not FALSE:
                asked = asked_by(differ)
                region = [referee.inside(cells.diagrams.variables[key], part, asked[key])
                          for key, part in way_to_true(differ).items()]
                assert referee.possible(*region), mutant.name
                assert not referee.possible(*region, z3.Not(apart)), mutant.name


@settings(max_examples=150, deadline=None)
@given(one=small_world.written_conditions, other=small_world.written_conditions)
def test_drawn_conditions_are_one_node_exactly_if_z3_finds_no_difference(
    one: Any, other: Any
) -> None:
    """The same of conditions that are made up."""
    view: View = small_world.view({})
    cells, referee = Cells(view), Referee({}, view.day)
    first, second = small_world.read(one), small_world.read(other)

    assert (cells.draw(first) is cells.draw(second)) != referee.differ(
        referee.formula(first), referee.formula(second))


@settings(max_examples=100, deadline=None)
@given(one=small_world.written_conditions, other=small_world.written_conditions)
def test_boxes_are_the_region_and_reach_beyond_it_into_nowhere_alone(
    one: Any, other: Any
) -> None:
    """What no vehicle can be may be told along, if that takes fewer words."""
    cells = Cells(small_world.view({}))
    diagrams, nowhere = cells.diagrams, cells.draw(small_world.read(other))
    region = diagrams.both(cells.draw(small_world.read(one)), diagrams.negate(nowhere))
    shape = Shape(diagrams, region, nowhere)
    told = diagrams.some(shape.draw(box) for box in shape.boxes())

    assert diagrams.both(told, diagrams.negate(nowhere)) is region


def test_a_way_to_true_makes_it_true() -> None:
    """Following the parts of a way through the diagram leads to `TRUE`."""
    diagrams = Diagrams()
    hue = diagrams.where(WordSet("hue", (), "value", ("red", "green", "blue")), ["blue"])
    age = diagrams.where(Line("age"), [(10, 20), (30, None)])
    both = diagrams.both(hue, diagrams.negate(age))

    found = both
    for key, part in way_to_true(both).items():
        found = diagrams.fixed(found, key, part)
    assert found is TRUE


def test_all_words_together_are_everything() -> None:
    """Of a closed list, one word is as good as 'none of the others'."""
    diagrams, hue = Diagrams(), WordSet("hue", (), "value", ("red", "green", "blue"))

    assert diagrams.some(diagrams.where(hue, [word]) for word in hue.words or ()) is TRUE
    assert diagrams.where(hue, ["red"]) is diagrams.negate(diagrams.where(hue, ["green", "blue"]))


def test_a_diagram_too_large_to_bear_says_so() -> None:
    """It gives up rather than fill the memory."""
    diagrams = Diagrams(largest=10)
    with pytest.raises(TooLarge, match="past 10 nodes"):
        diagrams.some(
            diagrams.both(*(diagrams.where(WordSet(f"{side}{n}", (), "value", ("no", "yes")),
                                           ["yes"]) for side in "ab"))
            for n in range(12))
