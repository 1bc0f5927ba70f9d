"""Comparing two rulesets, or the law of two days, in three layers: effects, entries, cases."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from regkit.compare.effects import Comparison
from regkit.compare.entries import Written, entry_changes
from regkit.compare.renaming import under_new_names
from regkit.judge.assess import EARLIEST, LATEST, assess
from regkit.model.case import Case
from regkit.model.changes import CaseChange, Changes, Effect, Side
from regkit.model.ruleset import Edition, History, Ruleset

Cases = Iterable[tuple[str, date, Case, Case]]
"""Name, day of assessment, and the case as each side reads it."""


def compare(
    old: Ruleset,
    new: Ruleset,
    first: date,
    last: date,
    today: date,
    written: tuple[Written, Written] = ({}, {}),
    cases: Cases = (),
    labels: tuple[str, str] = ("", ""),
) -> Changes:
    """Return everything that differs between two rulesets for days of assessment in a horizon.

    Args:
        first, last: the horizon: all days of assessment that are compared, both included.
        today: the day 'from now on' counts from.
        written: the entries of both sides as written, for the layer of entries.
        cases: cases of the user's, for the layer of cases.
        labels: how to call the sides; by default jurisdiction and version.

    Raises:
        ValueError: the horizon is empty, or lies outside the years that can be assessed.
    """
    if not EARLIEST <= first <= last <= LATEST:
        raise ValueError(f"{first} to {last} is no horizon; it must lie in 1900 to 2199 and not "
                         "end before it begins")
    renamed, old_names = under_new_names(old, new)
    comparison = Comparison(renamed, new, first, last)
    effects = tuple(_under_old_names(effect, old_names) for effect in comparison.effects())
    tried = list(cases)
    return Changes(
        old=_side(old, labels[0]),
        new=_side(new, labels[1]),
        first=first,
        last=last,
        today=today,
        compared=comparison.compared,
        effects=effects,
        entries=tuple(entry_changes(*written)),
        cases=tuple(_case_changes(old, new, tried)),
        tried=len(tried),
    )


def _under_old_names(effect: Effect, names: Mapping[str, str]) -> Effect:
    """Return an effect whose vehicles tell facts by old names, which both sides understand."""
    return effect if not names else replace(effect, regions=tuple(
        replace(region, witness=region.witness and replace(region.witness, facts={
            names.get(name, name): value for name, value in region.witness.facts.items()}))
        for region in effect.regions))


def _side(ruleset: Ruleset, label: str) -> Side:
    name = f"{ruleset.jurisdiction}@{ruleset.version}"
    return Side(label or name, ruleset.jurisdiction, ruleset.version, ruleset.digest)


def _case_changes(old: Ruleset, new: Ruleset, cases: Cases) -> Iterator[CaseChange]:
    for name, on, old_case, new_case in cases:
        before, after = _answers(old_case, old, on), _answers(new_case, new, on)
        for asked in dict.fromkeys((*before, *after)):
            was, now = before.get(asked, "no such rule"), after.get(asked, "no such rule")
            if was != now:
                yield CaseChange(name, on, *asked, was, now)


def _answers(case: Case, ruleset: Ruleset, on: date) -> Mapping[tuple[str, str], str]:
    assessment = assess(case, ruleset, on)
    verdicts = {("requirement", name): v.value for name, v in assessment.verdicts.items()}
    classes = {("definition", found.id): found.outcome.value for found in assessment.classes}
    return verdicts | classes


def as_of(ruleset: Ruleset, day: date) -> Ruleset:
    """Return the law of a day as if it had never changed before or after.

    What is in force that day counts for every day of assessment; of a rule that is chosen by the
    day of an event, what came later is left out, and what counted that day goes on.
    """
    kinds = ("definitions", "requirements", "evidence", "charges", "counting")
    changed: dict[str, Any] = {
        kind: {name: _history_as_of(history, day) for name, history in getattr(
            ruleset, kind).items()}
        for kind in kinds
    }
    return replace(ruleset, **changed, digest=f"{ruleset.digest} as of {day}")


def _history_as_of(history: History[Any], day: date) -> History[Any]:
    current: Any = history.on(day)
    if history.governed_by:
        kept = tuple(
            replace(edition, last=None) if edition is current else edition
            for edition in history.editions if edition.first is None or edition.first <= day
        )
        return replace(history, editions=kept or (_withdrawn(history.latest),))
    if current is None:
        return replace(history, editions=(_withdrawn(history.latest),))
    return replace(history, editions=(replace(current, first=None, last=None),))


def _withdrawn(edition: Edition) -> Edition:
    return replace(edition, state="withdrawn")
