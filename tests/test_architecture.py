"""The architecture page: its picture says what the code's imports say."""

from __future__ import annotations

import sys
from xml.etree import ElementTree

import networkx

from tests.rulesets_under_test import ROOT
from tests.test_imports import MODULES, dotted, imported, room_of

sys.path.insert(0, str(ROOT / "docs"))
import rooms


def arrows() -> set[tuple[str, str]]:
    """Return which room imports which, by the walk that guards the arrows."""
    found = {(room_of(dotted(file)), room_of(name)) for file in MODULES
             for name, _ in imported(file) if name.split(".")[0] == "regkit"}
    # `python -m regkit` is the door to the commands.
    named = {(one.replace("__main__", "commands"), other) for one, other in found}
    return {(one, other) for one, other in named if one != other}


def test_the_page_reads_the_imports_that_are_there() -> None:
    """Two walks of the code find the same arrows."""
    found = rooms.rooms()

    assert {(name, used) for name, room in found.items() for used in room.uses} == arrows()


def test_networkx_leaves_out_the_same_arrows() -> None:
    """The transitive reduction of a directed acyclic graph is unique (Aho, Garey, Ullman 1972)."""
    reduced = networkx.transitive_reduction(networkx.DiGraph(arrows()))

    assert rooms.drawn_arrows(rooms.rooms()) == set(reduced.edges)


def test_every_room_is_drawn_and_says_what_it_is_for() -> None:
    """A room without a docstring would be a blank in the table."""
    found = rooms.rooms()
    drawn = ElementTree.fromstring(rooms.picture(found))

    assert {text.text for text in drawn.findall(".//{*}text")} == set(found)
    assert all(len(room.purpose) > 20 for room in found.values())
    assert len(drawn.findall("{*}path")) == len(rooms.drawn_arrows(found))
