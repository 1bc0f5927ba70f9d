"""Papers and costs in the report: what to get, what is there, what disagrees, what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from regkit.language import Phrase, joined, phrase
from regkit.model.assessment import Outcome
from regkit.model.bill import Bill, Line
from regkit.model.case import Paper
from regkit.model.plan import ToGet
from regkit.show.bill_text import cautions, say_amount, say_openness
from regkit.show.html_words import Html
from regkit.show.paper_words import (
    disagreement_title,
    how_old,
    issuer,
    say_paper,
    some,
    who_says_what,
)
from regkit.show.plan_words import say_cost, say_days
from regkit.show.report_page import ReportPage


def papers(page: ReportPage) -> dict[str, Any]:
    """Return the papers to get, those that are there, and what does not agree."""
    trouble = page.assessment.paper_trouble
    return {
        "to_get": [_to_get(page, paper) for paper in page.assessment.plan.to_get],
        "held": [_held(page, paper) for paper in page.assessment.case.papers],
        "apart": [
            {"title": page.say(disagreement_title(apart)),
             "said": [page.say(says) for says in who_says_what(apart)],
             "why": "" if apart.why is None else page.say(apart.why),
             "sources": page.marks(apart.sources)}
            for apart in trouble.disagreements
        ],
        "doubts": [page.say(doubt.says) for doubt in trouble.doubts],
    }


def _to_get(page: ReportPage, paper: ToGet) -> dict[str, Any]:
    evidence = page.assessment.ruleset.evidence[paper.evidence].latest
    parts = []
    by = issuer(evidence, page.assessment.ruleset)
    if by is not None:
        parts.append(phrase("from {issuer}", issuer=by))
    if evidence.form:
        parts.append(phrase("as {form}", form=phrase(evidence.form)))
    parts += how_old(evidence)
    if paper.duration_kind:
        parts.append(phrase("there by {days} ({kind})", days=say_days(paper.ready),
                            kind=phrase(paper.duration_kind)))
    if paper.cost.most or paper.cost.unknown:
        parts.append(say_cost(paper.cost, page.assessment.ruleset))
    return {"title": page.say(evidence.title), "details": page.say(joined(*parts)),
            "steps": page.say(phrase("for: {steps}", steps=tuple(
                page.link(name) for name in paper.steps)))}


def _held(page: ReportPage, paper: Paper) -> dict[str, Any]:
    title = page.assessment.ruleset.evidence[paper.evidence].latest.title
    return {"title": page.say(title), "details": page.say(say_paper(paper)),
            "states": [page.say(says) for says in _states(page, paper)]}


def _states(page: ReportPage, paper: Paper) -> Iterator[Phrase]:
    """Yield what a paper is good for, and what is wrong with it for the rest."""
    good: dict[Html, None] = {}
    bad: dict[Phrase, dict[Html, None]] = {}
    for requirement, packet in page.packets.items():
        link = page.link(requirement)
        for leaf in (leaf for check in packet.needs for leaf in check.leaves()):
            for offered in leaf.offered:
                if offered.paper is paper:
                    faults = joined(*(fault.says for fault in offered.faults))
                    (good if offered.in_order else bad.setdefault(faults, {}))[link] = None
    if good:
        yield phrase("in order for: {steps}", steps=tuple(good))
    for faults, steps in bad.items():
        yield phrase("not in order for: {steps} ({faults})", steps=tuple(steps), faults=faults)
    if not good and not bad:
        yield phrase("no step that is left asks for it")


def bills(page: ReportPage) -> list[dict[str, Any]]:
    """Return what each route costs, the route the case tells first."""
    found = [bill for bill in page.assessment.bills if bill.lines]
    return [_bill(page, bill, found[0].lines if bill is not found[0] else ()) for bill in found]


def bill_cautions(page: ReportPage) -> list[Html]:
    """Return what holds for every bill."""
    return [page.say(says) for says in cautions()]


def _bill(page: ReportPage, bill: Bill, above: Sequence[Line]) -> dict[str, Any]:
    """Return a bill; lines that stand just so in the one above need not say again how."""
    title = bill.title if bill.title is not None else phrase("As the case is told")
    about = []
    if bill.as_told and bill.title is not None:
        about.append(page.say(phrase("This is what the case tells.")))
    if bill.why is not None:
        about.append(page.say(say_openness(bill)))
    counts = bill.open != Outcome.NO or bill.as_told
    return {
        "title": page.say(title), "about": about, "sources": page.marks(s.id for s in bill.sources),
        "lines": [_line(page, line, line in above) for line in bill.lines],
        "totals": [page.say(phrase("{amount}", amount=amount))
                   for amount in bill.totals] if counts else [],
    }


def _line(page: ReportPage, line: Line, repeated: bool) -> dict[str, Any]:
    amount = page.say(say_amount(line))
    return {
        "title": page.say(phrase("{title}", title=line.title) if line.certain
                          else phrase("{title}, perhaps", title=line.title)),
        "amount": amount if line.payable else Html(f"({amount})"),
        "repeated": repeated,
        "details": [page.say(says) for says in _line_details(line)],
        "sources": page.marks(source.id for source in line.sources),
    }


def _line_details(line: Line) -> Iterator[Phrase]:
    yield from line.how
    if line.because is not None:
        yield phrase("because: {why}", why=line.because)
    if line.needs:
        yield phrase("hangs on: {needs}", needs=some(line.needs))
    if line.due_if and line.payable:
        yield phrase("whether it is due depends on {facts}", facts=some(line.due_if))
    if line.rounding is not None:
        yield line.rounding
    if line.paid_to is not None:
        yield phrase("paid to: {authority}", authority=line.paid_to)
