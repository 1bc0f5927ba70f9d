"""Why, in the report: for each finding and class the tree of reasons, down to the sources."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Phrase, Text, phrase
from regkit.model.assessment import ClassFinding, Finding, Reason
from regkit.model.deadline_document import deadline_sources
from regkit.show.deadline_text import standing_lines
from regkit.show.html_words import Html
from regkit.show.report_page import ReportPage
from regkit.show.report_steps import hangs_on, other_readings
from regkit.show.resting_text import resting_lines
from regkit.show.settling import settling_most


def why_finding(page: ReportPage, finding: Finding) -> dict[str, Any]:
    """Return the whole explanation of one finding."""
    requirement, ruleset = finding.requirement, page.assessment.ruleset
    named = [source.id for source in finding.sources]
    named += [name for names in deadline_sources(finding.deadline) for name in names]
    return {
        "id": finding.id,
        "title": page.say(requirement.title),
        "verdict": finding.verdict.name.lower().replace("_", "-"),
        "word": page.say(phrase(finding.verdict.value)),
        "sentence": page.say(finding.sentence),
        "why": page.say(requirement.why),
        "standing": [page.say(says) for _, says in standing_lines(finding, ruleset)],
        "hangs": [page.say(says) for says in hangs_on(page, finding)],
        "resting": [page.say(says) for says in resting_lines(page.assessment, finding)],
        "reason": reason(page, finding.reason),
        "others": other_readings(page, finding),
        "questions": [page.say(ruleset.questions[name].asks) for name in finding.open_questions],
        "note": page.say(Text.of(requirement.note)),
        "layer": "" if requirement.layer == ruleset.jurisdiction else page.say(phrase(
            "Stated by the rules of {layer}, which these build on.", layer=requirement.layer)),
        "rests": page.say(phrase("Rests on {kind}, last checked {day}.",
                                 kind=phrase(finding.weakest), day=finding.oldest_check)),
        "sources": page.marks(named),
        "step": finding.id in page.numbers,
    }


def why_class(page: ReportPage, found: ClassFinding) -> dict[str, Any]:
    """Return a class, whether the case belongs to it, and why."""
    return {
        "id": found.id,
        "title": page.say(found.title),
        "outcome": found.outcome.name.lower(),
        "word": page.say(phrase(found.outcome.value)),
        "sentence": page.say(found.sentence),
        "reason": reason(page, found.reason),
        "others": other_readings(page, found),
        "sources": page.marks(source.id for source in found.sources),
    }


def reason(page: ReportPage, node: Reason) -> dict[str, Any]:
    """Return a tree of reasons."""
    says: Phrase = node.says
    if node.layer not in ("", page.assessment.ruleset.jurisdiction):
        says = phrase("{says} (rule of: {layer})", says=says, layer=node.layer)
    return {
        "says": page.say(says),
        "outcome": node.outcome.name.lower(),
        "word": page.say(phrase(node.outcome.value)),
        "decisive": node.decisive,
        "sources": page.marks(node.sources),
        "children": [reason(page, child) for child in node.children],
    }


def open_facts(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the facts that would settle more, and the answers that hang on each."""
    for name, findings in settling_most(page.assessment).items():
        fact = page.assessment.ruleset.vocabulary[name]
        yield {
            "id": name,
            "question": page.say(fact.question),
            "help": "" if fact.help is None else page.say(fact.help),
            "findings": [why_link(page, finding) for finding in findings],
        }


def open_questions(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the questions of the ruleset that findings, or lines of a bill, rest on."""
    found: dict[str, list[Html]] = {}
    for finding in page.assessment.findings:
        for name in finding.open_questions if not finding.waits_for else ():
            found.setdefault(name, []).append(why_link(page, finding.id))
    for bill in page.assessment.bills:
        for line in bill.lines:
            for name in line.questions:
                found.setdefault(name, [])
    for name in page.assessment.ruleset.questions:
        if name in found:
            yield {"asks": page.say(page.assessment.ruleset.questions[name].asks),
                   "findings": found[name]}


def why_link(page: ReportPage, requirement: str) -> Html:
    """Return the title of a finding as a link to its explanation."""
    title = page.say(page.assessment.finding(requirement).requirement.title)
    return Html(f'<a href="#why-{requirement}">{title}</a>')
