"""The conformance cases: run through the real reader and judge, and checked as data themselves."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from datetime import date
from functools import lru_cache
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from jsonschema import Draft202012Validator

import regkit
from regkit.conditions import All, AnyOf, NoneOf
from regkit.conditions.kinds.kind import period
from regkit.model.assessment import Reason
from regkit.model.bill import Amount
from regkit.model.ruleset import Ruleset
from regkit.model.values import day_of
from regkit.read.edtf import read_date
from tests.rulesets_under_test import ROOT, SCHEMAS, TESTS

FOLDER = TESTS / "conformance"
FILES = sorted(file for file in FOLDER.glob("*.json") if file.stem != "vocabulary")
VOCABULARY = json.loads((FOLDER / "vocabulary.json").read_text("utf-8"))["facts"]
DEFAULT_DAY = "2026-04-01"
ANSWERS = {"required": "yes", "not required": "no", "undecided": "undecided"}
PARTS = ("a.first", "a.second", "a.third")
TOLD = {"yes": "yes", "no": "no"}

SOURCE = {"act": {"kind": "law", "citation": "An act", "address": "https://law.example/",
                  "checked": "2026-11-25", "look again": "2027-11-25"}}
HEAD = {"jurisdiction": "QA", "title": "Conformance", "version": "2026.1", "notation": 1,
        "languages": ["en"], "currency": "EUR", "covers": ["x"], "does not cover": ["x"],
        "cautions": ["x"], "authorities": {"office": {"title": "Office"}},
        "stages": {"only": "Only"}}


def load(file: Path) -> dict[str, Any]:
    """Return the data of a conformance file."""
    data: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return data


def groups(*keys: str) -> list[Any]:
    """Return every group that has one of these keys, as pytest parameters named by file."""
    return [
        pytest.param(group, id=f"{file.stem}: {group['name']}")
        for file in FILES for group in load(file)["groups"] if any(key in group for key in keys)
    ]


def facts_file() -> dict[str, Any]:
    """Return the vocabulary in the form of a ruleset's facts.yaml."""
    return {
        name: {**fact, "group": "a", "question": name,
               **({"values": dict.fromkeys(fact["values"], "x")} if "values" in fact else {})}
        for name, fact in VOCABULARY.items()
    }


def ruleset_of(group: Mapping[str, Any], entry: Mapping[str, Any]) -> Ruleset:
    """Return a ruleset whose one requirement, `asked`, is the entry of a group."""
    named = {"title": "x", "sources": ["act"]}
    files: dict[str, Any] = {
        "ruleset": {**HEAD, "anniversary of 29 February": {
            "falls on": group.get("leap day", "1 March"), "sources": ["act"]}},
        "requirements": {"asked": {**named, "why": "x", "stage": "only", "authority": "office",
                                   **entry}},
        "sources": SOURCE,
        "definitions": {name: {**named, **rest}
                        for name, rest in group.get("definitions", {}).items()},
        "questions": {name: {"asks": "x", "opened": "2026-01-01", "state": "open"}
                      for name in group.get("questions", ())},
        "charges": {name: {**named, **rest} for name, rest in group.get("charges", {}).items()},
        "counting": {name: {**named, **rest} for name, rest in group.get("rules", {}).items()},
        "evidence": {"paper": {**named, **group["paper"]}} if "paper" in group else {},
    }
    with TemporaryDirectory() as folder:
        (Path(folder) / "common").mkdir()
        (Path(folder) / "qa").mkdir()
        (Path(folder) / "common" / "facts.yaml").write_text(json.dumps(facts_file()), "utf-8")
        for name, data in files.items():
            if data:
                (Path(folder) / "qa" / f"{name}.yaml").write_text(json.dumps(data), "utf-8")
        return regkit.load(Path(folder) / "qa")


@lru_cache(maxsize=256)
def ruleset_for(written: str) -> Ruleset:
    """Return the ruleset of a group, made once; groups are passed as JSON to be hashable."""
    group = json.loads(written)
    return ruleset_of(group, group["entry"] if "entry" in group else {"when": group["rule"]})


def decisive_names(reason: Reason) -> set[str]:
    """Return the facts, definitions and questions on the deciding branches."""
    found = {reason.fact, reason.name} - {""}
    for child in reason.children:
        if child.decisive:
            found |= decisive_names(child)
    return found


