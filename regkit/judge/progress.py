"""What is done: the case's list of steps taken and its papers move a requirement on.

A requirement is met on the day the case's `done` list names, or when every paper it gives is held;
but only as long as these papers are good, for a duty that returns is to be met again. Only what
happened by the day of assessment counts, so the state on any earlier day can be asked for. A
standing duty that waits for an event is met only by what came on or after that event.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

from regkit.conditions import View
from regkit.judge.freshness import good_until
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
    met = fulfilment(ruleset, requirement, view)
    deadline = None
    if requirement.window is not None and applies:
        deadline = deadline_of(requirement.window, ruleset, view.case, on)
        ended = ran_out(ruleset, requirement, view) if met is None else None
        if ended is not None and deadline.first is not None and deadline.first < ended:
            deadline = None  # What it ran for was done; the next time has no last day here.
    state, deadline = progress(deadline, met, on)
    return state, met, deadline


def ran_out(ruleset: Ruleset, requirement: Requirement, view: View) -> date | None:
    """Return the last day on which something showed that a requirement was met, of those past."""
    ends = (met.until for met in _shown(ruleset, requirement, view) if met.on is not None)
    return max((end for end in ends if end is not None and end < view.day.on), default=None)


def fulfilment(ruleset: Ruleset, requirement: Requirement, view: View) -> Fulfilment | None:
    """Return what shows that a requirement is met on a day; None if nothing does any more.

    What is good for ever goes first, the earliest first; else what is good the longest.
    """
    on = view.day.on
    good = [met for met in _shown(ruleset, requirement, view) if met.until is None
            or met.until >= on]
    lasting = [met for met in good if met.until is None]
    if lasting:
        return min(lasting, key=lambda met: met.on or on)
    return max(good, key=lambda met: met.until or on, default=None)


def _shown(ruleset: Ruleset, requirement: Requirement, view: View) -> Iterator[Fulfilment]:
    """Yield all that shows that a requirement was met by a day, the list of done steps first."""
    case, on, since = view.case, view.day.on, _since(requirement, view.case)
    listed = [
        Fulfilment(done.on, done.reference, "",
                   good_until(requirement.gives, ruleset, view, done.on))
        for done in case.done
        if done.requirement == requirement.id and done.on <= on
        and (since is None or done.on >= since)
    ]
    yield from listed
    if any(met.until is None for met in listed) or not requirement.gives or (
            requirement.on_event and since is None):
        return
    papers = [_latest_good(ruleset, name, view, since) for name in requirement.gives]
    if any(paper is None for paper in papers):
        return
    held = [paper for paper in papers if paper is not None]
    latest = max(held, key=lambda paper: _issued(paper) or date.min)
    ends = [end for paper in held if (end := _good_until(ruleset, paper, view)) is not None]
    yield Fulfilment(_issued(latest), latest.reference, latest.evidence, min(ends, default=None))


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


def _latest_good(
    ruleset: Ruleset, evidence: str, view: View, since: date | None
) -> Paper | None:
    """Return the paper of a type that is held and, if it must, came after an event.

    Of those that are good for a time the one that is good the longest, else the earliest.
    """
    found = [paper for paper in sorted(held_papers(view.case, view.day.on), key=_earliest_first)
             if paper.evidence == evidence
             and (since is None or ((issued := _issued(paper)) is not None and issued >= since))]
    return max(found, key=lambda paper: _good_until(ruleset, paper, view) or date.max,
               default=None)


def _good_until(ruleset: Ruleset, paper: Paper, view: View) -> date | None:
    """Return the last day on which a paper is surely good, whenever it was issued."""
    earliest = day_of(paper.dated.low) or date.min
    return good_until((paper.evidence,), ruleset, view, earliest)


def _issued(paper: Paper) -> date | None:
    return day_of(paper.dated.high) if paper.dated.told else None


def _earliest_first(paper: Paper) -> tuple[date, tuple[str, ...]]:
    """Return the key by which the paper of the earliest day comes first, undated ones last."""
    return _issued(paper) or date.max, paper_order(paper)
