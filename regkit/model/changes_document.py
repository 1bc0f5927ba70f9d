"""A comparison as JSON data. `schemas/changes.schema.json` describes it."""

from __future__ import annotations

from datetime import date
from typing import Any

from regkit.language import Speaker, speaker
from regkit.model.changes import Changes, Effect, EntryChange, Limit, Region, Side

FORMAT = 1


def changes_document(changes: Changes, language: str = "en") -> dict[str, Any]:
    """Return a comparison as JSON data, its texts in one language."""
    speak = speaker(language)
    return {
        "format": FORMAT,
        "old": _side(changes.old),
        "new": _side(changes.new),
        "horizon": {"first": changes.first.isoformat(), "last": changes.last.isoformat()},
        "today": changes.today.isoformat(),
        "compared": changes.compared,
        "no_difference": changes.no_difference,
        "effects": [_effect(effect, changes, speak) for effect in changes.effects],
        "entries": [_entry(entry, changes) for entry in changes.entries],
        "cases": {
            "tried": changes.tried,
            "differing": [
                {"case": case.case, "on": case.on.isoformat(), "kind": case.kind, "id": case.id,
                 "before": case.before, "after": case.after}
                for case in changes.cases
            ],
        },
    }


def _side(side: Side) -> dict[str, str]:
    return {"label": side.label, "jurisdiction": side.jurisdiction, "version": side.version,
            "digest": side.digest}


def _effect(effect: Effect, changes: Changes, speak: Speaker) -> dict[str, Any]:
    return {
        "kind": effect.kind,
        "id": effect.id,
        "title": speak.say(effect.title),
        "item": None if effect.item is None else speak.say(effect.item),
        "reach": effect.reach(changes.today).value,
        "complete": effect.complete,
        "regions": [_region(region, speak) for region in effect.regions],
    }


def _region(region: Region, speak: Speaker) -> dict[str, Any]:
    witness = region.witness
    return {
        "before": region.before,
        "after": region.after,
        "days": [[first.isoformat(), last.isoformat()] for first, last in region.days],
        "limits": [_limit(limit, speak) for limit in region.limits],
        "witness": None if witness is None else {
            "on": witness.on.isoformat(), "facts": dict(witness.facts)},
    }


def _limit(limit: Limit, speak: Speaker) -> dict[str, Any]:
    document: dict[str, Any] = {
        "key": limit.key,
        "says": speak.say(limit.says),
        "moves": limit.moves,
    }
    if limit.moves:
        document["says_on_last_day"] = speak.say(limit.says_later)
    if limit.spans:
        document["spans"] = _spans(limit.spans)
        if limit.moves:
            document["spans_on_last_day"] = _spans(limit.spans_later)
    return document


def _spans(spans: tuple[tuple[date | None, date | None], ...]) -> list[list[str | None]]:
    return [[day.isoformat() if day else None for day in span] for span in spans]


def _entry(entry: EntryChange, changes: Changes) -> dict[str, Any]:
    reach = changes.entry_reach(entry)
    return {
        "kind": entry.kind,
        "id": entry.id,
        "what": entry.what,
        "was": entry.was or None,
        "reach": reach.value if reach else None,
        "fields": [
            {"field": field.field, "before": field.before, "after": field.after}
            for field in entry.fields
        ],
    }