@pytest.mark.parametrize("group", groups("rule", "entry"))
def test_rules_and_entries(group: dict[str, Any]) -> None:
    """A condition, or a whole entry, on a case on a day: answer, what settles it, reasons."""
    ruleset = ruleset_for(json.dumps(group))
    for test in group["tests"]:
        source = {"jurisdiction": "QA", "facts": test["facts"]}
        if "refused" in test:
            with pytest.raises(regkit.Unreadable):
                regkit.read_case(source, ruleset)
            continue
        on = date.fromisoformat(test.get("on", group.get("on", DEFAULT_DAY)))
        finding = regkit.assess(regkit.read_case(source, ruleset), ruleset, on).finding("asked")

        assert ANSWERS[finding.verdict] == test["is"], test
        if "settled by" in test:
            assert set(finding.settles) == set(test["settled by"]), test
        pointed = decisive_names(finding.reason)
        assert set(test.get("points at", ())) <= pointed, test
        assert not set(test.get("not at", ())) & pointed, test


@pytest.mark.parametrize("group", groups("charges"))
def test_charges(group: dict[str, Any]) -> None:
    """What a charge comes to, exact or as the range that open facts leave."""
    ruleset = ruleset_of(group, {"charges": ["asked"]})
    on = date.fromisoformat(group.get("on", DEFAULT_DAY))
    for test in group["tests"]:
        case = regkit.read_case({"jurisdiction": "QA", "facts": test["facts"]}, ruleset)
        line = regkit.assess(case, ruleset, on).bills[0].line("asked")

        assert line is not None and line.amount.written == test["is"], test


@pytest.mark.parametrize("group", groups("charges"))
def test_an_amount_lies_in_the_range_it_had_while_a_fact_was_open(group: dict[str, Any]) -> None:
    """Telling a fact narrows the range of a charge and never leaves it."""
    ruleset = ruleset_of(group, {"charges": ["asked"]})
    on = date.fromisoformat(group.get("on", DEFAULT_DAY))

    def reckoned(facts: Mapping[str, str]) -> Amount:
        case = regkit.read_case({"jurisdiction": "QA", "facts": facts}, ruleset)
        line = regkit.assess(case, ruleset, on).bills[0].line("asked")
        assert line is not None
        return line.amount

    for test in group["tests"]:
        told = reckoned(test["facts"])
        for missing in test["facts"]:
            open_ = reckoned({n: v for n, v in test["facts"].items() if n != missing})

            assert open_.least <= told.least, (test, missing)
            assert open_.most is None or (told.most is not None and told.most <= open_.most)


@pytest.mark.parametrize("group", groups("window"))
def test_windows(group: dict[str, Any]) -> None:
    """By when something must be done, and what lateness costs."""
    late = {"charges": {"late": group["late"]}} if "late" in group else {}
    window = {"window": {**group["window"], "counting": "counted"}}
    ruleset = ruleset_of({**group, **late, "rules": {"counted": group["counting"]}},
                         {**window, "late": ["late"]} if late else window)
    for test in group["tests"]:
        done = [{"requirement": "asked", "on": test["done"]}] if "done" in test else []
        case = regkit.read_case(
            {"jurisdiction": "QA", "facts": test["facts"], "done": done}, ruleset)
        on = date.fromisoformat(test.get("done", DEFAULT_DAY))
        finding = regkit.assess(case, ruleset, on).finding("asked")
        deadline = finding.deadline
        assert deadline is not None
        last = f"{deadline.first}" + ("" if deadline.exact else f" to {deadline.last}")

        assert last == test.get("last", last), test
        if "late" in test:
            amounts = [charge.amount.written for charge in deadline.charges] or ["0 EUR"]
            assert amounts == [test["late"]], test


@pytest.mark.parametrize("group", groups("table"))
def test_truth_tables(group: dict[str, Any]) -> None:
    """Each line of a table: parts are told yes, told no, or not told."""
    for test in group["tests"]:
        parts = [{fact: "yes"} for fact, _ in zip(PARTS, test["parts"], strict=False)]
        told = {fact: part for fact, part in zip(PARTS, test["parts"], strict=False)
                if part in TOLD}
        if not parts:
            continue
        rule = {"rule": {group["table"]: parts}}
        ruleset = ruleset_for(json.dumps(rule))
        case = regkit.read_case({"jurisdiction": "QA", "facts": told}, ruleset)
        verdict = regkit.assess(case, ruleset, date(2026, 4, 1)).finding("asked").verdict

        assert ANSWERS[verdict] == test["is"], test


@pytest.mark.parametrize("group", [
    g for g in groups("table") if not g.values[0]["tests"][0]["parts"]
])
def test_truth_tables_of_nothing(group: dict[str, Any]) -> None:
    """A group of no parts cannot be written in a ruleset, but has a truth."""
    kind: Any = {"all": All, "any": AnyOf, "none": NoneOf}[group["table"]]

    assert [kind(()).combine(()).word] == [test["is"] for test in group["tests"]]


