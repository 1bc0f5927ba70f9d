"""The answers of one case on one day, as plain values that can be compared with those of another.

Verdicts, classes, deadlines, how far things have come, what is due, and what lateness costs. A
charge that grows every day is one state, 'grows', as long as it does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from regkit.conditions import Holds
from regkit.conditions.truth import NO
from regkit.judge.assess import assess
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.late_charges import late_charges
from regkit.judge.law import Law, law_on
from regkit.judge.progress import standing
from regkit.judge.reckoning import Reckoner
from regkit.model.assessment import Assessment, Verdict
from regkit.model.case import Case
from regkit.model.deadline import Deadline
from regkit.model.ruleset import Requirement, Ruleset

Key = tuple[str, str]
"""What an answer is about: `requirement`, `class`, `deadline`, `progress`, `charge` or `late`, and
the identifier."""


@dataclass(frozen=True)
class State:
    """All answers of a day."""

    assessment: Assessment
    answers: Mapping[Key, str]


def state_on(case: Case, ruleset: Ruleset, on: date) -> State:
    """Return the answers of a case on a day."""
    law, assessment = law_on(ruleset, on), assess(case, ruleset, on)
    return State(assessment, dict(_answers(law, assessment)))


def _answers(law: Law, assessment: Assessment) -> Iterator[tuple[Key, str]]:
    exact = settled_view(law, assessment.case)
    for name, history in law.ruleset.definitions.items():
        if history.latest.is_class:
            truth = exact.truth(Holds(name, law.definitions[name].title))
            yield ("class", name), truth.word
    reckoner = Reckoner(law, exact)
    for name, verdict in assessment.verdicts.items():
        yield ("requirement", name), verdict.value
        if verdict == Verdict.NOT_REQUIRED:
            continue
        edition = law.edition(law.ruleset.requirements[name], assessment.case)
        for charge in edition.charges:
            reckoned = reckoner.reckon(charge)
            if reckoned.edition is not None and reckoned.due != NO and reckoned.edition.payable:
                yield ("charge", charge), f"{reckoned.amount.written}, {reckoned.due.word}"
        yield from _time(law, exact, edition, assessment, verdict)


def _time(
    law: Law, exact: Exact, edition: Requirement, assessment: Assessment, verdict: Verdict
) -> Iterator[tuple[Key, str]]:
    event = edition.on_event
    if event and verdict == Verdict.UNDECIDED and not assessment.case.value(event).exact:
        return
    progress, _, deadline = standing(law.ruleset, edition, exact.view, True)
    yield ("progress", edition.id), progress.value
    if deadline is None:
        return
    yield ("deadline", edition.id), f"{deadline.first}/{deadline.last}"
    if deadline.late is not None:
        yield from _late(law, exact, edition, deadline)


def _late(
    law: Law, exact: Exact, edition: Requirement, deadline: Deadline
) -> Iterator[tuple[Key, str]]:
    assert deadline.late is not None
    forms = {
        name: {figure.form for e in law.ruleset.charges[name].editions for figure in e.figures}
        for name in edition.late
    }
    for charge in late_charges(law, exact, edition, deadline.late):
        daily = charge.grows and bool(forms[charge.charge] & {"per day", "daily rate"})
        said = "grows" if daily else str(charge.amount.most)
        yield ("late", f"{edition.id} {charge.charge}"), f"{said}, {charge.certain}"
