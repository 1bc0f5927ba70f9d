"""When a bill lacks a charge that is not named: not where a named charge is reckoned from it."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

from regkit.conditions import All, AnyOf, Condition
from regkit.conditions.kinds.choice import Choice
from regkit.keep.dated import follows
from regkit.model.ruleset import Charge, Edition, History, Ruleset
from regkit.model.values import NEVER

RECKONED = ("sum", "rate")
"""The forms of figure that show on the bill what they are reckoned from, late or not."""


def when_missed(
    ruleset: Ruleset, edition: Edition, charge: str, beside: tuple[str, ...]
) -> Condition | None:
    """Return when the bill lacks a charge that an edition names no more; None if it cannot be told.

    Args:
        beside: the charges that it still names. One that in every case is reckoned from the charge
            brings it onto the bill, unless an event that the one goes by never comes.
    """
    history = ruleset.charges[charge]
    if not history.governed_by and not any(_meet(edition, one) for one in history.editions):
        return AnyOf(())
    ways = [events - {history.governed_by} for name in beside
            if (events := _events(ruleset, name, charge)) is not None]
    if not ways or not all(ways):
        return AnyOf(()) if ways else None
    return All(tuple(
        AnyOf(tuple(Choice(ruleset.vocabulary[event], frozenset({NEVER})) for event in events))
        for events in ways))


def _meet(one: Edition, other: Edition) -> bool:
    """Return whether two editions are in force on one day."""
    return (max(one.first or date.min, other.first or date.min)
            <= min(one.last or date.max, other.last or date.max))


def _events(ruleset: Ruleset, name: str, charge: str) -> frozenset[str] | None:
    """Return the events that must come for a charge to bring another onto the bill; None if it may
    leave it out for another reason."""
    if name == charge:
        return frozenset()
    history = ruleset.charges.get(name)
    if history is None or not _on_every_day(history):
        return None
    found = {history.governed_by} - {""}
    for edition in history.editions:
        if edition.when is not None or edition.figures[-1].when is not None:
            return None
        for figure in edition.figures:
            below = (_events(ruleset, base, charge) for base in figure.facts)
            events = next((one for one in below if one is not None), None)
            if events is None or figure.form not in RECKONED:
                return None
            found |= events
    return frozenset(found)


def _on_every_day(history: History[Charge]) -> bool:
    """Return whether one of the editions counts on every day."""
    editions = history.editions
    return (editions[0].first is None and editions[-1].last is None
            and all(edition.state == "enacted" for edition in editions)
            and all(follows(one, other) for one, other in pairwise(editions)))
