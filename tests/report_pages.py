"""Reports of the demo cases, parsed as a browser parses them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from xml.etree.ElementTree import Element

import html5lib
import pytest
from click.testing import CliRunner, Result

import regkit
from regkit.commands import main
from regkit.model.assessment import Assessment, Reason
from regkit.show.report import report
from tests.rulesets_under_test import ROOT, ruleset

CASES = {file.stem: file for file in sorted((ROOT / "docs" / "cases").glob("*.yaml"))}
NOTHING_TOLD = ("GB", "DE", "SE", "US-CA")
IN_LANGUAGES = (("gb-papers", "de"), ("de-too-young", "de"), ("se-missed-window", "sv"))
PAGES = (*((name, "en") for name in CASES), *((code, "en") for code in NOTHING_TOLD), *IN_LANGUAGES)
ON = date(2026, 4, 1)
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")


@cache
def found(name: str) -> Assessment:
    """Return the assessment of a demo case, or of a case of a jurisdiction that tells nothing."""
    if name in CASES:
        case = regkit.read_case(CASES[name])
    else:
        case = regkit.read_case({"jurisdiction": name, "facts": {}}, ruleset(name))
    return regkit.assess(case, regkit.load(case.jurisdiction), case.on or ON)


def parsed(html: str) -> Element:
    """Return the tree of a page; any error of its syntax raises (HTML, parsing)."""
    tree: Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    return tree


@cache
def written(name: str, language: str = "en") -> str:
    return report(found(name), language)


@cache
def shown(name: str, language: str = "en") -> Element:
    return parsed(written(name, language))


def words(element: Element) -> str:
    """Return the text of an element as a reader meets it, blanks made one."""
    return " ".join("".join(element.itertext()).split())


def by_id(tree: Element, name: str) -> Element:
    (only,) = [element for element in tree.iter() if element.get("id") == name]
    return only


def parents(tree: Element) -> dict[Element, Element]:
    return {child: element for element in tree.iter() for child in element}


def above(element: Element, up: dict[Element, Element]) -> Iterator[Element]:
    while element in up:
        element = up[element]
        yield element


def reasons(reason: Reason) -> Iterator[Reason]:
    yield reason
    for child in reason.children:
        yield from reasons(child)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


every_page = pytest.mark.parametrize(("name", "language"), PAGES,
                                     ids=["-".join(one) for one in PAGES])
