"""Forty requirements of three to eight tests, from one seed: as a ruleset and as plain Python."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import regkit
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset

ON = date(2026, 4, 1)
REQUIREMENTS = 40
KINDS = ("car", "van", "bus", "bike", "boat")
COUNTRIES = ("FR", "DE", "US", "JP", "IT")
DATES = ("a.built", "a.registered", "a.arrived")
NUMBERS = ("a.capacity", "a.weight")
FLAGS = tuple(f"a.flag_{letter}" for letter in "abcdef")

Plain = dict[str, Any]
Function = Callable[[Plain], bool]


def _test(luck: random.Random) -> dict[str, Any]:
    sort = luck.choice(("age", "age", "kind", "country", "number", "flag", "flag"))
    if sort == "age":
        key = luck.choice(("at least", "more than", "less than"))
        return {luck.choice(DATES): {key: f"{luck.randint(5, 50)} years ago"}}
    if sort == "kind":
        return {"a.kind": sorted(luck.sample(KINDS, luck.randint(1, 3)))}
    if sort == "country":
        return {"a.country": {"not": sorted(luck.sample(COUNTRIES, 2))}}
    if sort == "number":
        key = luck.choice(("at least", "more than", "at most", "less than"))
        return {luck.choice(NUMBERS): {key: f"{luck.randint(1, 40) * 100} kg"}}
    return {luck.choice(FLAGS): luck.choice(("yes", "no"))}


def _condition(luck: random.Random, tests: int) -> dict[str, Any]:
    if tests == 1:
        return _test(luck)
    first = luck.randint(1, tests - 1)
    parts = [_condition(luck, first), _condition(luck, tests - first)]
    return {luck.choice(("all", "all", "any", "any", "none")): parts}


def written() -> dict[str, Any]:
    """Return the conditions by the name of their requirement."""
    luck = random.Random(40)
    return {f"r{at}": _condition(luck, luck.randint(3, 8)) for at in range(REQUIREMENTS)}


def _facts() -> dict[str, Any]:
    def fact(sort: str, **more: Any) -> dict[str, Any]:
        return {"type": sort, "group": "a", "question": "?", **more}

    return {
        "a.kind": fact("choice", values=dict.fromkeys(KINDS, "x")),
        "a.country": fact("country"),
        **{name: fact("date") for name in DATES},
        **{name: fact("quantity", unit="kg") for name in NUMBERS},
        **{name: fact("yes_no") for name in FLAGS},
    }


def ruleset() -> Ruleset:
    """Return the forty requirements as a ruleset."""
    sources = {"act": {"kind": "law", "citation": "An act", "address": "https://law.example/",
                       "checked": "2026-11-25", "look again": "2027-11-25"}}
    head = {"jurisdiction": "QA", "title": "Forty", "version": "2026.1", "notation": 1,
            "languages": ["en"], "currency": "EUR", "covers": ["x"], "does not cover": ["x"],
            "cautions": ["x"], "authorities": {"office": {"title": "x"}}, "stages": {"only": "x"},
            "anniversary of 29 February": {"falls on": "28 February", "sources": ["act"]}}
    entries = {
        name: {"title": name, "why": "x", "stage": "only", "authority": "office", "when": when,
               "sources": ["act"]}
        for name, when in written().items()
    }
    with TemporaryDirectory() as folder:
        for path, data in (("common/facts", _facts()), ("qa/ruleset", head),
                           ("qa/sources", sources), ("qa/requirements", entries)):
            file = Path(folder) / f"{path}.yaml"
            file.parent.mkdir(exist_ok=True)
            file.write_text(json.dumps(data), "utf-8")
        return regkit.load(Path(folder) / "qa")


def plain_cases(count: int, unknown: float = 0.0) -> Iterator[Plain]:
    """Yield cases as plain Python values; each fact is left out with the given chance."""
    luck = random.Random(7)
    for _ in range(count):
        case: Plain = {"a.kind": luck.choice(KINDS), "a.country": luck.choice(COUNTRIES)}
        case |= {name: date(luck.randint(1950, 2025), luck.randint(1, 12), luck.randint(1, 28))
                 for name in DATES}
        case |= {name: luck.randint(1, 4000) for name in NUMBERS}
        case |= {name: luck.random() < 0.5 for name in FLAGS}
        yield {name: value for name, value in case.items() if luck.random() >= unknown}


def case_of(plain: Plain, rules: Ruleset) -> Case:
    """Return a case from plain values."""
    return regkit.read_case({"jurisdiction": "QA", "facts": plain}, rules)


def functions() -> list[Function]:
    """Return the requirements as a person would write them in Python, for known facts."""
    space: dict[str, Any] = {"on": ON, "years": _years_before}
    made = []
    for name, when in written().items():
        exec(f"def {name}(case):\n    return {_source(when)}", space)
        made.append(space[name])
    return made


def _years_before(on: date, years: int) -> date:
    try:
        return on.replace(year=on.year - years)
    except ValueError:
        return on.replace(year=on.year - years, day=28)


def _source(when: dict[str, Any]) -> str:
    (key, inner), = when.items()
    if key in ("all", "any", "none"):
        parts = (" and " if key == "all" else " or ").join(_source(part) for part in inner)
        return f"not ({parts})" if key == "none" else f"({parts})"
    value = f"case[{key!r}]"
    if isinstance(inner, list):
        return f"{value} in {tuple(inner)!r}"
    if isinstance(inner, str):
        return value if inner == "yes" else f"not {value}"
    (comparison, bound), = inner.items()
    if comparison == "not":
        return f"{value} not in {tuple(bound)!r}"
    if "ago" in bound:
        sign = {"at least": "<=", "more than": "<", "less than": ">"}[comparison]
        return f"{value} {sign} years(on, {bound.split()[0]})"
    sign = {"at least": ">=", "more than": ">", "at most": "<=", "less than": "<"}[comparison]
    return f"{value} {sign} {bound.split()[0]}"
