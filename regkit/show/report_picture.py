"""The timeline of the report: a row a step, its title above it, as wide as the page happens to be.

As in `timeline`, shape and hatching carry the meaning: a bar is the time a step surely takes, its
hatched part the time it may take, a circle a step whose length nobody states, a bracket a last day,
an arrow that it may go on. Each row says the same in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import joined, phrase
from regkit.model.plan import Step, StepState
from regkit.show.plan_words import say_when
from regkit.show.report_page import ReportPage
from regkit.show.span import Span, drawn_steps, due_of, span_of

BETWEEN = 0.3
"""So much of the width lies between two days that are written on the axis, or they would meet."""

DRAWN = 0.94
"""So much of the width is drawn on; the rest is for what goes on beyond the last day."""


def picture(page: ReportPage) -> dict[str, Any]:
    """Return the rows and the axis; places are per cent of the width."""
    span = span_of(page.assessment)
    order = page.numbers
    steps = sorted(drawn_steps(page.assessment), key=lambda step: order[step.requirement])
    return {
        "ticks": list(_ticks(page, span)),
        "rows": [_row(page, span, step) for step in steps],
        "stuck": [page.link(step.requirement)
                  for step in page.assessment.plan.in_state(StepState.STUCK)],
        "critical": any(step.critical for step in steps),
        "timed": any(step.duration_kind for step in steps),
        "open": any(step.finish is not None and step.finish.or_later for step in steps),
        "untimed": any(not step.duration_kind for step in steps),
        "due": any(due_of(page.assessment, step) for step in steps),
    }


def _ticks(page: ReportPage, span: Span) -> Iterator[dict[str, Any]]:
    written = 0.0
    yield {"at": 0, "says": page.say(span.first), "before": False}
    for day, says in span.ticks():
        share = span.share(day)
        if share <= 0:
            continue
        before = share > 1 - BETWEEN
        room = share - written >= BETWEEN * (2 if before else 1)
        written = share if room else written
        yield {"at": _per_cent(share), "says": page.say(says) if room else "", "before": before}


def _row(page: ReportPage, span: Span, step: Step) -> dict[str, Any]:
    assert step.start is not None and step.finish is not None
    due = due_of(page.assessment, step)
    begin, sure = span.share(step.start.first), span.share(step.finish.first)
    said = [say_when(step)]
    if due is not None:
        said.append(phrase("last day: {due}", due=phrase("{day}", day=due)))
    return {
        "link": page.link(step.requirement),
        "says": page.say(joined(*said)),
        "perhaps": step.perhaps,
        "critical": step.critical,
        "timed": bool(step.duration_kind),
        "begin": _per_cent(begin),
        "sure": _per_cent(sure - begin),
        "may_from": _per_cent(max(sure, begin)),
        "may": _per_cent(span.share(step.finish.last) - sure),
        "end": _per_cent(span.share(step.finish.last)),
        "open": step.finish.or_later,
        "due": None if due is None or due < span.first else _per_cent(span.share(due)),
        "gone": due is not None and due < span.first,
    }


def _per_cent(share: float) -> str:
    return f"{DRAWN * 100 * share:.1f}"
