"""Bills as JSON data; `schemas/bill.schema.json` describes them. Amounts are exact, as text."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from regkit.language import Speaker, speaker
from regkit.model.bill import Amount, Bill, Line


def bills_document(bills: Iterable[Bill], language: str = "en") -> list[dict[str, Any]]:
    """Return bills as JSON data, their texts in one language."""
    speak = speaker(language)
    return [_bill(bill, speak) for bill in bills]


def amount_document(amount: Amount) -> dict[str, Any]:
    """Return an amount: least and most as decimal text, None where nothing bounds it."""
    return {"least": _text(amount.least), "most": _text(amount.most), "currency": amount.currency}


def _bill(bill: Bill, speak: Speaker) -> dict[str, Any]:
    return {
        "route": bill.route or None,
        "title": None if bill.title is None else speak.say(bill.title),
        "as_told": bill.as_told,
        "open": bill.open.value,
        "why": None if bill.why is None else speak.say(bill.why),
        "lines": [_line(line, speak) for line in bill.lines],
        "totals": [amount_document(amount) for amount in bill.totals],
        "sources": [source.id for source in bill.sources],
    }


def _line(line: Line, speak: Speaker) -> dict[str, Any]:
    return {
        "charge": line.charge,
        "title": speak.say(line.title),
        "amount": amount_document(line.amount),
        "payable": line.payable,
        "certain": line.certain,
        "requirement": line.requirement,
        "paid_to": None if line.paid_to is None else speak.say(line.paid_to),
        "how": [speak.say(how) for how in line.how],
        "because": None if line.because is None else speak.say(line.because),
        "needs": [speak.say(need) for need in line.needs],
        "due_if": [speak.say(fact) for fact in line.due_if],
        "rounding": None if line.rounding is None else speak.say(line.rounding),
        "sources": [{"id": source.id, "kind": source.kind} for source in line.sources],
        "open_questions": list(line.questions),
    }


def _text(number: Decimal | None) -> str | None:
    return None if number is None else f"{number:f}"
