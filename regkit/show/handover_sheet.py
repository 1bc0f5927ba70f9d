"""The sheet to take along before a purchase, one printed page with blanks to fill in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Phrase, Speaker, joined, phrase, speaker
from regkit.model.assessment import Assessment, Outcome
from regkit.model.facts import Fact
from regkit.model.handover import Handover, Wanted
from regkit.model.ruleset import Ruleset
from regkit.show.bill_text import say_amount
from regkit.show.page import render
from regkit.show.paper_words import how_old, issuer, some
from regkit.show.sheet_words import about_case, foot

WORDS = {
    "seller": "From the seller, with the vehicle",
    "nothing": "The rules of this route name no paper that the seller hands over.",
    "settle": "To settle yourself before you pay",
    "vehicle": "To read and to look at on the vehicle",
    "costs": "What this route costs, by the charges the rules state",
    "cautions": "Bear in mind",
}


def handover_sheet(assessment: Assessment, handover: Handover, language: str = "en") -> str:
    """Return the sheet as one self-contained page of HTML.

    Raises:
        ImportError: Jinja2 is not installed.
    """
    speak = speaker(language)
    say = speak.say
    return render(
        "handover_sheet.html",
        language=language,
        title=say(phrase("Before you pay")),
        heading=say(phrase("Before you pay")),
        subheading=say(_route(assessment, handover)),
        case_title=assessment.case.title,
        about=about_case(assessment, speak),
        words={name: say(phrase(text)) for name, text in WORDS.items()},
        seller=[_paper(wanted, assessment.ruleset, speak) for wanted in handover.from_seller],
        settle=[_paper(wanted, assessment.ruleset, speak) for wanted in handover.to_settle],
        vehicle=list(_vehicle(handover, speak)),
        costs=list(_costs(handover, speak)),
        cautions=[say(line) for line in (*handover.cautions, *assessment.cautions)],
        foot=say(foot(assessment)),
    )


def _route(assessment: Assessment, handover: Handover) -> Phrase:
    bill, place = handover.bill, assessment.ruleset.title
    if bill.title is None:
        return phrase("Registration in {place}", place=place)
    if bill.open == Outcome.NO:
        return phrase("Registration in {place}: {route}. By what is told, this route is not open.",
                      place=place, route=bill.title)
    return phrase("Registration in {place}: {route}", place=place, route=bill.title)


def _paper(wanted: Wanted, ruleset: Ruleset, speak: Speaker) -> dict[str, Any]:
    evidence = wanted.evidence
    details = []
    if wanted.form:
        details.append(phrase("as {form}", form=phrase(wanted.form)))
    details += how_old(evidence)
    by = issuer(evidence, ruleset)
    if by is not None and not evidence.from_seller:
        details.append(phrase("from {issuer}", issuer=by))
    details.append(phrase("for: {steps}" if wanted.certain
                          else "perhaps, or one of several; for: {steps}",
                          steps=wanted.for_steps))
    return {
        "title": speak.say(evidence.title),
        "details": speak.say(joined(*details)),
        "blanks": [speak.say(fact.label) for fact in wanted.shows],
    }


def _vehicle(handover: Handover, speak: Speaker) -> Iterator[dict[str, Any]]:
    asked = set()
    for fact in handover.to_read:
        asked.add(fact)
        yield {"question": speak.say(fact.question), "answers": _answers(fact, speak)}
    for looks_at, looked_at in handover.to_look_at:
        if looked_at not in asked:
            answers = [] if looked_at is None else _answers(looked_at, speak)
            yield {"question": speak.say(looks_at), "answers": answers}


def _answers(fact: Fact, speak: Speaker) -> list[str]:
    return [speak.say(phrase("yes")), speak.say(phrase("no"))] if fact.type == "yes_no" else []


def _costs(handover: Handover, speak: Speaker) -> Iterator[dict[str, str]]:
    for line in handover.bill.lines:
        if line.payable:
            needs = phrase("hangs on: {needs}", needs=some(line.needs))
            title = phrase("{title}" if line.certain else "{title}, perhaps", title=line.title)
            yield {"title": speak.say(title), "amount": speak.say(say_amount(line)),
                   "details": speak.say(needs) if line.needs else ""}
    for amount in handover.bill.totals:
        yield {"title": speak.say(phrase("Total")), "amount": speak.say(amount.said()),
               "details": ""}
