"""The needs of a finding as one line each: what is held, what is missing, what is not in order."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Either, Phrase, joined, phrase
from regkit.model.packet import NeedCheck, NeedState, Packet

LEADS = {
    NeedState.IN_ORDER: "have",
    NeedState.NOT_IN_ORDER: "wrong",
    NeedState.MISSING: "needs",
    NeedState.OPEN: "needs",
    NeedState.NOT_NEEDED: "no",
}


def need_lines(packet: Packet, everything: bool = False) -> Iterator[tuple[str, Phrase]]:
    """Yield lead and words for each need of a packet.

    Args:
        everything: also name what is not needed.
    """
    for check in packet.needs:
        if everything or check.state != NeedState.NOT_NEEDED:
            says = say_need(check)
            if check.state == NeedState.NOT_NEEDED:
                says = phrase("need for this: {paper}", paper=says)
            yield LEADS[check.state], says


def say_need(check: NeedCheck) -> Phrase:
    """Say one need: what meets it, or what would."""
    if check.evidence is not None:
        said = phrase("{title}", title=check.evidence.title)
    elif check.state == NeedState.IN_ORDER:
        held = (part for part in check.parts if part.state == NeedState.IN_ORDER)
        return phrase("{papers}", papers=tuple(say_need(part) for part in held))
    else:
        parts = tuple(say_need(part) for part in check.parts if part.state != NeedState.NOT_NEEDED)
        alone = len(check.parts) == 1
        template = "all of: {parts}" if check.count == len(check.parts) else (
            "one of: {parts}" if check.count == 1 else "{count} of: {parts}")
        all_of = check.count == len(check.parts)
        said = parts[0] if alone and parts else phrase(
            template, parts=parts if all_of else Either(parts), count=check.count)
    if check.need.form:
        said = phrase("{paper} ({form})", paper=said, form=phrase(check.need.form))
    if check.state == NeedState.OPEN and check.need.when is not None:
        said = phrase("{paper}, if {when}", paper=said, when=check.need.when.rule())
    if check.state == NeedState.NOT_IN_ORDER and check.offered:
        faults = joined(*(fault.says for fault in check.offered[0].faults))
        said = phrase("{paper}: {faults}", paper=said, faults=faults)
    return said
