"""Which editions of a charge may count: more than one where the day that governs it is inexact."""

from __future__ import annotations

from datetime import date, timedelta

from regkit.conditions import View
from regkit.judge.law import Law
from regkit.language import Phrase, phrase
from regkit.model.ruleset import Charge, History
from regkit.model.values import NEVER, Value


def possible_editions(
    history: History[Charge], law: Law, view: View
) -> tuple[list[Charge | None], tuple[Phrase, ...]]:
    """Return every edition that may count, None for days without one, and what would settle it."""
    if not history.governed_by:
        return [history.on(law.day.on)], ()
    fact = law.ruleset.vocabulary[history.governed_by]
    value = view.case.value(fact.name)
    if value.word == NEVER:
        return [None], ()
    possible: list[Charge | None] = [
        edition for edition in history.editions
        if edition.state == "enacted"
        and _ordinal(edition.first, date.min) <= value.high
        and value.low <= _ordinal(edition.last, date.max)
    ]
    if not _covered([edition for edition in possible if edition is not None], value):
        possible.append(None)
    return possible, (phrase("{label}", label=fact.label),) if len(possible) > 1 else ()


def _ordinal(day: date | None, otherwise: date) -> int:
    return (day or otherwise).toordinal()


def _covered(editions: list[Charge], value: Value) -> bool:
    """Return whether editions leave no day without one, of those the value may be."""
    free = max(value.low, date.min.toordinal())
    for edition in sorted(editions, key=lambda one: _ordinal(one.first, date.min)):
        if _ordinal(edition.first, date.min) > free:
            return False
        if edition.last is None:
            return True
        free = _ordinal(edition.last + timedelta(days=1), date.max)
    return bool(free > value.high)
