"""The cover sheet of a posted application, one printed page: what is enclosed, what was checked.

It goes on top of the papers. It is the keeper's own letter, not a form of any authority.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Argument, Phrase, Speaker, joined, phrase, speaker
from regkit.model.assessment import Assessment
from regkit.model.packet import NeedCheck, NeedState, Offered, Packet
from regkit.show.page import render
from regkit.show.paper_words import (
    disagreement_title,
    group_title,
    readiness,
    say_translation,
    who_says_what,
)
from regkit.show.sheet_words import about_case, foot

WORDS = {
    "enclosed": "Enclosed",
    "paper": "paper",
    "form": "as",
    "shows": "shows",
    "nothing_enclosed": "Nothing of what is asked for is in order yet.",
    "lacking": "Asked for, but not enclosed",
    "references": "Earlier steps and their references",
    "checked": "What was compared before sending",
    "inspection": "What an inspector looks at",
    "cautions": "Before you post it",
}


def cover_sheet(assessment: Assessment, packet: Packet, language: str = "en") -> str:
    """Return the cover sheet as one self-contained page of HTML.

    Raises:
        ImportError: Jinja2 is not installed.
    """
    speak = speaker(language)
    say = speak.say
    requirement = packet.finding.requirement
    return render(
        "cover_sheet.html",
        language=language,
        title=say(phrase("Cover sheet: {title}", title=requirement.title)),
        heading=say(requirement.title),
        subheading=say(phrase("To {authority}", authority=packet.authority.title)),
        case_title=assessment.case.title,
        about=[*about_case(assessment, speak),
               (say(phrase("to be sent")), say(phrase("{day}", day=packet.sent)))],
        not_ready="" if packet.ready else say(readiness(packet)),
        words={name: say(phrase(text)) for name, text in WORDS.items()},
        enclosed=[_enclosed(offered, assessment, speak) for offered in packet.enclosed],
        lacking=[say(line) for check in packet.needs for line in _lacking(check)],
        references=[say(line) for line in _references(assessment)],
        checked=[say(line) for line in _checked(packet)],
        inspection=[
            say(phrase("{looks_at} ({state}; {kind})", looks_at=item.looks_at,
                       state=phrase(item.state.value), kind=phrase(item.weakest)))
            for item in packet.inspection
        ],
        cautions=[say(line) for line in _cautions(packet)],
        foot=say(foot(assessment)),
    )


def _enclosed(offered: Offered, assessment: Assessment, speak: Speaker) -> dict[str, Any]:
    paper = offered.paper
    assert paper is not None
    details = [phrase("of {day}", day=paper.dated)] if paper.dated.told else []
    if paper.reference:
        details.append(phrase("number {reference}", reference=paper.reference))
    if paper.named:
        details.append(phrase("names {named}", named=paper.named))
    if paper.translated:
        details.append(say_translation(paper))
    vocabulary = assessment.ruleset.vocabulary
    shows: tuple[Argument, ...] = tuple(
        phrase("{label} {value}", label=vocabulary[name].label, value=vocabulary[name].say(value))
        for name, value in paper.shows.items()
    )
    return {
        "title": speak.say(offered.title),
        "form": speak.say(phrase(paper.form)),
        "details": speak.say(joined(*details, by=", ")),
        "shows": speak.say(phrase("{shows}", shows=shows)) if shows else "",
    }


def _lacking(check: NeedCheck) -> Iterator[Phrase]:
    if check.state not in (NeedState.MISSING, NeedState.NOT_IN_ORDER, NeedState.OPEN):
        return
    state = phrase(check.state.value)
    if check.evidence is not None:
        yield phrase("{title}: {state}", title=check.evidence.title, state=state)
        return
    papers = tuple(leaf.evidence.title for leaf in check.leaves() if leaf.evidence is not None)
    yield phrase("{count}: {papers}: {state}", count=group_title(check), papers=papers,
                 state=state)


def _references(assessment: Assessment) -> Iterator[Phrase]:
    for done in assessment.case.done:
        title = assessment.ruleset.requirements[done.requirement].latest.title
        template = "{title}, {day}: {reference}" if done.reference else "{title}, {day}"
        yield phrase(template, title=title, day=done.on, reference=done.reference)


def _checked(packet: Packet) -> Iterator[Phrase]:
    for agreeing in packet.trouble.agreements:
        value = agreeing.said[0].value
        said = len(agreeing.said)
        yield phrase("{title} {value}: agrees, told twice" if said == 2 else
                     "{title} {value}: agrees, told {count} times",
                     title=agreeing.title, value=value, count=said)
    for apart in packet.trouble.disagreements:
        yield phrase("{title}: {said}", title=disagreement_title(apart),
                     said=tuple(who_says_what(apart)))
    for doubt in packet.trouble.doubts:
        yield doubt.says
    if not packet.trouble.comparisons:
        yield phrase("Nothing could be compared: no two papers tell the same fact.")


def _cautions(packet: Packet) -> Iterator[Phrase]:
    yield phrase("Keep copies of everything, and note how and when you sent it (common practice).")
    for caution in packet.finding.requirement.cautions:
        yield phrase("{caution}", caution=caution)
