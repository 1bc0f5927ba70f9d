"""The promises of docs/promises.rst, tried on drawn cases.

Every test draws the ruleset as well: the invented one half the time, else any that ships.
"""

from __future__ import annotations

import json
import random
import subprocess
import sys
from datetime import date
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

import regkit
from regkit.conditions.truth import Truth
from regkit.judge.law import law_on
from regkit.model.assessment import Assessment, Outcome, Reason, Verdict
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from regkit.read.text import read_file
from tests.drawn_cases import cases, days_of_assessment, narrowings, read, written_values
from tests.rulesets_under_test import INVENTED, NAMES, ROOT, ruleset

many = settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
some = settings(many, max_examples=60)
few = settings(many, max_examples=15)

names = st.one_of(st.just("ZZ"), st.sampled_from(NAMES))


def loaded(name: str) -> Ruleset:
    """Return a ruleset; one that does not load fails in test_rulesets.py, not here."""
    try:
        return ruleset(name)
    except regkit.Unreadable:
        assume(False)
        raise


def drawn_case(data: st.DataObject, name: str, on: date) -> tuple[Ruleset, Case]:
    """Return a ruleset and a case drawn for it; one that contradicts itself is drawn again."""
    rules = loaded(name)
    case = read(rules, data.draw(cases(rules, on)))
    assume(case is not None)
    assert case is not None
    return rules, case


def answers(rules: Ruleset, facts: dict[str, Any], on: date) -> dict[str, str] | None:
    """Return every verdict, and the truth of every definition; None for a contradictory case."""
    case = read(rules, facts)
    if case is None:
        return None
    verdicts = regkit.assess(case, rules, on).verdicts
    view = law_on(rules, on).view(case)
    return {name: verdict.value for name, verdict in verdicts.items()} | {
        f"definition {name}": view.holds(name).word for name in rules.definitions
    }


def leaves(reason: Reason) -> list[Reason]:
    """Return every test below a reason."""
    inner = [leaf for child in reason.children for leaf in leaves(child)]
    return [reason, *inner] if reason.kind == "test" else inner


@many
@given(data=st.data(), name=names, on=days_of_assessment)
def test_telling_one_more_fact_never_turns_a_settled_answer(
    data: st.DataObject, name: str, on: date
) -> None:
    """Facts told one after another: each may settle what was undecided, and nothing else (M38).

    What was told stays told: an explicit `unknown` is not replaced, that would be a new answer.
    """
    rules = loaded(name)
    told: dict[str, Any] = {}
    settled: dict[str, str] = {}
    drawn = data.draw(cases(rules, on))
    for fact in data.draw(st.permutations(sorted(drawn))):
        found = answers(rules, {**told, fact: drawn[fact]}, on)
        if found is None:
            continue
        told[fact] = drawn[fact]
        turned = {n: (was, found[n]) for n, was in settled.items() if found[n] != was}
        assert not turned, f"telling {fact}: {told[fact]} turned {turned}; told: {told}"
        settled.update((n, answer) for n, answer in found.items() if answer != "undecided")


@some
@given(data=st.data(), name=names, on=days_of_assessment)
def test_telling_a_date_more_exactly_never_turns_a_settled_answer(
    data: st.DataObject, name: str, on: date
) -> None:
    """A day within the span told before settles, and never turns (M38)."""
    rules = loaded(name)
    told = data.draw(cases(rules, on))
    case, before = read(rules, told), answers(rules, told, on)
    assume(case is not None)
    assert case is not None and before is not None
    for fact, value in case.facts.items():
        for day in narrowings(value):
            after = answers(rules, {**told, fact: day}, on)
            if after is not None:
                turned = {n: (was, after[n]) for n, was in before.items()
                          if was not in ("undecided", after[n])}
                assert not turned, f"{fact}: {told[fact]} told as {day} turned {turned}: {told}"


@many
@given(data=st.data(), name=names, on=days_of_assessment)
def test_compiled_verdicts_are_those_of_the_tree(
    data: st.DataObject, name: str, on: date
) -> None:
    """The fast reading and the plain walk of the tree agree on every requirement."""
    rules, case = drawn_case(data, name, on)
    law = law_on(rules, on)
    compiled = dict(zip(law.requirements, map(Truth, law.program.run(case)), strict=True))
    view = law.view(case)

    assert {
        name: Truth.NO if condition is None else condition.truth(view)
        for name, condition in law.requirements.items()
    } == compiled


@few
@given(data=st.data(), name=names, on=days_of_assessment)
def test_the_order_of_facts_does_not_matter(
    data: st.DataObject, name: str, on: date
) -> None:
    """The same facts in any order give byte-identical JSON (M39, M40)."""
    rules = loaded(name)
    told = data.draw(cases(rules, on))
    shuffled_facts = {fact: told[fact] for fact in data.draw(st.permutations(sorted(told)))}
    one, other = read(rules, told), read(rules, shuffled_facts)
    assume(one is not None)
    assert one is not None and other is not None

    assert json.dumps(regkit.assess(one, rules, on).to_dict()) == json.dumps(
        regkit.assess(other, rules, on).to_dict())


