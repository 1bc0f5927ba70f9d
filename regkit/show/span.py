"""The days a picture of a plan covers, and where on it a day lies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from regkit.language import Month
from regkit.model.assessment import Assessment
from regkit.model.plan import Step, StepState

LEAST_DAYS = 27
"""A picture covers so many days after its first one at least."""
MOST_MONTHS = 18
"""Month names are written for spans up to so many months, years alone beyond."""


@dataclass(frozen=True, slots=True)
class Span:
    """The days from one to another, both counted."""

    first: date
    last: date

    def share(self, day: date) -> float:
        """Return how far along the span a day lies, 0 for its first and 1 for its last."""
        return (day - self.first).days / max((self.last - self.first).days, 1)

    def ticks(self) -> Iterator[tuple[date, Month | str]]:
        """Yield the days to mark on an axis, each with what is written there."""
        months = (self.last.year - self.first.year) * 12 + self.last.month - self.first.month
        every = 1 if months <= 4 else 3 if months <= MOST_MONTHS else 12
        every *= max(1, months // (12 * 12)) if every == 12 else 1
        month = self.first.year * 12 + self.first.month
        for at in range(month, self.last.year * 12 + self.last.month):
            day = date(at // 12, at % 12 + 1, 1)
            if (day.year * 12 + day.month - 1) % every == 0:
                yield day, str(day.year) if every >= 12 else Month(day)


def span_of(assessment: Assessment, others: Iterable[date] = ()) -> Span:
    """Return the days of a plan: its steps, their last days, and other days to show."""
    plan = assessment.plan
    days = [plan.on, plan.on + timedelta(days=LEAST_DAYS), *others]
    for step in drawn_steps(assessment):
        days += [step.finish.last] if step.finish else []
        due = due_of(assessment, step)
        days += [due] if due else []
    return Span(min(days), max(days))


def drawn_steps(assessment: Assessment) -> tuple[Step, ...]:
    """Return the steps that have days: neither done nor stuck."""
    return tuple(step for step in assessment.plan.steps
                 if step.state not in (StepState.DONE, StepState.STUCK))


def due_of(assessment: Assessment, step: Step) -> date | None:
    """Return the last day of a step by the safe reading, if there is one."""
    deadline = assessment.finding(step.requirement).deadline
    return deadline.first if deadline is not None and not deadline.at_once else None
