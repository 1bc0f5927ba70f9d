"""An assessment in three sentences: what to do first and by when, how far it goes, what is open."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from regkit.language import Phrase, phrase, plural
from regkit.model.assessment import Finding, Verdict
from regkit.model.deadline import Progress
from regkit.model.plan import Step, StepState
from regkit.show.deadline_text import say_due
from regkit.show.plan_words import say_cost, say_days
from regkit.show.report_page import ReportPage
from regkit.show.settling import settling_most

CAN_BE_DONE = (StepState.READY, StepState.NEEDS_PAPERS)
NAMED = 3
"""How many facts, or steps that are stuck, the summary names."""


def summary(page: ReportPage) -> tuple[Phrase, Phrase, Phrase]:
    """Return the three sentences."""
    return _first(page), _whole(page), _open(page)


def last_days(page: ReportPage) -> list[tuple[date, Step]]:
    """Return the last days of steps that are still to be done, the certain and earliest first."""
    found = []
    for step in page.steps:
        deadline = page.assessment.finding(step.requirement).deadline
        if step.state != StepState.DONE and deadline is not None and deadline.first is not None:
            found.append((deadline.first, step))
    return sorted(found, key=lambda due: (due[1].perhaps, due[0]))


def first_step(page: ReportPage) -> Step | None:
    """Return the step to take first: on the way to the earliest last day, if there is one."""
    doable = [step for step in page.steps if step.state in CAN_BE_DONE]
    on_way = set()
    for _, target in last_days(page):
        on_way = _leading_to(page, target.requirement)
        if any(step.requirement in on_way for step in doable):
            break
    chosen = [step for step in doable if step.requirement in on_way] or doable
    return min(chosen, key=lambda step: step.perhaps, default=None)


def _leading_to(page: ReportPage, requirement: str) -> set[str]:
    """Return a step and all that it waits for."""
    found: set[str] = set()
    ahead = [requirement]
    while ahead:
        name = ahead.pop()
        if name not in found:
            found.add(name)
            ahead += [part.step for part in page.assessment.plan.step(name).missing if part.step]
    return found


def _first(page: ReportPage) -> Phrase:
    step, due = first_step(page), last_days(page)
    certain = [one for one in page.steps if one.state != StepState.DONE and not one.perhaps]
    facts = tuple(settling_most(page.assessment))
    if not certain and facts:
        return phrase("Nothing is certain yet, for too little is known; find out first: {question}",
                      question=page.assessment.ruleset.vocabulary[facts[0]].question)
    if step is None and not due:
        return phrase("By what is told, nothing is left to do now.")
    return _with_day(page, step, due)


def _with_day(page: ReportPage, step: Step | None, due: list[tuple[date, Step]]) -> Phrase:
    link = page.step_link
    if not due:
        assert step is not None
        return phrase("Do this first: {step}; no last day can be told for anything that is left.",
                      step=link(step.requirement))
    target = due[0][1]
    finding = page.assessment.finding(target.requirement)
    says = _say_last_day(finding)
    if step is None or step.requirement not in _leading_to(page, target.requirement):
        return phrase("This cannot be done as things stand, and its last day is near: {target} "
                      "({day}).", target=link(target.requirement), day=says)
    if step is target:
        return phrase("Do this first: {step} ({day}).", step=link(step.requirement), day=says)
    return phrase("Do this first: {step}; it leads to: {target} ({day}).",
                  step=link(step.requirement), target=link(target.requirement), day=says)


def _say_last_day(finding: Finding) -> Phrase:
    deadline = finding.deadline
    assert deadline is not None and deadline.first is not None
    if deadline.at_once:
        return phrase("at once, from {day}", day=deadline.first)
    if finding.progress == Progress.OVERDUE and deadline.overdue_since is not None:
        return phrase("overdue since {day}", day=deadline.overdue_since)
    if finding.progress == Progress.PERHAPS_OVERDUE and deadline.overdue_since is not None:
        return phrase("perhaps overdue since {day}", day=deadline.overdue_since)
    return phrase("last day: {due}", due=say_due(deadline))


def _whole(page: ReportPage) -> Phrase:
    plan = page.assessment.plan
    cost = say_cost(plan.cost, page.assessment.ruleset)
    stuck = plan.in_state(StepState.STUCK)
    if plan.finish is None and stuck:
        return phrase("Not all of it can be done as things stand ({steps}); charges on this way: "
                      "{cost}.", steps=tuple(page.step_link(s.requirement) for s in stuck[:NAMED]),
                      cost=cost)
    if plan.finish is None or plan.finish.first == plan.on:
        return phrase("How long all of it takes cannot be told; charges on this way: {cost}.",
                      cost=cost)
    return phrase("All of it can be done by {days}; charges on this way: {cost}.",
                  days=say_days(plan.finish), cost=cost)


def _open(page: ReportPage) -> Phrase:
    count = len(list(_undecided(page)))
    if not count:
        return phrase("What is told settles every answer.")
    facts = tuple(settling_most(page.assessment))[:NAMED]
    if not facts:
        return plural("{count} answer cannot be told yet: the rule itself is not settled.",
                      "{count} answers cannot be told yet: the rules themselves are not settled.",
                      count=count)
    labels = tuple(page.assessment.ruleset.vocabulary[name].label for name in facts)
    return plural("{count} answer cannot be told yet; to settle it, find out: {facts}.",
                  "{count} answers cannot be told yet; to settle most of them, find out: {facts}.",
                  count=count, facts=labels)


def _undecided(page: ReportPage) -> Iterator[Finding]:
    return (finding for finding in page.assessment.findings
            if finding.verdict == Verdict.UNDECIDED and not finding.waits_for)