def test_another_process_gives_the_same_bytes() -> None:
    """Nothing hangs on the order of sets or hashes, which differ from process to process (M40)."""
    code = (
        "import json, sys, regkit; from datetime import date\n"
        f"rules = regkit.load(__import__('pathlib').Path({str(INVENTED / 'zz')!r}))\n"
        "facts = {'vehicle.built': '1962~', 'vehicle.place': 'abroad', 'purchase.price': '9 CHF'}\n"
        "case = regkit.read_case({'jurisdiction': 'ZZ', 'facts': facts}, rules)\n"
        "print(json.dumps(regkit.assess(case, rules, date(2026, 4, 1)).to_dict()))\n"
    )
    said = {
        subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, cwd=ROOT,
                       env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}).stdout
        for seed in ("1", "2", "3")
    }

    assert len(said) == 1 and b'"verdict"' in said.pop()


@some
@given(data=st.data(), name=names, on=days_of_assessment)
def test_every_finding_is_explained_to_its_source(
    data: st.DataObject, name: str, on: date
) -> None:
    """No verdict without a reason: its tests name fact, value and rule; sources stand by (M35)."""
    rules, case = drawn_case(data, name, on)
    assessment = regkit.assess(case, rules, on)

    assert {finding.id for finding in assessment.findings} == set(rules.requirements)
    for finding in assessment.findings:
        assert finding.verdict == assessment.verdicts[finding.id]
        assert finding.sources and finding.text()
        for leaf in leaves(finding.reason):
            assert leaf.fact in rules.vocabulary
            assert leaf.value is not None and leaf.cut is not None
        assert_decisive(finding.reason)


def assert_decisive(reason: Reason) -> None:
    """Assert that a group rests on parts that have the outcome which gives its own (M35)."""
    for child in reason.children:
        assert_decisive(child)
    if reason.kind not in ("all", "any", "none") or not reason.children:
        return
    deciding = {child.outcome for child in reason.children if child.decisive}
    flipped = {Outcome.YES: Outcome.NO, Outcome.NO: Outcome.YES}
    expected = (flipped.get(reason.outcome, reason.outcome) if reason.kind == "none"
                else reason.outcome)
    assert deciding == {expected}


@some
@given(data=st.data(), name=names, on=days_of_assessment)
def test_undecided_findings_name_facts_that_settle(
    data: st.DataObject, name: str, on: date
) -> None:
    """An undecided answer names facts not known exactly, or an open question of the law (M34)."""
    rules, case = drawn_case(data, name, on)
    for finding in regkit.assess(case, rules, on).findings:
        if finding.verdict == Verdict.UNDECIDED:
            assert finding.settles or finding.open_questions, finding.id
        else:
            assert not finding.settles


@few
@given(data=st.data(), name=names, on=days_of_assessment)
def test_telling_all_that_settles_decides(
    data: st.DataObject, name: str, on: date
) -> None:
    """Whoever tells each fact named, again and again, ends with an answer (M34).

    Only an open question of the law itself may keep it undecided.
    """
    rules = loaded(name)
    told = {fact: value for fact, value in data.draw(cases(rules, on)).items()
            if value != "unknown"}
    asked: set[str] = set()
    for _ in rules.vocabulary:
        case = read(rules, told)
        assume(case is not None)
        assert case is not None
        asked = {fact for finding in regkit.assess(case, rules, on).findings
                 if not finding.open_questions for fact in finding.settles}
        if not asked:
            return
        for fact in sorted(asked):
            told[fact] = data.draw(written_values(rules, rules.vocabulary[fact], on, exact=True))
            assume(read(rules, told) is not None)
    raise AssertionError(f"still asking for {asked} after {told}")


def mixed(data: Any, luck: random.Random) -> Any:
    """Return data with every map, and every list under all, any or none, in another order."""
    if isinstance(data, dict):
        keys = luck.sample(list(data), len(data))
        return {
            key: luck.sample(inner, len(inner))
            if key in ("all", "any", "none") and isinstance(inner, list) else inner
            for key, inner in ((key, mixed(data[key], luck)) for key in keys)
        }
    return [mixed(part, luck) for part in data] if isinstance(data, list) else data


@lru_cache(maxsize=8)
def reordered(seed: int) -> Ruleset:
    """Return the invented ruleset with its files written in another order."""
    luck = random.Random(seed)
    with TemporaryDirectory() as folder:
        for file in (INVENTED / "zz").rglob("*.yaml"):
            data = read_file(file).data
            stages = data.get("stages")
            data = {**mixed(data, luck), **({"stages": stages} if stages else {})}
            target = Path(folder) / "zz" / file.relative_to(INVENTED / "zz")
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(json.dumps(data), "utf-8")
        return regkit.load(Path(folder) / "zz")


def summary(assessment: Assessment) -> dict[str, Any]:
    """Return what must not depend on the order of writing."""
    return {
        finding.id: (finding.verdict, set(finding.settles), finding.weakest, finding.waits_for,
                     {source.id for source in finding.sources},
                     {(other.verdict, other.about) for other in finding.other_readings})
        for finding in assessment.findings
    } | {found.id: found.outcome for found in assessment.classes}


@some
@given(data=st.data(), seed=st.integers(1, 5), on=days_of_assessment)
def test_the_order_of_entries_and_parts_does_not_matter(
    data: st.DataObject, seed: int, on: date
) -> None:
    """Entries, keys, and the parts of all, any and none in any order: the same answers (M39)."""
    rules = ruleset("ZZ")
    told = data.draw(cases(rules, on))
    one, other = read(rules, told), read(reordered(seed), told)
    assume(one is not None)
    assert one is not None and other is not None

    assert summary(regkit.assess(one, rules, on)) == summary(
        regkit.assess(other, reordered(seed), on))
