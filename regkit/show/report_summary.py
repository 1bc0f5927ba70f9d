"""An assessment in three sentences: what to do first and by when, how far it goes, what is open."""

from __future__ import annotations

from regkit.language import Phrase, joined, phrase, plural
from regkit.model.assessment import Finding, Verdict
from regkit.model.deadline import Progress
from regkit.model.plan import Step, StepState
from regkit.show.deadline_text import say_due
from regkit.show.html_words import Html
from regkit.show.plan_words import say_cost, say_end
from regkit.show.report_page import ReportPage
from regkit.show.settling import settling_most

NAMED = 3
"""How many facts, or steps that are stuck, the summary names."""


def summary(page: ReportPage) -> tuple[Phrase, Phrase, Phrase]:
    """Return the three sentences."""
    return _first(page), _whole(page), _open(page)


def steps_with_last_days(page: ReportPage) -> list[Step]:
    """Return the steps left that have a last day: certain ones first, then overdue, then by day."""
    found = []
    for step in _left(page):
        finding = page.assessment.finding(step.requirement)
        if finding.deadline is not None and finding.deadline.first is not None:
            overdue = finding.progress == Progress.OVERDUE
            found.append(((step.perhaps, not overdue, finding.deadline.first), step))
    return [step for _, step in sorted(found, key=lambda one: one[0])]


def say_last_day(finding: Finding) -> Phrase:
    """Say the last day of a finding that has one, that it is due at once, or since when overdue."""
    deadline = finding.deadline
    assert deadline is not None and deadline.first is not None
    if deadline.at_once:
        return phrase("at once, from {day}", day=deadline.first)
    if finding.progress == Progress.OVERDUE and deadline.overdue_since is not None:
        return phrase("overdue since {day}", day=deadline.overdue_since)
    if finding.progress == Progress.PERHAPS_OVERDUE and deadline.overdue_since is not None:
        return phrase("perhaps overdue since {day}", day=deadline.overdue_since)
    return say_due(deadline)


def _left(page: ReportPage) -> list[Step]:
    return [step for step in page.steps if step.state != StepState.DONE]


def _certain(page: ReportPage) -> bool:
    """Whether something certainly has to be done, or nothing is left at all."""
    left = _left(page)
    return not left or not all(step.perhaps for step in left)


def _first(page: ReportPage) -> Phrase:
    facts = tuple(settling_most(page.assessment))
    if not _certain(page) and facts:
        return phrase("Nothing is certain yet, for too little is known; find out first: {question}",
                      question=page.assessment.ruleset.vocabulary[facts[0]].question)
    link, due = page.link, steps_with_last_days(page)
    if not due:
        step = _first_of(page, {step.requirement for step in _left(page)})
        if step is None:
            return phrase("By what is told, nothing is left to do now.")
        return phrase("Do this first: {step}; no last day can be told for anything that is left.",
                      step=link(step.requirement))
    target = due[0].requirement
    finding = page.assessment.finding(target)
    says = say_last_day(finding)
    if finding.deadline is not None and finding.deadline.overdue_since is None:
        says = says if finding.deadline.at_once else phrase("last day: {due}", due=says)
    day = Html(f"<strong>{page.say(says)}</strong>")
    step = _first_of(page, _leading_to(page, target))
    if step is None:
        return phrase("This cannot be done as things stand, and it has a last day: {target} "
                      "({day}).", target=link(target), day=day)
    if step.requirement == target:
        return phrase("Do this first: {step} ({day}).", step=link(target), day=day)
    return phrase("Do this first: {step}; it leads to: {target} ({day}).",
                  step=link(step.requirement), target=link(target), day=day)


def _first_of(page: ReportPage, names: set[str]) -> Step | None:
    """Return the step to take first among some, the certain before those that may not apply."""
    doable = (step for step in page.steps if step.requirement in names
              and step.state in (StepState.READY, StepState.NEEDS_PAPERS))
    return min(doable, key=lambda step: step.perhaps, default=None)


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


def _whole(page: ReportPage) -> Phrase:
    plan = page.assessment.plan
    cost = say_cost(plan.cost, page.assessment.ruleset)
    stuck = plan.in_state(StepState.STUCK)
    if not _certain(page):
        return phrase("Below stands all that may apply; charges if all of it does: {cost}.",
                      cost=cost)
    if plan.finish is None and stuck:
        links = tuple(page.link(step.requirement) for step in stuck[:NAMED])
        return phrase("Not all of it can be done as things stand ({steps}); charges of the steps "
                      "still to take: {cost}.", steps=links, cost=cost)
    return say_end(plan, page.assessment.ruleset)


def _open(page: ReportPage) -> Phrase:
    apart = len(page.assessment.paper_trouble.contradictions)
    if not apart:
        return phrase("{parts}.", parts=_undecided(page))
    says = page.say(plural("one thing does not agree", "{count} things do not agree", count=apart))
    return phrase("{parts}.", parts=joined(_undecided(page), phrase(
        "{apart}", apart=Html(f'<a href="#apart">{says}</a>'))))


def _undecided(page: ReportPage) -> Phrase:
    count = sum(finding.verdict == Verdict.UNDECIDED and not finding.waits_for
                for finding in page.assessment.findings)
    if not count:
        return phrase("What is told settles every answer")
    facts = tuple(settling_most(page.assessment))[:NAMED]
    if not facts:
        return plural("{count} answer cannot be told yet, for the rule itself is not settled",
                      "{count} answers cannot be told yet, for the rules themselves are not "
                      "settled", count=count)
    links = tuple(page.fact_link(name) for name in facts)
    return plural("{count} answer cannot be told yet; to settle it, find out: {facts}",
                  "{count} answers cannot be told yet; to settle most of them, find out: {facts}",
                  count=count, facts=links)
