"""The bill: what each route costs, line by line, with reason and source.

Only charges of requirements that apply, or may apply, are on it. A charge that may not be due
counts from nothing. What a charge is reckoned from stands above it, and is not itself counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from regkit.conditions import All, Condition, Holds, View
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.deciding import deciding_words, hangs_on
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.law import Law
from regkit.judge.offered import evidence_on, offered_for
from regkit.judge.progress import standing
from regkit.judge.reckoning import Reckoned, Reckoner
from regkit.language import Text
from regkit.model.assessment import Outcome
from regkit.model.bill import Bill, Line
from regkit.model.case import Case
from regkit.model.deadline import DaysLate
from regkit.model.route import Route
from regkit.model.ruleset import Need, Requirement


def bills(law: Law, case: Case) -> tuple[Bill, ...]:
    """Return one bill for each route, the one that the case tells first.

    Without routes, or where the case tells none of them, the first bill is for the case as told.
    A bill of a route that is still open to doubt is reckoned as if it were granted.
    """
    routes = [edition for history in law.ruleset.routes.values()
              if (edition := history.on(law.day.on)) is not None]
    told = next((route for route in routes if _tells(case, route)), None)
    others = tuple(_on_route(law, case, route) for route in routes if route is not told)
    return (_as_told(law, case, told), *others)


def _tells(case: Case, route: Route) -> bool:
    return all(case.value(name) == value or case.value(name).answer == value.answer is not None
               for name, value in route.facts.items())


def _as_told(law: Law, case: Case, route: Route | None) -> Bill:
    exact = settled_view(law, case)
    lines = tuple(_Writer(law, exact).lines())
    if route is None:
        return Bill("", None, True, Outcome.YES, lines)
    return _bill(law, route, exact, lines, True)


def _on_route(law: Law, case: Case, route: Route) -> Bill:
    exact = settled_view(law, case.with_facts(route.facts))
    if exact.truth(route.when) == NO:
        return _bill(law, route, exact, (), False)
    granted = law.view(exact.view.case)
    granted.known_truths.update(exact.view.known_truths)
    granted.known_truths.update(dict.fromkeys(_granted(route.when, exact.view), YES))
    return _bill(law, route, exact, tuple(_Writer(law, Exact(granted)).lines()), False)


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


@dataclass
class _Writer:
    """Writes the lines of one bill; a charge that two requirements name is due once."""

    law: Law
    exact: Exact
    written: dict[str, Line] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.view = self.exact.view
        self.reckoner = Reckoner(self.law, self.view)

    def lines(self) -> Iterator[Line]:
        """Return the lines in the order of the ruleset, bases first."""
        for name, condition in self.law.requirements.items():
            edition = self.law.edition(self.law.ruleset.requirements[name], self.view.case)
            truth = NO if condition is None else self.exact.truth(condition)
            if truth == NO or self._waits(edition, truth) or condition is None:
                continue
            for charge in edition.charges:
                self._write(charge, edition, truth, condition)
            for charge, sure in self._for_papers(edition.needs, truth == YES):
                self._write(charge, edition, truth if sure else UNDECIDED, condition)
            if edition.late:
                self._late(edition, truth, condition)
        return iter(self.written.values())

    def _for_papers(self, needs: Iterable[Need], sure: bool) -> Iterator[tuple[str, bool]]:
        """Yield what papers cost that are still to get; of alternatives none is sure."""
        for need in needs:
            truth = YES if need.when is None else self.exact.truth(need.when)
            if truth == NO:
                continue
            here = sure and truth == YES
            if need.parts:
                yield from self._for_papers(need.parts, here and need.count == len(need.parts))
            elif not any(one.in_order for one in offered_for(
                self.law.ruleset, self.view, need, self.law.day.on
            )):
                evidence = evidence_on(self.law.ruleset, need.evidence, self.law.day.on)
                yield from ((charge, here) for charge in evidence.charges)

    def _waits(self, edition: Requirement, truth: Truth) -> bool:
        """Return whether a standing duty waits for an event that has not happened."""
        event = edition.on_event
        return bool(event) and truth == UNDECIDED and not self.view.case.value(event).exact

    def _late(self, edition: Requirement, truth: Truth, condition: Condition) -> None:
        _, _, deadline = standing(self.law.ruleset, edition, self.view, True)
        late = deadline.late if deadline is not None else None
        if late is None or not late.most:
            return
        for charge in edition.late:
            self._write(charge, edition, truth if late.least else UNDECIDED, condition, late)

    def _write(
        self, name: str, edition: Requirement, truth: Truth, condition: Condition,
        late: DaysLate | None = None,
    ) -> None:
        reckoned = self.reckoner.reckon(name, late)
        if reckoned.edition is None or reckoned.due == NO:
            return
        for base in reckoned.bases:
            self._write(base, edition, truth, condition)
        line = self._line(name, reckoned, edition, truth, condition)
        earlier = self.written.get(name)
        if earlier is None or (line.certain and not earlier.certain):
            self.written[name] = line

    def _line(
        self, name: str, reckoned: Reckoned, edition: Requirement, truth: Truth,
        condition: Condition,
    ) -> Line:
        charge = reckoned.edition
        assert charge is not None
        certain = truth == YES and reckoned.due == YES
        due_if = () if truth == YES else tuple(dict.fromkeys(
            hangs_on(condition, self.law, self.view)))
        return Line(
            charge=name,
            title=charge.title,
            amount=reckoned.amount,
            payable=charge.payable,
            certain=certain,
            how=reckoned.how,
            sources=tuple(self.law.ruleset.sources[source] for source in reckoned.sources),
            requirement=edition.id,
            paid_to=self._payee(charge.paid_to),
            because=reckoned.because,
            needs=reckoned.needs,
            due_if=due_if,
            rounding=reckoned.rounding,
            questions=charge.questions,
        )

    def _payee(self, name: str) -> Text | None:
        return self.law.ruleset.authorities[name].title if name else None
