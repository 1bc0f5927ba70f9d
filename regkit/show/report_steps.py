"""The checklist of the report: every step in order, with its day, its papers and what it costs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Phrase, phrase, plural
from regkit.model.assessment import Finding
from regkit.model.deadline import Progress
from regkit.model.packet import NeedState
from regkit.model.plan import Step, StepState
from regkit.show.bill_text import say_amount
from regkit.show.deadline_text import PROGRESS_MARKS, standing_lines
from regkit.show.html_words import Html
from regkit.show.need_text import say_need
from regkit.show.plan_words import say_when
from regkit.show.report_page import ReportPage
from regkit.show.report_why import Reasons, why_finding

LABELS = {
    "by": "By when", "when": "By when", "late": "If late", "cost": "If late", "count": "Counting",
    "done": "Done",
}
"""What stands before each thing that is said of progress and deadline."""


def checklist(page: ReportPage, reasons: Reasons) -> list[dict[str, Any]]:
    """Return the steps under their headings."""
    return [{"title": title, "steps": [_step(page, reasons, step) for step in steps]}
            for title, steps in page.groups]


def _step(page: ReportPage, reasons: Reasons, step: Step) -> dict[str, Any]:
    finding = page.assessment.finding(step.requirement)
    return {
        **why_finding(page, reasons, finding),
        "number": page.numbers.get(finding.id),
        "state": step.state.name.lower().replace("_", "-"),
        "progress": page.say(phrase(PROGRESS_MARKS[finding.progress])),
        "perhaps": step.perhaps,
        "details": list(_details(page, step, finding)),
        "needs": [] if step.state == StepState.DONE else list(_needs(page, step)),
        "gives": page.say(tuple(page.assessment.ruleset.evidence[name].latest.title
                                for name in finding.requirement.gives)),
        "cautions": [page.say(caution) for caution in finding.requirement.cautions],
        "warnings": [page.say(says) for says in _warnings(step, finding)],
    }


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
    for line in assessment.bills[0].lines if assessment.bills else ():
        if line.requirement == finding.id and line.payable:
            template = "{title}: {amount}" if line.certain else "{title}, perhaps: {amount}"
            yield page.say(phrase("Costs")), page.say(phrase(
                template, title=line.title, amount=say_amount(line)))


def _needs(page: ReportPage, step: Step) -> Iterator[dict[str, Any]]:
    given = {part.evidence: part.step for part in step.missing if part.step}
    for check in page.packets[step.requirement].needs:
        if check.state == NeedState.NOT_NEEDED:
            continue
        by = [given[leaf.need.evidence] for leaf in check.leaves() if leaf.need.evidence in given]
        yield {
            "state": check.state.name.lower().replace("_", "-"),
            "word": page.say(phrase(check.state.value)),
            "says": page.say(say_need(check)),
            "from": page.say(phrase("from {steps}", steps=tuple(
                page.number_link(name) for name in dict.fromkeys(by)))) if by else "",
        }


def _warnings(step: Step, finding: Finding) -> Iterator[Phrase]:
    if not step.demanded and step.state != StepState.DONE:
        yield phrase("not demanded for itself; taken for the paper it gives")
    if finding.progress == Progress.OVERDUE:
        return
    if step.hopeless:
        yield phrase("even if all goes fast this is finished after its last day; "
                     "ask for more time now, if anybody can give it")
    elif step.margin is not None and step.margin < 0:
        yield plural("if all goes slowly this is finished {count} day after its last day",
                     "if all goes slowly this is finished {count} days after its last day",
                     count=-step.margin)
