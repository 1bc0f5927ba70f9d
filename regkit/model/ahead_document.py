"""What changes by itself, as JSON data. `schemas/ahead.schema.json` describes it."""

from __future__ import annotations

from typing import Any

from regkit.language import speaker, spoken
from regkit.model.ahead import Ahead
from regkit.model.deadline_document import iso
from regkit.model.ruleset import Ruleset

FORMAT = 1


def ahead_document(found: Ahead, ruleset: Ruleset, language: str = "en") -> dict[str, Any]:
    """Return what lies ahead of a case as JSON data, its texts in one language."""
    say = speaker(language).say
    return {
        "format": FORMAT,
        "ruleset": {"jurisdiction": ruleset.jurisdiction, "version": ruleset.version,
                    "digest": ruleset.digest},
        "on": found.on.isoformat(),
        "until": found.until.isoformat(),
        "language": spoken(language),
        "changes": [
            {
                "on": iso(change.on),
                "kind": change.kind,
                "id": change.id,
                "title": say(change.title),
                "before": say(change.before),
                "after": say(change.after),
                "why": say(change.why),
                "announced": change.announced,
                "act": change.act or None,
            }
            for change in found.changes
        ],
    }
