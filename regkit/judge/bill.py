"""The bill: what each route costs, line by line, with reason and source.

Only charges of requirements that apply, or may apply, are on it. A charge that may not be due
counts from nothing. What a charge is reckoned from stands above it, and is not itself counted.
"""

from __future__ import annotations

from collections.abc import Iterator

from regkit.conditions import All, Condition, Holds, View
from regkit.conditions.truth import NO, UNDECIDED, YES
from regkit.judge.bill_lines import BillWriter
from regkit.judge.deciding import deciding_words
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.law import Law
from regkit.model.assessment import Outcome
from regkit.model.bill import Bill, Line
from regkit.model.case import Case
from regkit.model.route import Route


def bills(law: Law, exact: Exact) -> tuple[Bill, ...]:
    """Return one bill for each route, the one that the case tells first.

    Without routes, or where the case tells none of them, the first bill is for the case as told.
    A bill of a route that is still open to doubt is reckoned as if it were granted.

    Args:
        exact: the case, its definitions settled.
    """
    case = exact.view.case
    routes = [edition for history in law.ruleset.routes.values()
              if (edition := history.on(law.day.on)) is not None]
    told = next((route for route in routes if _tells(case, route)), None)
    others = tuple(_on_route(law, exact, route) for route in routes if route is not told)
    return (_as_told(law, exact, told), *others)


def bill_as_told(law: Law, exact: Exact) -> Bill:
    """Return the bill for the case as told, without looking at routes.

    Args:
        exact: the case, its definitions settled.
    """
    return _as_told(law, exact, None)


def route_open(law: Law, case: Case, route: Route) -> Outcome:
    """Return whether a route is open to a case, as far as it is told."""
    exact = settled_view(law, case.with_facts(route.facts))
    return Outcome(exact.truth(route.when).word)


def _tells(case: Case, route: Route) -> bool:
    return all(case.value(name) == value or case.value(name).answer == value.answer is not None
               for name, value in route.facts.items())


def _as_told(law: Law, exact: Exact, route: Route | None) -> Bill:
    lines = tuple(BillWriter(law, exact).lines())
    if route is None:
        return Bill("", None, True, Outcome.YES, lines)
    return _bill(law, route, exact, lines, True)


def _on_route(law: Law, told: Exact, route: Route) -> Bill:
    exact = settled_view(law, told.view.case.with_facts(route.facts), told)
    if exact.truth(route.when) == NO:
        return _bill(law, route, exact, (), False)
    granted = law.view(exact.view.case)
    granted.known_truths.update(exact.view.known_truths)
    granted.known_truths.update(dict.fromkeys(_granted(route.when, exact.view), YES))
    return _bill(law, route, exact, tuple(BillWriter(law, exact.seeing(granted)).lines()), False)


def _granted(condition: Condition, view: View) -> Iterator[str]:
    """Yield the definitions that must hold for a route and are still open."""
    if isinstance(condition, All):
        for part in condition.parts:
            yield from _granted(part, view)
    elif isinstance(condition, Holds) and view.holds(condition.definition) == UNDECIDED:
        yield condition.definition


def _bill(
    law: Law, route: Route, exact: Exact, lines: tuple[Line, ...], as_told: bool
) -> Bill:
    sources = tuple(law.ruleset.sources[name] for name in route.sources)
    outcome = Outcome(exact.truth(route.when).word)
    return Bill(route.id, route.title, as_told, outcome, lines,
                deciding_words(route.when, exact.view), sources)
