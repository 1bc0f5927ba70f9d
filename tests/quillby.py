"""Cases of Quillby, the invented jurisdiction that tries papers and charges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

import regkit
from regkit.language import speaker
from regkit.model.assessment import Assessment
from regkit.model.bill import Bill, Line
from tests.rulesets_under_test import INVENTED

RULES = regkit.load(INVENTED / "qb")
ON = date(2026, 4, 20)
FACTS: Mapping[str, Any] = {
    "use.on_road": "yes", "vehicle.place": "abroad", "vehicle.built": "1962",
    "arrival.date": "2026-04-15", "keeper.name": "Wendeline Oakhart",
}

say = speaker().say


def case(
    facts: Mapping[str, Any] | None = None, papers: Sequence[Mapping[str, Any]] = (),
    done: Sequence[Mapping[str, Any]] = (), rates: Sequence[Mapping[str, Any]] = (),
) -> regkit.Case:
    """Return a case: the usual facts, and these; None takes a fact away."""
    told = {name: value for name, value in {**FACTS, **(facts or {})}.items() if value is not None}
    return regkit.read_case({"jurisdiction": "QB", "facts": told, "papers": list(papers),
                             "done": list(done), "rates": list(rates)}, RULES)


def assessed(*arguments: Any, on: date = ON, **more: Any) -> Assessment:
    """Return the assessment of such a case."""
    return regkit.assess(case(*arguments, **more), RULES, on)


def wrong(**parts: Any) -> list[str]:
    """Return what is wrong with a case that cannot be read, one sentence each."""
    try:
        case(**parts)
    except regkit.Unreadable as unreadable:
        return [problem.text for problem in unreadable.problems]
    return []


def line(found: Bill, charge: str) -> Line:
    """Return the line of a charge, which must be on the bill."""
    made = found.line(charge)
    assert made is not None, charge
    return made
