"""What the worked examples of a ruleset have tried, and what they have not.

A verdict counts as seen if an example expects it. A test counts as decisive if the answer an
example expects rests on it, once as yes and once as no. Boundaries and cells: `boundaries`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from regkit.conditions import Condition, Test
from regkit.conditions.view import View
from regkit.judge.law import law_on
from regkit.keep.examples import example_case
from regkit.language import Phrase
from regkit.model.assessment import Outcome, Reason, Verdict
from regkit.model.ruleset import Edition, Example, Ruleset

PARTS = ("definitions", "requirements", "cautions", "windows", "papers")
"""The parts of an expectation that rest on the condition of an entry."""

TestKey = tuple[str, Phrase]
"""The entry in whose condition a test stands, and its words."""


@dataclass(frozen=True, slots=True)
class Tried:
    """One answer that an example expects: the entry, and the reason tree behind it."""

    example: Example
    view: View
    entry: str
    reason: Reason


def tried(ruleset: Ruleset) -> Iterator[Tried]:
    """Yield every entry whose condition an example tries.

    Raises:
        Unreadable: the case of an example is wrong.
    """
    for example in ruleset.examples.values():
        law = law_on(ruleset, example.on)
        view = law.view(example_case(example, ruleset))
        names = [ruleset.renamed.get(name, name)
                 for part in PARTS for name in example.expect.get(part, ())]
        for name in dict.fromkeys(names):
            condition = (law.definitions[name].condition if name in law.definitions
                         else law.requirements[name])
            if condition is not None:
                yield Tried(example, view, name, condition.reason(view))


def verdicts_seen(ruleset: Ruleset) -> Mapping[str, frozenset[str]]:
    """Return for each requirement the verdicts that examples expect of it."""
    found: dict[str, set[str]] = {name: set() for name in ruleset.requirements}
    for example in ruleset.examples.values():
        for name, verdict in example.expect.get("requirements", {}).items():
            found[ruleset.renamed.get(name, name)].add(str(verdict))
    return {name: frozenset(verdicts) for name, verdicts in found.items()}


def verdicts_lacking(ruleset: Ruleset) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield each enacted requirement of the ruleset itself with the verdicts nobody expects."""
    seen = verdicts_seen(ruleset)
    for name, history in ruleset.requirements.items():
        if any(_counts(edition, ruleset) for edition in history.editions):
            lacking = tuple(v.value for v in Verdict if v.value not in seen[name])
            if lacking:
                yield name, lacking


def tests_of(ruleset: Ruleset) -> Iterator[tuple[str, Edition, Test]]:
    """Yield the tests of the ruleset's own enacted rules: entry, edition, test."""
    for kind in (ruleset.definitions, ruleset.requirements):
        histories: Mapping[str, Any] = kind
        for name, history in histories.items():
            for edition in history.editions:
                if _counts(edition, ruleset):
                    when: Condition = edition.when
                    yield from ((name, edition, node) for node in when.walk()
                                if isinstance(node, Test))


def decisions(tries: tuple[Tried, ...]) -> Mapping[TestKey, frozenset[Outcome]]:
    """Return for each test the outcomes by which it bore an answer that an example expects."""
    found: dict[TestKey, set[Outcome]] = defaultdict(set)
    for one in tries:
        for entry, leaf in leaves(one.reason, one.entry):
            if leaf.cut is not None:
                found[entry, leaf.cut].add(leaf.outcome)
    return {key: frozenset(outcomes) for key, outcomes in found.items()}


def never_decisive(ruleset: Ruleset, tries: tuple[Tried, ...]) -> Iterator[
        tuple[str, Edition, Test, tuple[Outcome, ...]]]:
    """Yield each test that did not decide both ways, with the outcomes that are lacking."""
    seen = decisions(tries)
    done: set[TestKey] = set()
    for entry, edition, test in tests_of(ruleset):
        key = (entry, test.rule())
        lacking = tuple(outcome for outcome in (Outcome.YES, Outcome.NO)
                        if outcome not in seen.get(key, ()))
        if lacking and key not in done:
            done.add(key)
            yield entry, edition, test, lacking


def leaves(reason: Reason, entry: str, decisive: bool = True) -> Iterator[tuple[str, Reason]]:
    """Yield the tests of a reason tree that bear its outcome, with the entry each stands in.

    Args:
        decisive: whether to follow deciding branches alone.
    """
    if reason.kind == "definition":
        entry = reason.name
    if reason.kind == "test":
        yield entry, reason
    for child in reason.children:
        if child.decisive or not decisive:
            yield from leaves(child, entry, decisive)


def _counts(edition: Edition, ruleset: Ruleset) -> bool:
    return edition.state == "enacted" and edition.layer == ruleset.jurisdiction
