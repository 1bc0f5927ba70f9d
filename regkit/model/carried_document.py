"""One case across several jurisdictions, as JSON data. `schemas/carried.schema.json` describes it.
"""

from __future__ import annotations

from typing import Any

from regkit.language import Speaker, speaker, spoken
from regkit.model.assessment import Assessment
from regkit.model.carried import Across, Carried
from regkit.model.deadline_document import iso
from regkit.model.document import case_document
from regkit.model.scenarios import Row

FORMAT = 1


def across_document(found: Across, language: str = "en") -> dict[str, Any]:
    """Return a comparison across jurisdictions as JSON data, its texts in one language."""
    speak = speaker(language)
    return {
        "format": FORMAT,
        "language": spoken(language),
        "on": found.countries[0].assessment.on.isoformat(),
        "case": case_document(found.case),
        "countries": [
            {
                "ruleset": {
                    "jurisdiction": country.code,
                    "title": speak.say(country.assessment.ruleset.title),
                    "version": country.assessment.ruleset.version,
                    "digest": country.assessment.ruleset.digest,
                },
                "carried": carried_document(country.carried, speak),
                **_answers(country.assessment),
                "cautions": [speak.say(text) for text in country.assessment.cautions],
            }
            for country in found.countries
        ],
        "rows": [_row(row, found, speak) for row in found.rows],
    }


def carried_document(carried: Carried, speak: Speaker) -> dict[str, Any]:
    """Return how a case was carried as JSON data."""
    return {
        "left_behind": list(carried.left_behind),
        "not_asked": list(carried.not_asked),
        "notes": [speak.say(note) for note in carried.notes],
    }


def _answers(one: Assessment) -> dict[str, Any]:
    """Return what a program needs of one jurisdiction; identifiers, words of ours and numbers."""
    plan = one.plan
    return {
        "classes": {found.id: found.outcome.value for found in one.classes},
        "requirements": {
            found.id: {
                "verdict": found.verdict.value,
                "waits_for": found.waits_for or None,
                "last_day": iso(found.deadline.first) if found.deadline else None,
                "layer": found.requirement.layer,
            }
            for found in one.findings
        },
        "finish": None if plan.finish is None else {
            "first": iso(plan.finish.first), "last": iso(plan.finish.last),
            "or_later": plan.finish.or_later,
        },
        "to_get": [paper.evidence for paper in plan.to_get],
        "totals": [
            {"least": str(amount.least), "most": None if amount.most is None else str(amount.most),
             "currency": amount.currency}
            for amount in one.bills[0].totals
        ],
    }


def _row(row: Row, found: Across, speak: Speaker) -> dict[str, Any]:
    known = found.having(row)
    return {
        "part": row.part,
        "id": row.id,
        "title": speak.say(row.title),
        "known_in": list(known),
        "one_country_alone": len(known) == 1,
        "answers": {
            code: speak.say(answer) if code in known else None
            for code, answer in zip(found.codes, row.answers, strict=True)
        },
    }
