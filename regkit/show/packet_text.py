"""A packet as plain text: what meets each need, what is missing, what does not agree."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Speaker, phrase, speaker
from regkit.model.comparison import PaperTrouble
from regkit.model.packet import InspectionItem, ItemState, NeedCheck, NeedState, Packet
from regkit.show.lines import hanging, heading, leading, wrapped
from regkit.show.paper_words import (
    disagreement_title,
    group_title,
    need_details,
    readiness,
    say_paper,
    who_says_what,
)

MARKS = {
    NeedState.IN_ORDER: "[x]",
    NeedState.NOT_IN_ORDER: "[!]",
    NeedState.MISSING: "[ ]",
    NeedState.OPEN: "[?]",
    NeedState.NOT_NEEDED: "[-]",
}
ITEM_MARKS = {ItemState.RIGHT: "[x]", ItemState.WRONG: "[!]", ItemState.OPEN: "[?]"}


def packet_lines(packet: Packet, language: str = "en", everything: bool = False) -> Iterator[str]:
    """Yield the lines of a packet.

    Args:
        everything: also show what is not needed.
    """
    speak = speaker(language)
    yield from _head(packet, speak)
    shown = [check for check in packet.needs
             if everything or check.state != NeedState.NOT_NEEDED]
    if shown:
        yield from heading(speak.say(phrase("Papers")))
    for check in shown:
        yield from _need(check, speak, 0, everything)
    if shown:
        yield ""
        yield from wrapped(speak.say(phrase(
            "[x] in order  [!] there, but not in order  [ ] missing  [?] cannot be told yet")), "")
    yield from trouble_lines(packet.trouble, speak)
    yield from inspection_lines(packet.inspection, speak)
    yield from _enclosed(packet, speak)
    cautions = packet.finding.requirement.cautions
    if cautions:
        yield from heading(speak.say(phrase("Bear in mind")))
        for caution in cautions:
            yield from hanging("-", 2, speak.say(caution))


def _head(packet: Packet, speak: Speaker) -> Iterator[str]:
    requirement = packet.finding.requirement
    yield from wrapped(speak.say(phrase("{title} [{id}]", title=requirement.title,
                                        id=requirement.id)), "")
    yield from wrapped(speak.say(phrase(
        "To {authority}; as of {on}, to be sent on {sent}",
        authority=packet.authority.title, on=packet.on, sent=packet.sent)), "")
    yield from wrapped(speak.say(packet.finding.sentence), "")
    yield ""
    yield from wrapped(speak.say(readiness(packet)), "")


def _need(check: NeedCheck, speak: Speaker, depth: int, everything: bool) -> Iterator[str]:
    indent = "    " * depth
    said, details = check, list(need_details(check))
    while said.evidence is None and len(said.parts) == 1:  # a group of one is that one
        said = said.parts[0]
        details += need_details(said)
    title = group_title(said) if said.evidence is None else said.evidence.title
    yield from hanging(f"{indent}{MARKS[check.state]}", len(indent) + 4, speak.say(title))
    if check.state == NeedState.NOT_NEEDED:
        return
    for lead, says in details:
        yield from leading(lead, speak.say(says), speak, f"{indent}    ")
    met = check.state == NeedState.IN_ORDER
    for part in said.parts:
        if everything or part.state == NeedState.IN_ORDER or not (
            met or part.state == NeedState.NOT_NEEDED
        ):
            yield from _need(part, speak, depth + 1, everything)


def trouble_lines(trouble: PaperTrouble, speak: Speaker) -> Iterator[str]:
    """Yield what does not agree in a case, and what is in doubt."""
    if trouble.disagreements:
        yield from heading(speak.say(phrase("What does not agree")))
    for apart in trouble.disagreements:
        yield from hanging("-", 2, speak.say(disagreement_title(apart)))
        for says in who_says_what(apart):
            yield from hanging("   ", 4, speak.say(says))
        if apart.why is not None:
            yield from wrapped(speak.say(apart.why), "    ")
    if trouble.doubts:
        yield from heading(speak.say(phrase("Numbers and dates to look at again")))
    for doubt in trouble.doubts:
        yield from hanging("-", 2, speak.say(doubt.says))


def inspection_lines(items: tuple[InspectionItem, ...], speak: Speaker) -> Iterator[str]:
    """Yield what an inspector looks at, with the present answer."""
    if items:
        yield from heading(speak.say(phrase("What an inspector looks at")))
    for item in items:
        yield from hanging(ITEM_MARKS[item.state], 4, speak.say(item.looks_at))
        says = phrase("{answer} ({state}; {kind})", answer=item.answer,
                      state=phrase(item.state.value), kind=phrase(item.weakest))
        yield from wrapped(speak.say(says), "    ")


def _enclosed(packet: Packet, speak: Speaker) -> Iterator[str]:
    if packet.enclosed:
        yield from heading(speak.say(phrase("What goes in")))
    for offered in packet.enclosed:
        paper = phrase("") if offered.paper is None else say_paper(offered.paper)
        yield from hanging("-", 2, speak.say(phrase("{title}: {paper}", title=offered.title,
                                                    paper=paper)))
