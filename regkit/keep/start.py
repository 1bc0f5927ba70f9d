"""A new ruleset that passes at once: a head, one class, one requirement, three examples.

Everything a keeper is to replace says so in capitals, and `regkit check` lists it as still to do.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path

from regkit.read.currencies import CURRENCIES
from regkit.read.folder import HEAD
from regkit.read.places import shipped

CODE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?")
TESTING = "XTS"

FILES: Mapping[str, str] = {
    HEAD: """\
jurisdiction: {code}
title: {title}
version: "{year}.1"
notation: 1
languages: [en]
currency: {currency}
maintainers: ["REPLACE: who keeps these rules"]
known from: {today}
covers:
  - "REPLACE: what your rules state, such as registering a vehicle brought in from abroad."
does not cover:
  - Most of the law of this place. These rules have only begun.
cautions:
  - These rules have only begun, and nobody has checked them yet. Ask the authority.
anniversary of 29 February:
  falls on: 1 March
  sources: [first-source]
  note: "REPLACE: in which act it stands, or that it is not known."
authorities:
  office: {{title: "REPLACE: the office that registers vehicles"}}
stages:
  arrival: On arrival
  registration: Getting on the register
  keeping: Keeping it there
""",
    "definitions": """\
# A named condition. `class: yes` shows it in every assessment.
age-class:
  title: "REPLACE: the first age class"
  class: yes
  when:
    vehicle.built: {{before: 1970-01-01}}
  sources: [first-source]
""",
    "requirements": """\
# What must be done: when it applies, with which papers, and what comes out of it.
first-requirement:
  title: "REPLACE: what must be done first"
  why: "REPLACE: why it is asked, in one sentence."
  stage: registration
  authority: office
  when:
    vehicle.place: abroad
  needs: [first-paper]
  sources: [first-source]
""",
    "evidence": """\
# Types of papers. What no requirement gives comes from outside: a seller, an archive, a club.
first-paper:
  title: "REPLACE: the paper that is needed"
  from outside: yes
  sources: [first-source]
""",
    "sources": """\
# Where each rule is stated. What you have not seen is `from memory`, and every reader is told.
first-source:
  kind: from memory
  citation: "REPLACE: the act or page, and the section"
  checked: {today}
  look again: {next_year}
""",
    "examples": """\
# Cases with the outcome the source gives. Three to replace: each outcome once.
brought-from-abroad:
  title: "REPLACE: a case in which it must be done"
  on: {today}
  facts: {{vehicle.place: abroad, vehicle.built: 1969-12-31}}
  expect:
    definitions: {{age-class: yes}}
    requirements: {{first-requirement: required}}
    papers: {{first-requirement: {{first-paper: needed}}}}
  basis: derived
  sources: [first-source]

on-the-register-already:
  title: "REPLACE: a case in which it need not be done"
  on: {today}
  facts: {{vehicle.place: registered_here, vehicle.built: 1970-01-01}}
  expect:
    definitions: {{age-class: no}}
    requirements: {{first-requirement: not required}}
  basis: derived
  sources: [first-source]

hardly-anything-known:
  title: "REPLACE: a case that cannot be told yet"
  on: {today}
  facts: {{vehicle.built: 1969/1970}}
  expect:
    definitions: {{age-class: undecided}}
    requirements: {{first-requirement: undecided}}
  basis: derived
  sources: [first-source]
""",
    "questions": """\
# What you do not know is a question, never a guess.
first-question:
  asks: "REPLACE: what you have to find out first"
  opened: {today}
  state: open
""",
}


def start(code: str, where: Path, today: date) -> Path:
    """Write the folder of a new ruleset and return it.

    Args:
        code: of ISO 3166-1, or ISO 3166-2 for a part of a country.
        where: the folder to write it into; it is made if need be.
        today: the day the first source counts as looked at.

    Raises:
        ValueError: it is no such code, or the folder is there already.
    """
    code = code.upper()
    if not CODE.fullmatch(code):
        raise ValueError(f"{code!r} is no code of a country or a part of one; write for example "
                         "SE or US-CA (ISO 3166), or ZZ for an invented one")
    folder = where / code.lower()
    if folder.exists():
        raise ValueError(f"{folder} is there already; nothing was written")
    # Made beside its place and moved there whole: a half-written ruleset never lies about.
    half = where / f".{code.lower()}.half"
    half.mkdir(parents=True)
    words = _words(code, today)
    for kind, text in FILES.items():
        schema = os.path.relpath(shipped("schemas") / "ruleset" / f"{kind}.schema.json",
                                 folder.absolute())
        first = f"# yaml-language-server: $schema={schema}\n"
        (half / f"{kind}.yaml").write_text(first + text.format(**words), "utf-8")
    half.replace(folder)
    return folder


def _words(code: str, today: date) -> Mapping[str, str]:
    title, currency = _known(code)
    return {
        "code": code, "title": title, "currency": currency, "year": str(today.year),
        "today": str(today), "next_year": str(today + timedelta(days=365)),
    }


def _known(code: str) -> tuple[str, str]:
    """Return the name and currency of a country as CLDR has them, or what stands for them."""
    from babel import Locale
    from babel.numbers import get_territory_currencies

    country = code[:2]
    used = [c for c in get_territory_currencies(country) if c in CURRENCIES]
    name = Locale("en").territories.get(code) if country != "ZZ" else None
    return name or '"REPLACE: the name of the place"', used[0] if used else TESTING
