"""What is open, in the report: facts that would settle more, and questions the rules leave open."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import phrase
from regkit.show.html_words import Html
from regkit.show.report_page import ReportPage
from regkit.show.settling import settling_most


def open_facts(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the facts that would settle more, and the answers that hang on each."""
    for name, findings in settling_most(page.assessment).items():
        fact = page.assessment.ruleset.vocabulary[name]
        yield {
            "anchor": f"fact-{name}",
            "asks": page.say(fact.question),
            "help": "" if fact.help is None else page.say(fact.help),
            "findings": [page.link(finding) for finding in findings],
        }


def open_questions(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the questions of the ruleset that findings, or lines of a bill, rest on."""
    found: dict[str, dict[Html, None]] = {}
    for finding in page.assessment.findings:
        for name in finding.open_questions if not finding.waits_for else ():
            found.setdefault(name, {})[page.link(finding.id)] = None
    for bill in page.assessment.bills:
        for line in bill.lines:
            for name in line.questions:
                found.setdefault(name, {})[page.say(line.title)] = None
    for name, question in page.assessment.ruleset.questions.items():
        if name in found:
            since = phrase("open since {day}", day=question.opened)
            yield {"anchor": f"question-{name}", "asks": page.say(question.asks),
                   "help": page.say(since), "findings": list(found[name])}
