"""Printed sheets: one self-contained page each, everything escaped, nothing invented."""

from __future__ import annotations

import json
import sys
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from regkit.commands import main
from regkit.model.bill_document import bills_document
from regkit.model.packet_document import packet_document
from regkit.show import page
from regkit.show.cover_sheet import cover_sheet
from regkit.show.handover_sheet import handover_sheet
from tests.quillby import assessed
from tests.rulesets_under_test import ROOT, SCHEMAS

PAPERS = str(ROOT / "docs/cases/gb-papers.yaml")
LETTER = {"evidence": "dating-letter", "reference": "L 1", "dated": "2026-01-02",
          "shows": {"vehicle.built": "1962"}}


class _Page(HTMLParser):
    """Collects the words and the tags of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.words = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for name, value in attrs if name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        self.words += data + " "


def cover(facts: dict[str, Any] | None = None, *papers: dict[str, Any], **more: Any) -> _Page:
    found = assessed(facts, papers, **more)
    return _Page(cover_sheet(found, found.packet("register-it", date(2026, 5, 10))))


def before(facts: dict[str, Any] | None = None, route: str = "") -> _Page:
    found = assessed(facts)
    return _Page(handover_sheet(found, found.handover(route)))


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


# ------------------------------------------------------------------ the cover sheet

def test_the_cover_sheet_lists_what_is_enclosed_and_what_each_paper_shows() -> None:
    words = cover(None, LETTER).words

    for part in ("Register it", "To Office of Quillby", "Dating letter", "original",
                 "of 2 January 2026, number L 1", "built 1962", "to be sent", "10 May 2026",
                 "Do not fold the form."):
        assert part in words


def test_it_says_what_is_not_enclosed_and_that_the_packet_is_not_ready() -> None:
    words = cover(None, {**LETTER, "as": "copy"}, {"evidence": "old-document", "as": "copy"}).words

    assert "Not ready:" in words
    assert "Form Q: missing" in words


def test_it_says_what_was_compared_and_what_does_not_agree() -> None:
    words = cover({"vehicle.frame_number_seen": "A 1O"}, LETTER,
                  {"evidence": "old-document", "shows": {"vehicle.frame_number": "A 10"}}).words

    assert "built 1962: agrees, told twice" in words
    assert "Frame number: probable misreading" in words
    assert "'A 10' by 'Old document'" in words


def test_it_carries_the_references_of_earlier_steps() -> None:
    done = [{"requirement": "clear-it", "on": "2026-04-16", "reference": "C-77"}]

    assert "Clear it, 16 April 2026: C-77" in cover(None, LETTER, done=done).words


HOSTILE = "<script>alert(1)</script>\"'&"


def test_nothing_in_a_case_becomes_markup() -> None:
    made = cover({"keeper.name": HOSTILE, "vehicle.maker": HOSTILE},
                 {**LETTER, "reference": HOSTILE, "named": HOSTILE,
                  "shows": {"vehicle.frame_number": HOSTILE}})

    assert "script" not in made.tags
    assert HOSTILE in made.words


@pytest.mark.parametrize("sheet", [cover(None, LETTER), before()], ids=["cover", "before buying"])
def test_a_sheet_stands_alone(sheet: _Page) -> None:
    """No script, picture, style sheet or font is fetched; it prints on A4 and on Letter alike."""
    assert not {"script", "img", "link", "iframe"} & set(sheet.tags)
    assert sheet.links == []
    assert "@page" in sheet.words and "size:" not in sheet.words.split("@page")[1][:40]


# ------------------------------------------------------------------ before buying

def test_it_lists_what_the_seller_hands_over_with_blanks_for_what_each_paper_shows() -> None:
    words = before().words
    seller = words.split("From the seller, with the vehicle")[1].split("To settle yourself")[0]

    for part in ("Old document", "as original", "first registered", "frame number", "Invoice",
                 "price"):
        assert part in seller
    assert "Form Q" not in words


def test_it_lists_what_to_settle_and_what_to_read_off_the_vehicle() -> None:
    words = before().words

    assert "Dating letter" in words.split("To settle yourself before you pay")[1]
    read = words.split("To read and to look at on the vehicle")[1]
    for part in ("What frame, chassis or identification number can be read on the vehicle itself?",
                 "Whether it is complete", "Whether the engine runs", "Whether it is clean"):
        assert part in read
    assert "Settle it before you pay." in read


def test_a_route_changes_the_costs_it_shows() -> None:
    told = {"purchase.price": "1000 XTS", "purchase.transport": "0 XTS", "qb.duty_rate": "7 %",
            "vehicle.original_state": "yes", "customs.heading": "ordinary"}

    assert "As an ordinary vehicle" in before(told).words
    treasure = before(told, "treasure").words
    assert "As a treasure" in treasure and "XTS\N{NO-BREAK SPACE}70.00" not in treasure
    assert "XTS\N{NO-BREAK SPACE}70.00" in before(told).words


def test_without_jinja2_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    page._environment.cache_clear()

    with pytest.raises(ImportError, match="pip install jinja2"):
        cover()


# ------------------------------------------------------------------ the commands

def test_the_sheet_is_written_whole(tmp_path: Path) -> None:
    target = tmp_path / "cover.html"
    result = run("sheet", PAPERS, "apply-for-registration", "--sent", "2026-05-10",
                 "-o", str(target))

    assert result.exit_code == 0, result.output
    assert target.read_text("utf-8").rstrip().endswith("</html>")
    assert [file.name for file in tmp_path.iterdir()] == ["cover.html"]


@pytest.mark.parametrize(("arguments", "says"), [
    (("sheet", PAPERS), "name the requirement the papers are for"),
    (("sheet", PAPERS, "apply-for-registation"), "did you mean `apply-for-registration`?"),
    (("packet", PAPERS, "apply-for-registation"), "did you mean `apply-for-registration`?"),
    (("packet", PAPERS, "notify-arrival", "--sent", "2026-01-01"), "papers cannot be sent on"),
    (("sheet", PAPERS, "--before-buying", "--route", "treasure"), "there is no route `treasure`"),
    (("sheet", PAPERS, "notify-arrival", "-o", "/nowhere/at/all.html"), "cannot be written"),
])
def test_what_is_asked_wrongly_is_one_sentence(arguments: tuple[str, ...], says: str) -> None:
    result = run(*arguments)

    assert result.exit_code == 2
    assert says in result.output
    assert result.output.count("\n") == 1


def test_the_packet_command_says_what_to_do_next() -> None:
    result = run("packet", PAPERS, "apply-for-registration", "--sent", "2026-05-10")

    assert result.exit_code == 0
    for part in ("[ ] Form V112", "still good on 20 April 2026 but not when",
                 "a copy, where the original is needed", "probable misreading"):
        assert part in " ".join(result.output.split())
    assert max(map(len, result.output.splitlines())) <= 80


def test_the_bill_command_shows_every_route_within_eighty_columns() -> None:
    result = run("bill", PAPERS)

    assert result.exit_code == 0
    for part in ("As a collectors' piece", "As an ordinary vehicle", "at 0.8612 GBP for 1 EUR"):
        assert part in result.output
    assert max(map(len, result.output.splitlines())) <= 80


@pytest.mark.parametrize("name", ["packet", "bill"])
def test_the_json_follows_its_published_schema(name: str) -> None:
    schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    found = assessed({"purchase.price": "5 EUR"}, [LETTER, {**LETTER, "as": "copy", "shows": {
        "vehicle.built": "1950"}}])
    document: Any = (bills_document(found.bills) if name == "bill" else
                     packet_document(found.packet("register-it")))

    assert list(Draft202012Validator(schema).iter_errors(document)) == []


def test_the_json_of_a_command_is_json() -> None:
    for arguments in (("packet", PAPERS, "apply-for-registration", "--json"),
                      ("bill", PAPERS, "--json")):
        assert json.loads(run(*arguments).output)
