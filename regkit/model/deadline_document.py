"""How far a requirement has come, its deadline and what lateness costs, as JSON data."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING, Any

from regkit.language import Speaker
from regkit.model.deadline import Deadline, LateCharge

if TYPE_CHECKING:
    from regkit.model.assessment import Finding


def standing_document(finding: Finding, speak: Speaker) -> dict[str, Any]:
    """Return the progress of a finding, what shows that it is met, and its deadline."""
    met = finding.met
    return {
        "progress": finding.progress.value,
        "met": None if met is None else {
            "on": iso(met.on), "reference": met.reference or None, "evidence": met.evidence or None,
            "until": iso(met.until),
        },
        "deadline": None if finding.deadline is None else _deadline(finding.deadline, speak),
    }


def deadline_sources(deadline: Deadline | None) -> Iterator[tuple[str, ...]]:
    """Yield the sources a deadline and its charges name."""
    if deadline is not None:
        yield deadline.sources
        yield from (charge.sources for charge in deadline.charges)


def iso(day: date | None) -> str | None:
    """Return a day in ISO 8601, None where there is none."""
    return None if day is None else day.isoformat()


def _deadline(deadline: Deadline, speak: Speaker) -> dict[str, Any]:
    late = deadline.late
    return {
        "event": deadline.event or None,
        "event_day": speak.say(deadline.event_day) if deadline.event_day else None,
        "at_once": deadline.at_once,
        "act_by": iso(deadline.first),
        "latest": iso(deadline.last),
        "days_left": deadline.days_left,
        "overdue_since": iso(deadline.overdue_since),
        "days_late": None if late is None else {"least": late.least, "most": late.most},
        "charges": [_charge(charge, speak) for charge in deadline.charges],
        "notes": [speak.say(note) for note in deadline.notes],
        "sources": list(deadline.sources),
        "calendar": deadline.calendar or None,
    }


def _charge(charge: LateCharge, speak: Speaker) -> dict[str, Any]:
    return {
        "charge": charge.charge,
        "title": speak.say(charge.title),
        "least": str(charge.amount.least),
        "most": None if charge.amount.most is None else str(charge.amount.most),
        "currency": charge.amount.currency,
        "certain": charge.certain,
        "grows": charge.grows,
        "sources": list(charge.sources),
    }
