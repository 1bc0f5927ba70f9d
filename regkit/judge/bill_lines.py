"""The lines of one bill: what each requirement that applies, or may, costs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from regkit.conditions import Condition
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.deciding import hangs_on
from regkit.judge.exact import Exact
from regkit.judge.freshness import evidence_on
from regkit.judge.law import Law
from regkit.judge.offered import offered_for
from regkit.judge.progress import standing
from regkit.judge.reckoned import Reckoned
from regkit.judge.reckoning import Reckoner
from regkit.language import Text
from regkit.model.bill import Line
from regkit.model.deadline import DaysLate
from regkit.model.ruleset import Need, Requirement


@dataclass
class BillWriter:
    """Writes the lines of one bill; a charge that two requirements name is due once."""

    law: Law
    exact: Exact
    written: dict[str, Line] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.view = self.exact.view
        self.reckoner = Reckoner(self.law, self.exact)

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
