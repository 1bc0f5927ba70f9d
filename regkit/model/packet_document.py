"""A packet as JSON data; `schemas/packet.schema.json` describes it."""

from __future__ import annotations

from typing import Any

from regkit.language import Speaker, speaker, spoken
from regkit.model.case import Paper
from regkit.model.comparison import PaperTrouble
from regkit.model.packet import InspectionItem, NeedCheck, Offered, Packet


def packet_document(packet: Packet, language: str = "en") -> dict[str, Any]:
    """Return a packet as JSON data, its texts in one language."""
    speak = speaker(language)
    requirement = packet.finding.requirement
    return {
        "requirement": requirement.id,
        "title": speak.say(requirement.title),
        "authority": {"id": packet.authority.id, "title": speak.say(packet.authority.title)},
        "on": packet.on.isoformat(),
        "sent": packet.sent.isoformat(),
        "language": spoken(language),
        "ready": packet.ready,
        "needs": [need_document(check, speak) for check in packet.needs],
        "inspection": [_item(item, speak) for item in packet.inspection],
        **trouble_document(packet.trouble, speak),
    }


def need_document(check: NeedCheck, speak: Speaker) -> dict[str, Any]:
    """Return one need and what the case has for it; what does not apply is left out."""
    document: dict[str, Any] = {"state": check.state.value}
    if check.evidence is not None:
        document |= {"evidence": check.evidence.id, "title": speak.say(check.evidence.title)}
    else:
        document |= {"count": check.count,
                     "of": [need_document(part, speak) for part in check.parts]}
    if check.offered:
        document["offered"] = [_offered(offered, speak) for offered in check.offered]
    if check.where is not None:
        document["where"] = speak.say(check.where)
    if check.given_by:
        document["given_by"] = check.given_by
    if check.hangs_on:
        document["depends_on"] = [speak.say(fact) for fact in check.hangs_on]
    return document


def trouble_document(trouble: PaperTrouble, speak: Speaker) -> dict[str, Any]:
    """Return what does not agree in a case, and what is in doubt."""
    return {
        "disagreements": [
            {
                "about": apart.about,
                "title": speak.say(apart.title),
                "kind": apart.likeness.value,
                "said": [{"by": speak.say(said.by), "value": speak.say(said.value)}
                         for said in apart.said],
                "sources": list(apart.sources),
            }
            for apart in trouble.disagreements
        ],
        "doubts": [{"fact": doubt.fact or None, "says": speak.say(doubt.says)}
                   for doubt in trouble.doubts],
    }


def paper_document(paper: Paper) -> dict[str, Any]:
    """Return a paper as the case tells it."""
    document: dict[str, Any] = {"evidence": paper.evidence, "as": paper.form}
    for key, value in (("dated", paper.dated.written), ("named", paper.named),
                       ("reference", paper.reference), ("language", paper.language),
                       ("translated", paper.translated)):
        if value:
            document[key] = value
    if paper.shows:
        document["shows"] = {name: value.written for name, value in sorted(paper.shows.items())}
    return document


def _offered(offered: Offered, speak: Speaker) -> dict[str, Any]:
    return {
        "title": speak.say(offered.title),
        "paper": None if offered.paper is None else paper_document(offered.paper),
        "stands_in": offered.stands_in,
        "faults": [{"kind": fault.kind.value, "says": speak.say(fault.says)}
                   for fault in offered.faults],
        "reminders": [speak.say(reminder) for reminder in offered.reminders],
    }


def _item(item: InspectionItem, speak: Speaker) -> dict[str, Any]:
    return {
        "looks_at": speak.say(item.looks_at),
        "state": item.state.value,
        "answer": speak.say(item.answer),
        "fact": item.fact or None,
        "weakest": item.weakest,
        "sources": [source.id for source in item.sources],
    }
