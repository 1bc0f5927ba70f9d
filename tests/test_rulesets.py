"""Every shipped ruleset: it loads, its worked examples come out, its sources are complete."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
import yaml

import regkit
from regkit.keep.examples import answers
from regkit.model.ruleset import SOURCE_KINDS, Ruleset
from tests.rulesets_under_test import INVENTED, NAMES, ROOT, ruleset

every_ruleset = pytest.mark.parametrize("name", NAMES)


def folder(name: str) -> Path:
    """Return the folder of a ruleset."""
    return (INVENTED if name == "ZZ" else ROOT / "rulesets") / name.lower()


def example_names() -> Iterator[tuple[str, str]]:
    """Yield ruleset and identifier of every example, straight from the files.

    So a ruleset that does not load fails in its own test, not in the collection of all tests.
    """
    for name in NAMES:
        for file in sorted([*folder(name).glob("examples.yaml"), *folder(name).glob("examples/*")]):
            written = yaml.load(file.read_text("utf-8"), Loader=yaml.BaseLoader)
            yield from ((name, key) for key in written)


@every_ruleset
def test_it_loads(name: str) -> None:
    """By its code, under its code."""
    assert ruleset(name).jurisdiction == name


def test_jurisdictions_are_the_folders() -> None:
    """Every folder but the common and the released one is a jurisdiction, without being listed."""
    folders = {item.name.upper() for item in (ROOT / "rulesets").iterdir() if item.is_dir()}

    assert set(regkit.jurisdictions()) == folders - {"COMMON", "RELEASED"}
    assert list(regkit.jurisdictions()) == sorted(regkit.jurisdictions())


@pytest.mark.parametrize(("name", "example"), list(example_names()))
def test_worked_example(name: str, example: str) -> None:
    """What the example expects comes out; its source stands beside it in the ruleset."""
    rules = ruleset(name)
    found = list(answers(rules.examples[example], rules))
    wrong = [str(answer) for answer in found if not answer.right]

    assert found, "an example that expects nothing"
    assert not wrong, "\n".join(wrong)


def test_a_wrong_example_says_where_what_and_why() -> None:
    """Had an example expected the opposite, its failure would name line, answers and reason."""
    rules = ruleset("ZZ")
    example = replace(rules.examples["twenty-five-today"],
                      expect={"requirements": {"pass-the-test": "required"}})
    (answer,) = answers(example, rules)

    assert not answer.right
    assert str(answer).startswith("zz/examples.yaml:")
    assert "expected required, got not required (Not required: first registered" in str(answer)


@every_ruleset
def test_sources_are_complete(name: str) -> None:
    """Kind, citation, address where the kind has one, the day checked, the day to look again."""
    for source in ruleset(name).sources.values():
        assert source.kind in SOURCE_KINDS and source.citation
        assert date(2020, 1, 1) <= source.checked < source.look_again, source.id
        if source.kind in ("law", "standard", "guidance", "form notes"):
            assert source.address.startswith("http"), source.id


@every_ruleset
def test_every_entry_rests_on_a_source(name: str) -> None:
    """Each edition, dissent, duration and closed question names sources that exist."""
    rules = ruleset(name)
    for names in _source_names(rules):
        assert names and set(names) <= set(rules.sources)


def _source_names(rules: Ruleset) -> Iterator[tuple[str, ...]]:
    for histories in (rules.definitions, rules.requirements, rules.evidence, rules.charges,
                      rules.counting):
        for history in histories.values():
            yield from (edition.sources for edition in history.editions)
    for definition in (e for h in rules.definitions.values() for e in h.editions):
        yield from (dissent.sources for dissent in definition.dissents)
    for requirement in (e for h in rules.requirements.values() for e in h.editions):
        yield from (dissent.sources for dissent in requirement.dissents)
        yield from (() if requirement.takes is None else (requirement.takes.sources,))
    yield from (question.sources for question in rules.questions.values() if question.closed)
    yield from (example.sources for example in rules.examples.values())


@every_ruleset
def test_every_old_name_resolves(name: str) -> None:
    """What was once a name still leads to something, in one step."""
    rules = ruleset(name)
    now = {*rules.vocabulary, *rules.definitions, *rules.requirements, *rules.evidence,
           *rules.charges, *rules.counting, *rules.sources, *rules.questions, *rules.examples,
           *rules.crosschecks, *rules.routes}

    assert set(rules.renamed.values()) <= now
    assert not set(rules.renamed) & now


@every_ruleset
def test_the_head_says_what_is_not_covered_and_cautions(name: str) -> None:
    """What a ruleset does not cover is part of every assessment, and so are its cautions."""
    rules = ruleset(name)

    assert rules.covers and rules.does_not_cover and rules.cautions


@every_ruleset
def test_facts_of_a_ruleset_carry_its_code(name: str) -> None:
    """Facts another country could ask too are shared; the others are named after the ruleset."""
    rules = ruleset(name)
    for fact in rules.vocabulary.values():
        own = fact.name.split(".")[0].upper().replace("_", "-")
        assert fact.layer in ("common", own), f"{fact.name} is stated by {fact.layer}"


@every_ruleset
def test_no_file_is_too_long(name: str) -> None:
    """No YAML file passes 400 lines."""
    for file in folder(name).rglob("*.yaml"):
        assert len(file.read_text("utf-8").splitlines()) <= 400, file


def test_the_invented_ruleset_has_each_kind_of_source() -> None:
    """So that the tests of 'weakest kind' mean something."""
    assert {source.kind for source in ruleset("ZZ").sources.values()} == set(SOURCE_KINDS)
