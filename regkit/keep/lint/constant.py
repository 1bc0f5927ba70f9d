"""Entries whose condition comes out the same for every vehicle on every day it is in force."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from regkit.compare.eras import Eras, events, law_tests, reached, stretches
from regkit.conditions import Condition
from regkit.conditions.diagram import Node
from regkit.judge.exact import Exact
from regkit.judge.law import Law, law_on
from regkit.keep.lint.kept import Kept
from regkit.model.ruleset import History
from regkit.read.conditions import ALWAYS
from regkit.read.folder import Written

YEARS_AHEAD = 30
EARLIEST = date(1980, 1, 1)


def constants(kept: Kept, outcome: Node) -> Iterator[Written]:
    """Yield each definition and requirement whose condition is `TRUE`, or `FALSE`, throughout.

    Looked at from the first day the ruleset knows to so many years ahead, era by era. Where a
    picture grows too large nothing is said.
    """
    for kind in ("definitions", "requirements"):
        for entry, history in kept.histories(kind):
            written = [edition.when for edition in history.editions if edition.state == "enacted"]
            if written and ALWAYS not in written and _throughout(kept, kind, history, outcome):
                yield entry


def _throughout(kept: Kept, kind: str, history: History[Any], outcome: Node) -> bool:
    seen = False
    for law in _laws(kept, kind, history):
        condition = _condition(law, kind, history.id)
        if condition is None:
            continue
        if Exact(law.view(kept.nobody)).open_part(condition) is not outcome:
            return False
        seen = True
    return seen


def _condition(law: Law, kind: str, name: str) -> Condition | None:
    if kind == "definitions":
        return law.definitions[name].condition
    return law.requirements[name]


def _laws(kept: Kept, kind: str, history: History[Any]) -> Iterator[Law]:
    """Yield the law of today, which mostly settles it, then that of the first day of each era."""
    ruleset = kept.ruleset
    yield law_on(ruleset, kept.on)
    first = min(ruleset.known_from or EARLIEST, kept.on)
    last = date(kept.on.year + YEARS_AHEAD, 12, 31)
    eras = Eras(ruleset.vocabulary, ruleset.leap_day)
    others = reached(ruleset, [edition.when for edition in history.editions]).values()
    happened = list(events(ruleset, history.id)) if kind == "requirements" else []
    for span in stretches((history, *others), first, last):
        law = law_on(ruleset, span[0])
        condition = _condition(law, kind, history.id)
        if condition is not None:
            tests = [*law_tests(law, [condition]), *happened]
            yield from (law_on(ruleset, start) for start, _ in eras.of(tests, span))
