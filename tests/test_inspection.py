"""What an inspector looks at, with the answer the case gives now."""

from __future__ import annotations

from typing import Any

import pytest

import regkit
from regkit.model.packet import InspectionItem, ItemState
from regkit.show.packet_text import packet_lines
from tests.quillby import ON, assessed, say

RIGHT, WRONG, OPEN = ItemState.RIGHT, ItemState.WRONG, ItemState.OPEN
NUMBER, COMPLETE, RUNS, SEAL, CLEAN = range(5)


def items(facts: dict[str, Any] | None = None, *papers: dict[str, Any]
          ) -> tuple[InspectionItem, ...]:
    return assessed(facts, papers).packet("register-it").inspection


def test_the_list_comes_from_the_ruleset_in_its_order() -> None:
    assert [say(item.looks_at) for item in items()] == [
        "The number on the frame", "Whether it is complete", "Whether the engine runs",
        "That no lead seal is left on it", "Whether it is clean"]


def test_an_item_names_its_own_source_and_its_kind() -> None:
    """Common practice is marked as such; an item without a source stands on its requirement's."""
    found = items()

    assert found[NUMBER].weakest == "common practice"
    assert found[COMPLETE].weakest == "law"
    assert found[CLEAN].weakest == "form notes"


@pytest.mark.parametrize(("complete", "runs", "states"), [
    ("yes", "no", (RIGHT, WRONG)),
    ("no", "yes", (WRONG, RIGHT)),
    ("yes", "unknown", (RIGHT, OPEN)),
    (None, None, (OPEN, OPEN)),
])
def test_not_running_and_incomplete_are_different(
    complete: str | None, runs: str | None, states: tuple[ItemState, ItemState]
) -> None:
    found = items({"vehicle.complete": complete, "vehicle.runs": runs})

    assert (found[COMPLETE].state, found[RUNS].state) == states


def test_some_things_should_not_be_there() -> None:
    assert items({"qb.lead_seal": "no"})[SEAL].state == RIGHT
    assert items({"qb.lead_seal": "yes"})[SEAL].state == WRONG


def test_what_no_fact_tells_is_left_to_look_at() -> None:
    assert items()[CLEAN].state == OPEN


@pytest.mark.parametrize(("seen", "on_paper", "state"), [
    (None, "S25 10482", OPEN),
    ("S25 10482", None, OPEN),
    ("S25 10482", "s25-10482", RIGHT),
    ("S25 1O482", "S25 10482", WRONG),
    ("S25 10483", "S25 10482", WRONG),
])
def test_a_number_is_right_if_it_is_readable_and_matches(
    seen: str | None, on_paper: str | None, state: ItemState
) -> None:
    papers = [{"evidence": "old-document", "shows": {"vehicle.frame_number": on_paper}}]
    found = items({"vehicle.frame_number_seen": seen}, *(papers if on_paper else []))

    assert found[NUMBER].state == state


def test_a_number_that_does_not_match_names_who_says_what() -> None:
    paper = {"evidence": "old-document", "shows": {"vehicle.frame_number": "S25 10482"}}
    answer = say(items({"vehicle.frame_number_seen": "S25 10483"}, paper)[NUMBER].answer)

    assert answer == (
        "frame number seen: S25 10483; contradiction: S25 10482 by 'Old document' and S25 10483 "
        "by the case, under 'frame number seen'")


def test_great_britain_looks_at_numbers_and_completeness_and_not_whether_it_runs() -> None:
    """DVLA's look before registration is known from memory only, and marked so."""
    rules = regkit.load("GB")
    told = regkit.read_case("docs/cases/gb-papers.yaml", rules)
    found = regkit.assess(told, rules, ON).packet("expect-inspection")

    assert [(item.fact, item.state) for item in found.inspection] == [
        ("vehicle.frame_number_seen", WRONG),
        ("vehicle.engine_number_seen", RIGHT),
        ("vehicle.complete", RIGHT),
    ]
    assert {item.weakest for item in found.inspection} == {"from memory"}
    assert "(as it should be; from memory)" in "\n".join(packet_lines(found))
