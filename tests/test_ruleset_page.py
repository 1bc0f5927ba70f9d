"""The page to read: the whole ruleset, said in the words of explanations, safe and printable."""

from __future__ import annotations

import re
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.keep.outline import outline
from regkit.language import languages, speaker
from regkit.model.ruleset import Ruleset
from regkit.show.ruleset_page import ruleset_page
from tests.rulesets_under_test import ruleset
from tests.small_ruleset import write

TODAY = date(2026, 11, 25)


def page(rules: Ruleset, on: date = TODAY, language: str = "en") -> str:
    """Return the page of a ruleset."""
    return ruleset_page(rules, on, lambda when, edition: outline(when, edition, rules), language)


class Reader(HTMLParser):
    """Collects the words of a page, its anchors and its links, and whether tags close."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.anchors: list[str] = []
        self.links: list[str] = []
        self.open: list[str] = []
        self.wrong: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.anchors += [found["id"]] if found.get("id") else []  # type: ignore[list-item]
        self.links += [found["href"]] if tag == "a" and found.get("href") else []  # type: ignore
        if tag not in ("meta", "br", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] != "style":
            self.words.append(data)

    @property
    def text(self) -> str:
        """All words, blanks made one."""
        return re.sub(r"\s+", " ", " ".join(self.words))


@pytest.fixture(scope="module")
def zedland() -> Reader:
    """The page of the invented ruleset that uses everything."""
    return Reader(page(ruleset("ZZ")))


def test_every_rule_is_there_in_the_words_of_explanations(zedland: Reader) -> None:
    """Each leaf of each condition of each edition stands there as its own words reading has it."""
    say = speaker().say
    for histories in (ruleset("ZZ").definitions, ruleset("ZZ").requirements):
        for history in histories.values():  # type: ignore[attr-defined]
            for edition in history.editions:
                leaves = (part for part in edition.when.walk() if not part.parts)
                for leaf in leaves:
                    if type(leaf).__name__ not in ("Open", "All"):
                        assert " ".join(say(leaf.rule()).split()) in zedland.text, edition.id


def test_in_force_sources_questions_and_history(zedland: Reader) -> None:
    """From when to when, where it is stated, what is open, and what was the rule before."""
    assert "in force from 1 January 2001 to 31 December 2029" in zedland.text
    assert "Other editions (2)" in zedland.text
    assert "in force from 1 January 1980 to 31 December 1999" in zedland.text
    assert "announced for 1 January 2030, not enacted" in zedland.text
    assert "Act on Age, section 1 (invented)" in zedland.text and "from memory" in zedland.text
    assert "open since" in zedland.text
    assert "Another official source says otherwise: The leaflet counts thirty years" in zedland.text


def test_windows_needs_charges_and_examples(zedland: Reader) -> None:
    """What must be done by when, with which papers, at what cost; and the cases that try it."""
    assert "within 14 days, counted from: " in zedland.text
    assert "2 of: " in zedland.text and "no older than 3 months" in zedland.text
    assert "If late" in zedland.text and "An inspector looks at" in zedland.text
    assert "Built on the cut-off day itself (1 April 2026): no" in zedland.text


def test_the_page_says_what_is_not_covered_and_can_be_signed(zedland: Reader) -> None:
    """The limits come first, the signature last."""
    assert zedland.text.index("Anything real.") < zedland.text.index("Old vehicle")
    assert zedland.text.index("Signature") > zedland.text.index("Act on Counting")
    assert ruleset("ZZ").digest[:12] in zedland.text


@pytest.mark.parametrize("name", ["ZZ", *regkit.jurisdictions()])
def test_tags_close_and_links_lead_somewhere(name: str) -> None:
    """Every link within the page has its place there, and no place is named twice."""
    read = Reader(page(ruleset(name)))
    inside = {link.removeprefix("#") for link in read.links if link.startswith("#")}
    own = {anchor for anchor in inside if anchor in read.anchors}

    assert read.wrong == [] and read.open == []
    assert len(read.anchors) == len(set(read.anchors))
    assert own, "a page without a single link"
    # What another layer states is said here and explained there.
    assert all(anchor.startswith(("definitions-", "source-")) for anchor in inside - own)


def test_the_day_decides_which_edition_comes_first() -> None:
    """On a day of 1995 the edition of 1980 to 1999 is the rule, the others are history."""
    then = Reader(page(ruleset("ZZ"), date(1995, 1, 1))).text
    old = then.index("Old vehicle old-vehicle")

    assert then.index("in force from 1 January 1980 to 31 December 1999") < then.index(
        "comes into force on" if "comes into force on" in then[old:] else "Other editions", old)


def test_html_in_a_text_is_escaped(tmp_path: Path) -> None:
    """A title is never markup."""
    definitions = ("old: {title: '<script>alert(1)</script>', when: {thing.red: yes}, "
                   "sources: [act]}\n")
    text = page(regkit.load(write(tmp_path, definitions=definitions)))

    assert "<script" not in text and "&lt;script&gt;" in text


def test_an_address_that_is_no_web_address_is_refused(tmp_path: Path) -> None:
    """So no link of the page can run anything."""
    sources = ("act: {kind: law, citation: Act, address: 'javascript:alert(1)', checked: "
               "2026-11-25, look again: 2027-11-25}\n")
    with pytest.raises(regkit.Unreadable, match="address"):
        regkit.load(write(tmp_path, sources=sources))


def test_a_rule_without_a_condition_holds_in_every_case(tmp_path: Path) -> None:
    """It says so, instead of leaving a blank."""
    requirements = ("look-at-it: {title: Look, why: W., stage: first, authority: office, "
                    "sources: [act]}\n")
    text = Reader(page(regkit.load(write(tmp_path, requirements=requirements)))).text

    assert "In every case." in text


@pytest.mark.parametrize("language", languages())
def test_the_page_speaks_every_language_of_the_program(language: str) -> None:
    """Its own words are translated; texts of the ruleset stand as they are written."""
    text = page(ruleset("ZZ"), language=language)

    assert f'<html lang="{language}">' in text
    assert ("What these rules cover" in text) == (language == "en")


def test_the_page_prints_and_loads_nothing(zedland: Reader) -> None:
    """Print style, and not one request to anywhere."""
    text = page(ruleset("ZZ"))

    assert "@page" in text and "@media print" in text
    assert not re.search(r"<(script|img|link|iframe)|@import|url\(", text)


def test_the_command_writes_the_page(tmp_path: Path) -> None:
    """By code or by folder."""
    target = tmp_path / "qa.html"
    result = CliRunner().invoke(main, ["read", str(write(tmp_path)), "-o", str(target)])

    assert result.exit_code == 0, result.output
    assert "Paint it" in target.read_text("utf-8")
