"""What being late costs: the charges and penalties a requirement names for it."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.conditions.truth import NO, YES
from regkit.judge.exact import Exact
from regkit.judge.lateness import grows, possible_figures
from regkit.judge.law import Law
from regkit.judge.reckoning import Reckoner
from regkit.model.deadline import DaysLate, LateCharge
from regkit.model.figure import LATE_FORMS
from regkit.model.ruleset import Requirement


def late_charges(
    law: Law, exact: Exact, requirement: Requirement, late: DaysLate
) -> Iterator[LateCharge]:
    """Yield what lateness comes to by each charge that may be due for it."""
    reckoner = Reckoner(law, exact)
    for name in requirement.late if late.most else ():
        reckoned = reckoner.reckon(name, late)
        edition, amount = reckoned.edition, reckoned.amount
        if edition is None or reckoned.due == NO:
            continue
        figures = list(possible_figures(edition.figures, exact))
        if not any(figure.form in LATE_FORMS for figure in figures):
            continue
        yield LateCharge(
            charge=name,
            title=edition.title,
            amount=amount,
            certain=reckoned.due == YES and late.least > 0 and amount.most is not None,
            grows=any(figure.form in LATE_FORMS and grows(figure, late) for figure in figures),
            sources=reckoned.sources,
        )
