"""The report shuts nobody out.

Success criteria are those of the Web Content Accessibility Guidelines 2.2 (W3C Recommendation),
named by number beside the checks. What only a browser can tell is asked in test_browser.py.
"""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from regkit.language import phrase, speaker
from tests.report_pages import (
    HEADINGS,
    above,
    by_id,
    every_page,
    found,
    parents,
    shown,
    words,
    written,
)
from tests.rulesets_under_test import ROOT


@every_page
def test_the_language_of_the_page_is_said(name: str, language: str) -> None:
    """SC 3.1.1, and 2.4.2: a title that names the vehicle."""
    tree = shown(name, language)
    (title,) = tree.iter("title")

    assert tree.get("lang") == language
    assert words(title) == words(next(tree.iter("h1"))) != ""


@every_page
def test_headings_go_down_one_level_at_a_time(name: str, language: str) -> None:
    """SC 1.3.1 and 2.4.6: the outline can be walked, and no heading is empty."""
    found_here = [element for element in shown(name, language).iter() if element.tag in HEADINGS]
    levels = [int(element.tag[1]) for element in found_here]

    assert levels[0] == 1 and levels.count(1) == 1
    assert all(lower <= upper + 1 for upper, lower in pairwise(levels))
    assert all(words(element) for element in found_here)


@every_page
def test_everything_lies_in_a_landmark(name: str, language: str) -> None:
    """SC 1.3.1: one main part; each section and the contents are named by their headings."""
    tree = shown(name, language)
    body = next(tree.iter("body"))
    names = {element.get("id"): element for element in tree.iter() if element.get("id")}

    assert [child.tag for child in body] == ["header", "main", "footer"]
    for region in (*tree.iter("section"), *tree.iter("nav")):
        assert names[region.get("aria-labelledby")].tag in HEADINGS


@every_page
def test_the_first_link_skips_to_the_checklist(name: str, language: str) -> None:
    """SC 2.4.1."""
    tree = shown(name, language)
    first = next(tree.iter("a"))

    assert first.get("href") == "#checklist"
    assert by_id(tree, "checklist").tag == "h2"


@every_page
def test_links_lead_somewhere_and_say_where(name: str, language: str) -> None:
    """SC 2.4.4; and no name is given twice."""
    tree = shown(name, language)
    names = [element.get("id") for element in tree.iter() if element.get("id")]

    assert len(names) == len(set(names))
    for link in tree.iter("a"):
        target = link.get("href", "")
        assert words(link), target
        assert target.startswith(("http://", "https://")) or target[1:] in names, target


@every_page
def test_tables_name_their_columns_and_rows(name: str, language: str) -> None:
    """SC 1.3.1."""
    for table in shown(name, language).iter("table"):
        heads = list(table.iter("th"))
        assert words(next(table.iter("caption")))
        assert all(head.get("scope") in ("col", "row") and words(head) for head in heads)
        for row in table.iter("tr"):
            assert "how" in str(row.get("class")).split() or row.find("th") is not None


@every_page
def test_what_unfolds_says_what_it_is_and_works_by_keyboard(name: str, language: str) -> None:
    """SC 2.1.1 and 4.1.2: `details` and links alone, each with a name of its own."""
    tree = shown(name, language)
    names = [words(element) for element in tree.iter("summary")]

    assert all(child.tag == "summary" for d in tree.iter("details") for child in d[:1])
    assert all(names)
    assert not [element for element in tree.iter() if element.get("tabindex") not in (None, "-1")]
    assert not {"button", "input", "form"} & {element.tag for element in tree.iter()}


@every_page
def test_pictures_are_named_or_only_repeat_words(name: str, language: str) -> None:
    """SC 1.1.1."""
    tree = shown(name, language)
    up = parents(tree)
    drawn = [element for element in tree.iter() if element.tag.split("}")[-1] == "svg"]

    for picture in drawn:
        if "svg" not in (element.tag.split("}")[-1] for element in above(picture, up)):
            assert picture.get("aria-hidden") == "true" or picture.get("aria-label")


@every_page
def test_it_stands_alone(name: str, language: str) -> None:
    """No script, nothing fetched, nothing that runs; only the links to the sources lead out."""
    tree, text = shown(name, language), written(name, language)
    style = " ".join(words(element) for element in tree.iter("style"))
    known = {source.address for source in found(name).ruleset.sources.values()}

    assert not {"script", "link", "img", "iframe", "object", "embed", "base", "video", "audio"} & {
        element.tag for element in tree.iter()}
    assert not re.search(r"@import|url\(|@font-face|javascript:", style)
    assert set(re.findall(r"url\(([^)]*)\)", text)) <= {"#may"}
    for element in tree.iter():
        assert not [key for key in element.attrib
                    if key.startswith("on") or key in ("src", "style")]
    out = {link.get("href") for link in tree.iter("a")
           if not str(link.get("href")).startswith("#")}
    assert out <= known


def test_words_in_another_language_are_marked() -> None:
    """SC 3.1.2: Britain's rules are written in English alone; a German page says which words."""
    tree = shown("gb-papers", "de")
    titles = [element.find("span") for element in tree.iter("h4")]

    assert len(titles) == len(found("gb-papers").plan.steps)
    assert all(title is not None and title.get("lang") == "en" for title in titles)
    assert not [part for head in tree.iter("h2") for part in head.iter() if part.get("lang")]


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour written #rrggbb (WCAG 2.2, definition)."""
    parts = [int(colour[at:at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours (WCAG 2.2, definition)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_of_black_and_white_is_known() -> None:
    """Source: WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1."""
    assert contrast("#ffffff", "#000000") == pytest.approx(21)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("surface", ["paper", "card"])
@pytest.mark.parametrize("ink", ["ink", "soft", "link", "wrong"])
def test_words_can_be_read_on_every_surface(scheme: str, surface: str, ink: str) -> None:
    """SC 1.4.3, level AA: 4.5 to 1, in light and in dark; so focus has 3 to 1 (1.4.11)."""
    style = (ROOT / "regkit/show/pages/look.css").read_text("utf-8")
    light, dark = re.findall(r"html:has\(> \.regkit-page\) \{([^}]*)\}", style)[:2]
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", light if scheme == "light" else dark))

    assert contrast(colours[ink], colours[surface]) >= 4.5


@every_page
def test_nothing_is_told_by_shape_or_colour_alone(name: str, language: str) -> None:
    """SC 1.4.1: the box before a step is not read out; heading, marks and words say the same."""
    say = speaker(language).say
    tree = shown(name, language)
    for step in found(name).plan.steps:
        item = by_id(tree, f"finding-{step.requirement}")
        box = item[0]
        assert box.get("aria-hidden") == "true"
        assert ("?" in words(box)) == step.perhaps
        head = words(next(item.iter("h4")))
        perhaps = {"en": "(perhaps)", "de": "(vielleicht)", "sv": "(kanske)"}[language]
        assert (perhaps in head) == step.perhaps
    for mark in tree.iter("strong"):
        if "outcome" in (mark.get("class") or ""):
            assert words(mark) in {say(phrase(word)) for word in ("yes", "no", "undecided")}
