"""The whole assessment as one page to read on a telephone, on a desk or on paper.

It stands alone: no script, no picture, font or style from elsewhere. It is made to the Web Content
Accessibility Guidelines 2.2, level AA (W3C Recommendation).
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from regkit.language import Text, phrase, speaker
from regkit.model.ahead import Ahead
from regkit.model.assessment import Assessment
from regkit.model.carried import Carried
from regkit.model.engine import ENGINE
from regkit.show.ahead_text import say_change
from regkit.show.carried_text import carried_notes
from regkit.show.html_words import harmless, html_speaker
from regkit.show.page import render
from regkit.show.report_open import open_facts, open_questions
from regkit.show.report_page import ReportPage
from regkit.show.report_papers import bill_cautions, bills, papers
from regkit.show.report_picture import picture
from regkit.show.report_steps import checklist
from regkit.show.report_summary import say_last_day, steps_with_last_days, summary
from regkit.show.report_told import told
from regkit.show.report_why import Reasons, explained, other_findings

WORDS = {
    "skip": "To the checklist",
    "contents": "On this page",
    "short": "In short",
    "last_days": "Last days",
    "checklist": "Checklist",
    "papers": "Papers",
    "to_get": "Papers to get",
    "held": "Papers you have",
    "apart": "What does not agree",
    "doubts": "Numbers and dates to look at again",
    "bill": "What it costs",
    "line": "What is paid",
    "amount": "How much",
    "total": "Total",
    "timeline": "Timeline",
    "classes": "What it counts as",
    "why": "Why",
    "named": "Named conditions",
    "others": "What else the rules ask",
    "required": "Required",
    "undecided": "Cannot be told yet",
    "waits": "Later, once it happens",
    "not_required": "Not required",
    "open": "What is open",
    "open_facts": "What would settle more",
    "open_questions": "What the rules leave open",
    "hangs": "Answers that hang on it",
    "sources": "Sources",
    "cautions": "Bear in mind",
    "does_not_cover": "What they do not cover",
    "told": "What is told",
    "declared": "Where no paper is named, it is the word of whoever told it.",
    "caution": "Caution",
    "needs": "Papers",
    "gives": "Gives",
    "how": "How",
    "perhaps": "(perhaps)",
    "dissent": "Another official source says otherwise",
    "then": "Then",
    "source": "source",
    "mark": "'>' marks what the answer rests on.",
    "resting": "On whose word",
    "settle": "What would settle it",
    "note": "The maintainer's note",
    "nothing": "Nothing.",
    "ahead": "What changes by itself",
    "carried": "How the case was carried over",
    "axis": "The days, from left to right",
    "key_untimed": "starts then; nobody states how long it takes",
    "key_timed": "takes at least, and may take",
    "key_open": "may go on for longer than is stated",
    "key_due": "last day, by the safe reading",
    "key_critical": "in bold: decides the end",
    "on_paper": "On paper stand the reasons that bear on this vehicle; the file itself holds all.",
}


def report(
    assessment: Assessment, language: str = "en", ahead: Ahead | None = None,
    carried: Carried | None = None,
) -> str:
    """Return the report as one self-contained page of HTML; the same input gives the same page.

    Args:
        language: en, de or sv; a text of the rules that is not in it is in English and marked so.
        ahead: what changes by itself, shown too if it is given.
        carried: how the case was carried over from another jurisdiction, likewise.

    Raises:
        ImportError: Babel or Jinja2 is not installed.
        ValueError: the language is none of those spoken.
    """
    page = ReportPage(assessment, html_speaker(language))
    ruleset = assessment.ruleset
    say = page.say
    reasons = Reasons(page)
    title = assessment.case.title or speaker(language).say(phrase("Your vehicle"))
    groups, others = checklist(page, reasons), other_findings(page, reasons)
    classes, named = explained(page, reasons, (
        *(step for group in groups for step in group["steps"]),
        *(found for group in others if not group["brief"] for found in group["findings"])))
    return render(
        "report.html",
        language=page.speak.language,
        title=harmless(title),
        place=say(phrase("{place}, on {day}", place=ruleset.title, day=assessment.on)),
        words={name: say(phrase(text)) for name, text in WORDS.items()},
        summary=[say(sentence) for sentence in summary(page)],
        last_days=[{"day": say(say_last_day(assessment.finding(step.requirement))),
                    "step": page.link(step.requirement)} for step in steps_with_last_days(page)],
        told=list(told(page)),
        groups=groups,
        papers=papers(page),
        bills=bills(page),
        bill_cautions=bill_cautions(page),
        picture=picture(page),
        classes=classes,
        others=others,
        named=named,
        open_facts=list(open_facts(page)),
        open_questions=list(open_questions(page)),
        sources=list(_sources(page)),
        cautions=[say(caution) for caution in assessment.cautions],
        does_not_cover=[say(text) for text in ruleset.does_not_cover],
        changes=[] if ahead is None else [
            say(phrase("{day}: {says}", day=change.on or phrase("On a day not yet fixed"),
                       says=say_change(change))) for change in ahead.changes],
        until="" if ahead is None else say(phrase("Up to {day}.", day=ahead.until)),
        carried=[] if carried is None else [say(note) for note in carried_notes(carried)],
        rules=say(phrase("Rules of {code}, version {version} ({digest}), as of {day}",
                         code=ruleset.jurisdiction, version=ruleset.version,
                         digest=ruleset.digest, day=assessment.on)),
        foot=say(phrase("Made with regkit {engine}. It informs and replaces neither the law nor "
                        "the authority's decision.", engine=ENGINE)),
    )


def _sources(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the sources under their kind and the days they were, and are to be, checked."""
    for (kind, checked, again), found in groupby(
            page.sources.values(), lambda s: (s.kind, s.checked, s.look_again)):
        yield {
            "kind": page.say(phrase(kind)),
            "checked": page.say(phrase("last checked {day}, to be looked at again by {again}",
                                       day=checked, again=again)),
            "listed": [{"id": source.id, "number": page.source_numbers[source.id],
                        "citation": page.say(source.citation), "address": source.address,
                        "seen": page.say(Text.of(source.seen))} for source in found],
        }
