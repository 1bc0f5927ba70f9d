"""A vehicle inside a region: facts as a case writes them, assessed on both sides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any

from regkit.compare.outcomes import NEVER, Entry, Item, items
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import BEGINNING, FALSE, NEVER_DAY, Node, Part, Variable, asked_by
from regkit.judge.exact import Exact
from regkit.judge.law import law_on
from regkit.judge.possible import Choice, Days, Possible
from regkit.model.changes import Witness
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.model.values import NEVER as NEVER_WORD
from regkit.model.values import UNKNOWN, day_of
from regkit.read.case import read_case
from regkit.read.problems import Unreadable

MOST_TRIES = 12
UNREAD = "cannot be told"
SOME_CURRENCY = "EUR"
"""Where a rule compares two amounts, any one currency will do."""
_COUNTRIES = ("US", "JP", "CH", "NO", "AU", "BR", "ZA", "CA", "NZ", "AR", "IN", "TR", "RS", "MA")


def witness(cells: Cells, inside: Node, on: date) -> Witness | None:
    """Return a vehicle inside a region; None if none is possible."""
    return next(witnesses(Possible(cells), inside, on), None)


def witnesses(possible: Possible, inside: Node, on: date) -> Iterator[Witness]:
    """Yield some vehicles inside a region, each from another part of it; none if none is possible.
    """
    cells, diagrams = possible.cells, possible.cells.diagrams
    for _ in range(MOST_TRIES):
        world = possible.world(inside) if inside is not FALSE else None
        if world is None:
            return
        yield Witness(_facts(cells, inside, *world), on)
        tried = diagrams.every(diagrams.inside(key, part) for key, part in world[0].items())
        inside = diagrams.both(inside, diagrams.negate(tried))


def outcome(ruleset: Ruleset, entry: Entry, item: Item, seen: Witness) -> str:
    """Return what an item comes to for a witness: no, undecided or yes.

    Facts the ruleset does not know are left out of the case.
    """
    known = {name: value for name, value in seen.facts.items() if name in ruleset.vocabulary}
    try:
        case = read_case({"jurisdiction": ruleset.jurisdiction, "facts": known}, ruleset)
    except Unreadable:
        return UNREAD
    law = law_on(ruleset, seen.on)
    return Exact(law.view(case)).truth(items(law, entry).get(item, NEVER)).word


def _facts(cells: Cells, inside: Node, choice: Choice, days: Days) -> dict[str, Any]:
    variables, cuts = cells.diagrams.variables, asked_by(inside)
    written: dict[str, Any] = {}
    for key, part in choice.items():
        variable = variables[key]
        for fact in variable.facts if variable.about == "value" else ():
            if fact.name not in written:
                written[fact.name] = _written(fact, part, days, variable, cuts.get(key, []))
    for key, part in choice.items():
        variable = variables[key]
        if variable.about == UNKNOWN:
            fact = variable.facts[0]
            if part == "yes":
                written[fact.name] = UNKNOWN
            else:
                written.setdefault(fact.name, _anything(fact, days))
    return dict(sorted(written.items()))


def _written(
    fact: Fact, part: Part, days: Mapping[str, Any], variable: Variable, cuts: list[Any]
) -> Any:
    if fact.type == "date":
        day = days.get(fact.name, part[0])
        return NEVER_WORD if day == NEVER_DAY else str(day_of(day))
    if fact.type in ("quantity", "money"):
        single = len(variable.facts) == 1
        unit = fact.unit or (variable.key.rsplit(" in ", 1)[-1] if single else SOME_CURRENCY)
        return f"{days[fact.name] if fact.name in days else _number(*part)} {unit}"
    if part is not None:
        return part
    if fact.type == "country":
        return next((code for code in _COUNTRIES if code not in cuts), "ZW")
    return "another"


def _anything(fact: Fact, days: Mapping[str, Any]) -> Any:
    if fact.type == "date":
        day = days.get(fact.name, NEVER_DAY)
        return NEVER_WORD if day == NEVER_DAY else str(day_of(day))
    return (fact.allowed or ("1",))[0]


def _number(low: Any, high: Any) -> Decimal:
    """Return the plainest number from `low` to below `high`."""
    if low == BEGINNING:
        below = Decimal(0) if high is None else high - 1
        return max(Decimal(0), below.to_integral_value(ROUND_FLOOR))
    for places in range(8):
        found = low.quantize(Decimal(1).scaleb(-places), rounding=ROUND_CEILING)
        if high is None or found < high:
            return Decimal(found)
    return Decimal(low)
