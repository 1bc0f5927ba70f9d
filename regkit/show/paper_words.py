"""How papers, needs and faults are said, in text and on printed sheets alike."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Phrase, Text, joined, phrase, plural
from regkit.model.case import Paper
from regkit.model.comparison import Comparison
from regkit.model.likeness import Likeness
from regkit.model.packet import NeedCheck, NeedState, Offered, Packet
from regkit.model.ruleset import Evidence, Ruleset

STATES = {
    NeedState.MISSING: ("one is missing", "{count} are missing"),
    NeedState.NOT_IN_ORDER: ("one is not in order", "{count} are not in order"),
    NeedState.OPEN: ("one cannot be told yet", "{count} cannot be told yet"),
}


SHOWN = 4
"""Of a longer list of facts, how many are named."""


def some(phrases: tuple[Phrase, ...]) -> Phrase:
    """Return a list of phrases, cut short where it is long; the rest is counted."""
    if len(phrases) <= SHOWN + 1:
        return phrase("{parts}", parts=phrases)
    rest = plural("{count} more", "{count} more", count=len(phrases) - SHOWN)
    return phrase("{parts}", parts=(*phrases[:SHOWN], rest))


def how_old(evidence: Evidence) -> Iterator[Phrase]:
    """Yield how old a paper may be: each period, with the condition of it."""
    for fresh in evidence.fresh:
        says = phrase("not older than {period}", period=fresh.period)
        yield says if fresh.when is None else phrase(
            "{paper}, if {when}", paper=says, when=fresh.when.rule())


def readiness(packet: Packet) -> Phrase:
    """Return in one sentence whether the packet can be sent."""
    parts = [
        plural(one, many, count=count)
        for state, (one, many) in STATES.items() if (count := len(packet.in_state(state)))
    ]
    apart = len(packet.trouble.contradictions)
    if apart:
        parts.append(plural("one thing does not agree", "{count} things do not agree",
                            count=apart))
    if not packet.needs:
        return phrase("This step asks for no papers.")
    if not parts:
        return phrase("All papers are there and in order.")
    return phrase("Not ready: {parts}.", parts=tuple(parts))


def group_title(check: NeedCheck) -> Phrase:
    """Return the words for a group of needs."""
    if check.count == len(check.parts):
        return phrase("all of these")
    if check.count == 1:
        return phrase("one of these")
    return phrase("{count} of these", count=check.count)


def say_paper(paper: Paper) -> Phrase:
    """Return what a paper is: its form, date, number and language."""
    parts = [phrase(paper.form)]
    if paper.dated.told:
        parts.append(phrase("of {day}", day=paper.dated))
    if paper.reference:
        parts.append(phrase("number {reference}", reference=paper.reference))
    if paper.named:
        parts.append(phrase("names {named}", named=paper.named))
    if paper.language:
        parts.append(phrase("in language '{language}'", language=paper.language))
    if paper.translated:
        parts.append(say_translation(paper))
    return joined(*parts, by=", ")


def say_translation(paper: Paper) -> Phrase:
    """Return which translation lies with a paper that has one."""
    return phrase("with a certified translation" if paper.translated == "certified"
                  else "with a translation")


def say_offered(offered: Offered) -> Phrase:
    """Return what is offered for a need."""
    if offered.paper is None:
        return phrase("given by the step '{title}', told as done", title=offered.title)
    said = say_paper(offered.paper)
    if offered.stands_in:
        return phrase("'{title}' stands in for it: {paper}", title=offered.title, paper=said)
    return said


def issuer(evidence: Evidence, ruleset: Ruleset) -> Text | None:
    """Return who issues a paper: the title of an authority, or what the ruleset says."""
    known = ruleset.authorities.get(str(evidence.issued_by))
    return evidence.issued_by if known is None else known.title


def need_details(check: NeedCheck) -> Iterator[tuple[str, Phrase]]:
    """Yield lead and words for what is to be said of a need for one paper."""
    for offered in check.offered:
        if offered.in_order:
            yield "have", say_offered(offered)
        elif check.state != NeedState.IN_ORDER:
            faults = joined(*(fault.says for fault in offered.faults))
            yield "but", phrase("{paper}: {faults}", paper=say_offered(offered), faults=faults)
        for reminder in offered.reminders if offered.in_order else ():
            yield "look", reminder
    if check.need.form and check.state != NeedState.IN_ORDER:
        yield "as", phrase(check.need.form)
    if check.where is not None:
        yield "get", check.where
    if check.hangs_on:
        yield "if", phrase("whether it is needed depends on {facts}",
                           facts=some(check.hangs_on))


def disagreement_title(apart: Comparison) -> Phrase:
    """Return what disagrees, and how far apart it is."""
    likeness = (phrase("probable misreading: O and 0, or I and 1")
                if apart.likeness == Likeness.MISREAD else phrase(apart.likeness.value))
    return phrase("{title}: {kind}", title=apart.title, kind=likeness)


def who_says_what(apart: Comparison) -> Iterator[Phrase]:
    """Yield each value once, with everyone who says it."""
    by_value: dict[Phrase, list[Phrase]] = {}
    for said in apart.said:
        by_value.setdefault(said.value, []).append(said.by)
    for value, who in by_value.items():
        yield phrase("'{value}' by {who}", value=value, who=tuple(who))
