"""A ruleset of a few lines in a folder of its own, to break in one place at a time."""

from __future__ import annotations

import textwrap
from pathlib import Path

HEAD = """\
jurisdiction: QA
title: Small
version: "2026.1"
notation: 1
languages: [en]
currency: XTS
covers: [Little]
does not cover: [Much]
cautions: [None of this is real]
anniversary of 29 February: {falls on: 1 March, sources: [act]}
authorities: {office: {title: The office}}
stages: {first: First}
"""
FACTS = """\
thing.kind:
  {type: choice, group: thing, question: What is it?, values: {cart: Cart, sledge: Sledge}}
thing.made: {type: date, group: thing, question: When was it made?, no later than: [thing.listed]}
thing.listed:
  {type: date, group: thing, question: When was it listed?, no later than: [thing.sold]}
thing.sold: {type: date, group: thing, question: When was it sold?}
thing.from: {type: country, group: thing, question: Where from?}
thing.weight: {type: quantity, unit: kg, group: thing, question: How heavy?}
thing.worth: {type: money, group: thing, question: What is it worth?}
thing.red: {type: yes_no, group: thing, question: Is it red?}
thing.number: {type: identifier, group: thing, question: Its number?}
thing.name: {type: text, group: thing, question: Its name?}
"""
SOURCES = """\
act: {kind: law, citation: Act, address: "https://law.example/", checked: 2026-11-25,
      look again: 2027-11-25}
"""
DEFINITIONS = """\
old:
  title: Old
  when:
    thing.made: {before: 1960-01-01}
  sources: [act]
"""
REQUIREMENTS = """\
paint-it:
  title: Paint it
  why: Old things must be red.
  stage: first
  authority: office
  when:
    holds: old
  sources: [act]
"""
FILES = {"ruleset": HEAD, "sources": SOURCES, "definitions": DEFINITIONS,
         "requirements": REQUIREMENTS}


def write(folder: Path, **files: str | None) -> Path:
    """Write the small ruleset with some files replaced, or left out where None; return its folder.

    A file name may name a file in a folder: `requirements__more` is `requirements/more.yaml`.
    """
    common = folder / "common"
    common.mkdir(parents=True, exist_ok=True)
    (common / "facts.yaml").write_text(FACTS, "utf-8")
    own = folder / "qa"
    own.mkdir(exist_ok=True)
    for name, text in {**FILES, **files}.items():
        if text is not None:
            file = own / f"{name.replace('__', '/')}.yaml"
            file.parent.mkdir(exist_ok=True)
            file.write_text(textwrap.dedent(text), "utf-8")
    return own