@pytest.mark.parametrize("group", groups("written"))
def test_written_dates(group: dict[str, Any]) -> None:
    """A written date is the days from its first to its last, or is refused."""
    for test in group["written"]:
        if "refused" in test:
            refused = r"is no date|does not exist|lies outside|ends before"
            with pytest.raises(ValueError, match=refused):
                read_date(test["date"])
            continue
        value = read_date(test["date"])
        found = [day.isoformat() if day else None
                 for day in (day_of(value.low), day_of(value.high))]

        assert found == [test["first"], test["last"]], test


@pytest.mark.parametrize("group", groups("periods"))
def test_periods(group: dict[str, Any]) -> None:
    """A period from a day is complete on a day."""
    for test in group["periods"]:
        length = period(test["period"])
        assert length is not None
        complete = length.after(date.fromisoformat(test["from"]), group.get("leap day", "1 March"))

        assert complete.isoformat() == test["complete"], test


# ------------------------------------------------------------------ the data itself


@pytest.mark.parametrize("group", groups("paper"))
def test_papers(group: dict[str, Any]) -> None:
    """How long a paper is good, and whether what gives it is to be met again."""
    ruleset = ruleset_of({**group, "rules": {"counted": group["counting"]}}
                         if "counting" in group else group,
                         {**group.get("requirement", {}), "gives": ["paper"]})
    for test in group["tests"]:
        dated = {"dated": test["issued"]} if test.get("issued") else {}
        case = regkit.read_case({
            "jurisdiction": "QA", "facts": test["facts"],
            "papers": [{"evidence": "paper", **dated}] if "issued" in test else [],
            "done": [{"requirement": "asked", "on": test["done"]}] if "done" in test else [],
        }, ruleset)
        on = date.fromisoformat(test["on"])
        finding = regkit.assess(case, ruleset, on).finding("asked")

        assert finding.progress.finished == (test["met"] == "yes"), test
        if "last" in test:
            last = finding.deadline.first if finding.deadline is not None else None
            assert last == (test["last"] and date.fromisoformat(test["last"])), test


def paragraphs() -> list[str]:
    """Return the numbers of the paragraphs of docs/meaning.rst, in order."""
    text = (ROOT / "docs" / "meaning.rst").read_text("utf-8")
    return re.findall(r"^\*\*(M\d+)\.\*\*", text, re.M)


def every_group() -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield each group with the name of its file."""
    for file in FILES:
        yield from ((file.stem, group) for group in load(file)["groups"])


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_files_are_well_formed(file: Path) -> None:
    """Each file fits the published schema, and its groups have names of their own."""
    schema = json.loads((SCHEMAS / "conformance.schema.json").read_text("utf-8"))
    errors = [error.message for error in Draft202012Validator(schema).iter_errors(load(file))]
    names = [group["name"] for group in load(file)["groups"]]

    assert not errors
    assert len(names) == len(set(names))


def test_paragraphs_are_numbered_without_gaps() -> None:
    """M1, M2, … in order, so that a citation finds its place."""
    assert paragraphs() == [f"M{number}" for number, _ in zip(count(1), paragraphs(), strict=False)]


def test_every_citation_exists_and_every_meaning_has_a_case() -> None:
    """No case cites what is not written. Paragraphs on whole assessments are tried elsewhere."""
    cited = {name for _, group in every_group() for name in group["cites"]}
    elsewhere = {"M36", "M37", "M39", "M40", "M54"}

    assert cited <= set(paragraphs())
    assert set(paragraphs()) - cited <= elsewhere


def test_every_fact_is_used_and_known() -> None:
    """The vocabulary holds what the cases speak of, no more and no less."""
    text = " ".join(json.dumps(group) for _, group in every_group())
    used = set(re.findall(r"\ba\.[a-z_]+", text)) | set(PARTS)

    assert used == set(VOCABULARY)


@pytest.mark.parametrize("group", [
    g for g in groups("rule", "table") if len(g.values[0]["tests"]) > 2
])
def test_no_group_is_idle(group: dict[str, Any]) -> None:
    """A group of several tests shows at least two outcomes, else a constant would pass it."""
    assert len({test.get("is", "refused") for test in group["tests"]}) > 1


def test_the_readme_names_every_file() -> None:
    """The table of the README is the list of files."""
    table = (FOLDER / "README.md").read_text("utf-8")
    named = set(re.findall(r"^\| `([a-z-]+\.json)`", table, re.M))

    assert named == {file.name for file in FOLDER.glob("*.json")}
