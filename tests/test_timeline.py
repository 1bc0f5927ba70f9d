"""The timeline: well-formed SVG, every step, window and change in it, readable without colour."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import regkit
from regkit.compare.ahead import ahead
from regkit.show.timeline import WIDTH, timeline

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
SVG = "{http://www.w3.org/2000/svg}"


def drawn(until: date | None = None, **facts: Any) -> ElementTree.Element:
    case = regkit.read_case({"jurisdiction": "QA", "facts": {
        "vehicle.first_registered_here": "never", "vehicle.built": "1997-03",
        "arrival.date": "2026-03-01", "qa.engine_as_recorded": "no", **facts}}, ISLAND)
    found = regkit.assess(case, ISLAND, date(2026, 3, 10))
    changes = ahead(case, ISLAND, found.on, until) if until else None
    return ElementTree.fromstring(timeline(found, changes))


def texts(picture: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in picture.iter(f"{SVG}text")]


def test_every_step_has_its_row() -> None:
    said = texts(drawn())
    for title in ("Clear customs", "Prove its age", "Have the engine explained", "Obtain approval",
                  "Tell the harbour office of the arrival", "Register it"):
        assert title in said


def test_changes_are_drawn_with_their_day() -> None:
    picture = drawn(date(2026, 7, 1))
    said = " / ".join(texts(picture))
    assert "16 March 2026: Tell the harbour office of the arrival: overdue" in said
    # One triangle for each change and one in the legend.
    assert len(picture.findall(f"{SVG}path")) == 1 + said.count("2026: ")


def test_only_black_white_and_grey_are_used() -> None:
    picture = drawn(date(2026, 7, 1))
    colours = {value for node in picture.iter() for key, value in node.attrib.items()
               if key in ("fill", "stroke")}
    assert colours == {"black", "white", "#777", "url(#may)"}


def test_what_decides_the_end_is_told_by_weight_too() -> None:
    bold = [text.text for text in drawn().iter(f"{SVG}text") if text.get("font-weight") == "bold"]
    assert {"Prove its age", "Have the engine explained", "Register it"} <= set(bold)
    assert "Clear customs" not in bold


def test_nothing_leaves_the_picture() -> None:
    picture = drawn(date(2060, 1, 1))
    for node in picture.iter():
        for key in ("x", "x1", "x2"):
            assert 0 <= float(node.get(key, "0")) <= WIDTH
    height = float(picture.get("height", "0"))
    assert all(float(node.get("y", "0")) <= height for node in picture.iter(f"{SVG}text"))


def test_text_of_a_case_is_escaped_and_nothing_runs_or_is_fetched() -> None:
    case = regkit.read_case({"jurisdiction": "QA", "title": "<script>x</script> & more",
                             "facts": {"vehicle.first_registered_here": "never"}}, ISLAND)
    written = timeline(regkit.assess(case, ISLAND, date(2026, 3, 10)))
    assert "<script" not in written and "&lt;script&gt;" in written
    assert not re.search(r"(href|onload|@import)", written)


