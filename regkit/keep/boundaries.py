"""The cut-offs that worked examples must touch: the day before, the day, the day after.

For numbers: a step below, the number, a step above. A bound that can never decide, whatever else
is true of a vehicle, need not be touched; that is worked out exactly. So is the case that would
touch it, ready to be completed.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from typing import Any

from regkit.compare.witnesses import witness
from regkit.conditions import Between, Test
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, Node, TooLarge
from regkit.conditions.view import LawDay
from regkit.judge.law import Law, law_on
from regkit.keep.coverage import TestKey, Tried, leaves, tests_of
from regkit.model.case import Case
from regkit.model.ruleset import Edition, Ruleset
from regkit.model.values import Bound

DAYS = ("the day before", "the day", "the day after")
NUMBERS = ("a step below", "the number itself", "a step above")
_STEP = Decimal("0.000001")


@dataclass(frozen=True, slots=True)
class Boundary:
    """One point at a cut-off that no example touches, and a case that would.

    Attributes:
        entry: the definition or requirement in whose condition the test stands.
        where: which of the three points.
        bound: the day, as an ordinal, or the number.
        facts: the case to complete, as a case writes them.
    """

    entry: str
    edition: Edition
    test: Test
    where: str
    bound: Bound
    on: date
    facts: Mapping[str, Any]


def untouched(ruleset: Ruleset, tries: tuple[Tried, ...], today: date) -> Iterator[Boundary]:
    """Yield every point at a cut-off that could decide and that no example touches."""
    touched = _touched(ruleset, tries)
    done: set[tuple[TestKey, int, int]] = set()
    for entry, edition, test in tests_of(ruleset):
        on = _day_in(edition, today)
        for side, bound in enumerate(_bounds(test, LawDay(on, ruleset.leap_day))):
            if bound is None:
                continue
            missing = [at for at in range(3)
                       if at not in touched.get((entry, test.rule()), {}).get(side, ())
                       and ((entry, test.rule()), side, at) not in done]
            done.update(((entry, test.rule()), side, at) for at in missing)
            yield from _prepared(law_on(ruleset, on), entry, edition, test, bound, missing)


def _touched(
    ruleset: Ruleset, tries: tuple[Tried, ...]
) -> Mapping[TestKey, Mapping[int, set[int]]]:
    """Return for each test and bound which of the three points examples touch."""
    tests = {(entry, test.rule()): test for entry, _, test in tests_of(ruleset)}
    found: dict[TestKey, dict[int, set[int]]] = defaultdict(lambda: defaultdict(set))
    for one in tries:
        for entry, leaf in leaves(one.reason, one.entry, decisive=False):
            test = tests.get((entry, leaf.cut)) if leaf.cut is not None else None
            if test is None:
                continue
            value = test.value(one.view.case, one.view.day)
            for side, bound in enumerate(_bounds(test, one.view.day)):
                if bound is not None and value.low == value.high and value.word is None:
                    at = _at(value.low, bound)
                    if at is not None:
                        found[entry, test.rule()][side].add(at)
    return found


def _bounds(test: Test, day: LawDay) -> tuple[Bound | None, Bound | None]:
    cut = test.cut(day)
    return (cut.low, cut.high) if isinstance(cut, Between) else (None, None)


def _at(value: Bound, bound: Bound) -> int | None:
    """Return which of the three points a value is; None if it lies further away."""
    apart = value - _whole(bound)
    if isinstance(bound, Decimal):
        return None if abs(apart) > 1 else 1 if apart == 0 else 0 if apart < 0 else 2
    return int(apart) + 1 if -1 <= apart <= 1 else None


def _whole(bound: Bound) -> Bound:
    """Return the number as the rule writes it: cuts lie a little above 'more than 48'."""
    if isinstance(bound, Decimal):
        return bound.quantize(_STEP, rounding=ROUND_FLOOR).normalize()
    return bound


def _day_in(edition: Edition, today: date) -> date:
    """Return today, or the day nearest to it on which an edition is in force."""
    if edition.last is not None and edition.last < today:
        return edition.last
    if edition.first is not None and edition.first > today:
        return edition.first
    return today


def _prepared(
    law: Law, entry: str, edition: Edition, test: Test, bound: Bound, missing: list[int]
) -> Iterator[Boundary]:
    nobody = Case(law.ruleset.jurisdiction, {}, vocabulary=law.ruleset.vocabulary)
    cells = Cells(law.view(nobody))
    condition = (law.definitions[entry].condition if entry in law.definitions
                 else law.requirements[entry])
    try:
        drawn = cells.draw(condition)
        deciding = _deciding(cells, drawn, test.key, bound)
    except TooLarge:
        return
    for at in missing if deciding is not FALSE else ():
        inside = cells.diagrams.both(deciding, cells.diagrams.inside(test.key, _part(bound, at)))
        found = witness(cells, inside, law.day.on)
        if found is not None:
            names = NUMBERS if isinstance(bound, Decimal) else DAYS
            yield Boundary(entry, edition, test, names[at], bound, law.day.on, found.facts)


def _deciding(cells: Cells, drawn: Node, key: str, bound: Bound) -> Node:
    """Return where it matters on which side of a bound a value lies."""
    if key not in cells.diagrams.variables:
        return FALSE
    step = Decimal(0) if isinstance(bound, Decimal) else 1
    below = cells.diagrams.fixed(drawn, key, (bound - (step or _STEP / 10), bound))
    above = cells.diagrams.fixed(drawn, key, (bound, bound + (step or _STEP / 10)))
    return cells.diagrams.differ(below, above)


def _part(bound: Bound, at: int) -> tuple[Bound, Bound]:
    value = _whole(bound) + (at - 1)
    return value, value + (_STEP / 10 if isinstance(bound, Decimal) else 1)
