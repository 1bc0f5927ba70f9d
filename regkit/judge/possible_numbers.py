"""Whether quantities can be what was chosen of them and stand to each other as was chosen.

Each choice says 'this number is at least that one and so much', so the least numbers that satisfy
all are found by pushing numbers up until nothing moves; what still moves after as many rounds as
there are numbers chases itself for ever. (Difference constraints; R. Bellman, 1958.)
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from regkit.conditions.cells import Cells
from regkit.conditions.diagram import BEGINNING, Part
from regkit.conditions.kinds.kind import LEAST_STEP
from regkit.conditions.tree import Test
from regkit.model.facts import Fact
from regkit.model.values import Bound

Numbers = Mapping[str, Decimal]
NUMBERS = ("quantity", "money")
_WHOLE = Decimal(1)


def possible_numbers(cells: Cells, choice: Mapping[str, Part]) -> Numbers | None:
    """Return numbers of the facts that are compared with each other; None if there are none."""
    variables = cells.diagrams.variables
    told = {key: part for key, part in choice.items()
            if variables[key].about == "value" and isinstance(part, tuple)
            and variables[key].facts[0].type in NUMBERS}
    compared = [(cells.tests[key], part) for key, part in told.items()
                if len(variables[key].facts) > 1]
    facts = dict.fromkeys(fact for test, _ in compared for fact in test.facts)
    spans = {fact.name: _span(cells, fact) for fact in facts}
    units = {fact.name: {cells.view.case.value(fact.name).unit} - {""} for fact in facts}
    for key, (low, high) in told.items():
        name = variables[key].facts[0].name
        if len(variables[key].facts) == 1 and name in spans:
            least, most = spans[name]
            spans[name] = (least if low == BEGINNING else max(least, low),
                           most if high is None else min(most, high - LEAST_STEP))
            units[name] |= {key.rsplit(" in ", 1)[-1]} if " in " in key else set()
    for test, _ in compared:
        if len(set().union(*(units[fact.name] for fact in test.facts))) > 1:
            # What two currencies are worth to each other is not known.
            spans |= {fact.name: (Decimal(0), float("inf")) for fact in test.facts}
    # First by whole steps, which look like those of a real vehicle.
    for step in (_WHOLE, LEAST_STEP):
        found = _settled(cells, compared, spans, step)
        if found is not None:
            return found
    return None


def _span(cells: Cells, fact: Fact) -> tuple[Decimal, Bound]:
    value = cells.view.case.value(fact.name)
    low = value.low if isinstance(value.low, Decimal) else Decimal(0)
    return low, value.high


def _settled(
    cells: Cells, compared: Iterable[tuple[Test, Part]], spans: Mapping[str, tuple[Decimal, Bound]],
    step: Decimal,
) -> Numbers | None:
    lows = {name: low for name, (low, _) in spans.items()}
    for _ in range(len(lows) + 1):
        before = dict(lows)
        for test, (low, high) in compared:
            least = step if low == LEAST_STEP else low
            inside = (least, None if high is None else high - (step if high == 0 else LEAST_STEP))
            lows.update(test.earliest(lows, inside, cells.view.day))
        if any(low > spans[name][1] for name, low in lows.items()):
            return None
        if lows == before:
            return lows
    return None
