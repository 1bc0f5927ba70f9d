"""Conditions in outline, from the words reading: what an explanation says, without a case."""

from __future__ import annotations

from datetime import date

from regkit.conditions import Condition
from regkit.conditions.view import View
from regkit.judge.law import law_on
from regkit.language import phrase
from regkit.model.assessment import Reason
from regkit.model.case import Case
from regkit.model.outline import Outline
from regkit.model.ruleset import Edition, Ruleset

SOME_DAY = date(2000, 1, 1)
"""Rules without days of their own read the same on every day."""


def outline(condition: Condition, edition: Edition, ruleset: Ruleset) -> Outline:
    """Return a condition of an edition in outline; definitions are named, not opened."""
    return _outline(condition.reason(_nobody(edition, ruleset)), ruleset)


def _nobody(edition: Edition, ruleset: Ruleset) -> View:
    """Return the law of a day of the edition as it sees a vehicle of which nothing is told."""
    day = edition.first or edition.last or ruleset.known_from or SOME_DAY
    case = Case(ruleset.jurisdiction, {}, vocabulary=ruleset.vocabulary)
    return law_on(ruleset, day).view(case)


def _outline(reason: Reason, ruleset: Ruleset) -> Outline:
    if reason.kind == "test":
        assert reason.cut is not None
        return Outline(reason.cut, "test", reason.fact)
    if reason.kind == "definition":
        title = ruleset.definitions[reason.name].latest.title
        return Outline(phrase("{title}", title=title), "definition", reason.name)
    return Outline(reason.says, reason.kind, reason.name,
                   tuple(_outline(child, ruleset) for child in reason.children))
