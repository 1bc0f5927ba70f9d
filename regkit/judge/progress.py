"""What is done: the case's list of steps taken and its papers move a requirement on.

A requirement is met on the day the case's `done` list names, or when every paper it gives is held.
Only what happened by the day of assessment counts, so the state on any earlier day can be asked
for. A standing duty that waits for an event is met only by what came on or after that event.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from regkit.conditions import View
from regkit.judge.lateness import days_late
from regkit.judge.windows import deadline_of
from regkit.model.case import Case, Paper
from regkit.model.deadline import Deadline, Fulfilment, Progress
from regkit.model.resting import paper_order
from regkit.model.ruleset import Requirement, Ruleset
from regkit.model.values import day_of


def standing(
    ruleset: Ruleset, requirement: Requirement, view: View, applies: bool
) -> tuple[Progress, Fulfilment | None, Deadline | None]:
    """Return how far a requirement has come, what shows that it is met, and its deadline.

    Args:
        applies: whether it is, or may be, required; a window runs only then.
    """
    on = view.day.on
    met = fulfilment(requirement, view.case, on)
    deadline = None
    if requirement.window is not None and applies:
        deadline = deadline_of(requirement.window, ruleset, view.case, on)
    state, deadline = progress(deadline, met, on)
    return state, met, deadline


def fulfilment(requirement: Requirement, case: Case, on: date) -> Fulfilment | None:
    """Return what shows that a requirement had been met by a day; None if nothing does."""
    since = _since(requirement, case)
    found = [
        Fulfilment(done.on, done.reference)
        for done in case.done
        if done.requirement == requirement.id and done.on <= on
        and (since is None or done.on >= since)
    ]
    if found:
        return min(found, key=lambda met: met.on or on)
    if not requirement.gives or (requirement.on_event and since is None):
        return None
    shown = [_shown(name, case, on, since) for name in requirement.gives]
    if any(paper is None for paper in shown):
        return None
    papers = [paper for paper in shown if paper is not None]
    latest = max(papers, key=lambda paper: _issued(paper) or date.min)
    return Fulfilment(_issued(latest), latest.reference, latest.evidence)


def held_papers(case: Case, on: date) -> Iterator[Paper]:
    """Yield the papers held on a day; one without a date counts as held."""
    return (paper for paper in case.papers if (_issued(paper) or on) <= on)


def progress(
    deadline: Deadline | None, met: Fulfilment | None, on: date
) -> tuple[Progress, Deadline | None]:
    """Return how far a requirement has come, and its deadline as it stands on a day."""
    if deadline is None or deadline.first is None:
        return (Progress.DONE if met else Progress.TO_DO), deadline
    if met is not None and met.on is None:
        return Progress.DONE, deadline
    acted = on if met is None or met.on is None else met.on
    if deadline.at_once:
        left = None if met else max((deadline.first - on).days, 0)
        return (Progress.DONE if met else Progress.TO_DO), replace(deadline, days_left=left)
    late = days_late(deadline, acted, running=met is None)
    if met is not None:
        states = (Progress.DONE, Progress.PERHAPS_DONE_LATE, Progress.DONE_LATE)
        return _of(states, late.least, late.most), replace(deadline, late=late)
    return _of(
        (Progress.TO_DO, Progress.PERHAPS_OVERDUE, Progress.OVERDUE), late.least, late.most
    ), replace(
        deadline,
        days_left=(deadline.first - on).days,
        overdue_since=deadline.first + timedelta(days=1) if late.most else None,
        late=late,
    )


def _of(states: tuple[Progress, Progress, Progress], least: int, most: int) -> Progress:
    return states[(most > 0) + (least > 0)]


def _since(requirement: Requirement, case: Case) -> date | None:
    """Return the first day the event a standing duty waits for may have happened."""
    return day_of(case.value(requirement.on_event).low) if requirement.on_event else None


def _shown(evidence: str, case: Case, on: date, since: date | None) -> Paper | None:
    """Return the paper of a type that was held on a day and, if it must, came after an event."""
    for paper in sorted(held_papers(case, on), key=_earliest_first):
        issued = _issued(paper)
        if paper.evidence == evidence and (since is None or (issued and issued >= since)):
            return paper
    return None


def _issued(paper: Paper) -> date | None:
    return day_of(paper.dated.high) if paper.dated.told else None


def _earliest_first(paper: Paper) -> tuple[date, tuple[str, ...]]:
    """Return the key by which the paper of the earliest day comes first, undated ones last."""
    return _issued(paper) or date.max, paper_order(paper)
