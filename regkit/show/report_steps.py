"""The checklist of the report: every step in order, with its day, its papers and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Phrase, phrase, plural
from regkit.model.assessment import Finding, Verdict
from regkit.model.deadline import Progress
from regkit.model.packet import NeedState
from regkit.model.plan import Step, StepState
from regkit.show.bill_text import say_amount
from regkit.show.deadline_text import PROGRESS_MARKS, standing_lines
from regkit.show.html_words import Html
from regkit.show.need_text import say_need
from regkit.show.paper_words import some
from regkit.show.plan_words import say_when
from regkit.show.report_page import ReportPage
from regkit.show.settling import settling_lines

LABELS = {
    "by": "By when", "when": "By when", "late": "If late", "cost": "If late", "count": "Counting",
    "done": "Done",
}
"""What stands before each thing that is said of progress and deadline."""


def checklist(page: ReportPage) -> list[dict[str, Any]]:
    """Return the steps under their headings."""
    return [{"title": title, "steps": [_step(page, step) for step in steps]}
            for title, steps in page.groups]


def _step(page: ReportPage, step: Step) -> dict[str, Any]:
    finding = page.assessment.finding(step.requirement)
    requirement = finding.requirement
    return {
        "id": finding.id,
        "number": page.numbers.get(finding.id),
        "state": step.state.name.lower().replace("_", "-"),
        "title": page.say(requirement.title),
        "progress": page.say(phrase(PROGRESS_MARKS[finding.progress])),
        "why": page.say(requirement.why),
        "hangs": [page.say(says) for says in hangs_on(page, finding)] if step.perhaps else [],
        "perhaps": step.perhaps,
        "details": list(_details(page, step, finding)),
        "needs": [] if step.state == StepState.DONE else list(_needs(page, finding)),
        "cautions": [page.say(caution) for caution in requirement.cautions],
        "warnings": [page.say(says) for says in _warnings(step, finding)],
        "others": other_readings(page, finding),
    }


def hangs_on(page: ReportPage, finding: Finding) -> Iterator[Phrase]:
    """Yield what would settle whether an undecided requirement applies."""
    vocabulary = page.assessment.ruleset.vocabulary
    if finding.verdict != Verdict.UNDECIDED:
        return
    labels = tuple(phrase("{label}", label=vocabulary[name].label) for name in finding.settles)
    if labels:
        yield phrase("whether it applies hangs on: {facts}", facts=some(labels))
    else:
        yield phrase("whether it applies hangs on a rule that is not settled itself")
    yield from settling_lines(finding, vocabulary)


def other_readings(page: ReportPage, finding: Any) -> list[dict[str, Any]]:
    """Return what other official sources say where it would change the answer."""
    return [
        {"says": page.say(other.says), "verdict": page.say(phrase(other.verdict.value)),
         "sources": page.marks(other.sources)}
        for other in finding.other_readings
    ]


def _details(page: ReportPage, step: Step, finding: Finding) -> Iterator[tuple[Html, Html]]:
    assessment, requirement = page.assessment, finding.requirement
    for lead, says in standing_lines(finding, assessment.ruleset):
        yield page.say(phrase(LABELS[lead])), page.say(says)
    if step.state == StepState.DONE:
        return
    if step.start is not None:
        yield page.say(phrase("When")), page.say(say_when(step))
    authority = assessment.ruleset.authorities[requirement.authority]
    yield page.say(phrase("To whom")), page.say(authority.title)
    waits = tuple(page.step_link(part.step) for part in step.missing if part.step)
    if waits:
        yield page.say(phrase("After")), page.say(phrase("{steps}", steps=waits))
    if requirement.gives:
        titles = tuple(assessment.ruleset.evidence[name].latest.title
                       for name in requirement.gives)
        yield page.say(phrase("Gives")), page.say(phrase("{titles}", titles=titles))
    for line in assessment.bills[0].lines if assessment.bills else ():
        if line.requirement == finding.id and line.payable:
            template = "{title}: {amount}" if line.certain else "{title}, perhaps: {amount}"
            yield page.say(phrase("Costs")), page.say(phrase(
                template, title=line.title, amount=say_amount(line)))


def _needs(page: ReportPage, finding: Finding) -> Iterator[dict[str, Any]]:
    for check in page.assessment.packet(finding.id).needs:
        if check.state != NeedState.NOT_NEEDED:
            yield {"state": check.state.name.lower().replace("_", "-"),
                   "says": page.say(say_need(check)), "word": page.say(phrase(check.state.value))}


def _warnings(step: Step, finding: Finding) -> Iterator[Phrase]:
    if not step.demanded and step.state != StepState.DONE:
        yield phrase("not demanded for itself; taken for the paper it gives")
    for announced in finding.announced:
        yield phrase("announced, may change on {day}: then {verdict}",
                     day=announced.on or phrase("a day not yet fixed"),
                     verdict=phrase(announced.verdict.value))
    if finding.progress == Progress.OVERDUE:
        return
    if step.hopeless:
        yield phrase("even if all goes fast this is finished after its last day; "
                     "ask for more time now, if anybody can give it")
    elif step.margin is not None and step.margin < 0:
        yield plural("if all goes slowly this is finished {count} day after its last day",
                     "if all goes slowly this is finished {count} days after its last day",
                     count=-step.margin)
