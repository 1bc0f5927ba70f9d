"""Numbers with their units in words: '1 seat', '250 cc'."""

from __future__ import annotations

from decimal import Decimal

from regkit.language import Phrase, phrase, plural

COUNTED = {
    "components": ("{count} component", "{count} components"),
    "cylinders": ("{count} cylinder", "{count} cylinders"),
    "days": ("{count} day", "{count} days"),
    "failures": ("{count} failure", "{count} failures"),
    "miles": ("{count} mile", "{count} miles"),
    "months": ("{count} month", "{count} months"),
    "points": ("{count} point", "{count} points"),
    "seats": ("{count} seat", "{count} seats"),
    "years": ("{count} year", "{count} years"),
}
"""Units that are words, which a number inflects; all others are symbols."""


def quantity(number: Decimal, unit: str) -> Phrase:
    """Return the words for a number of a unit; `cc` is cubic centimetres."""
    if unit in COUNTED:
        one, many = COUNTED[unit]
        return plural(one, many, count=number)
    if unit == "cc":
        return phrase("{number} cc", number=number)
    return phrase("{number} {unit}", number=number, unit=unit)
