"""Amounts with their units, converted exactly to the unit the vocabulary names.

Sources: SI brochure, 9th edition (BIPM, 2019); international yard and pound (1959): 1 mile =
1,609.344 m, 1 lb = 0.45359237 kg; metric horsepower 735.49875 W (DIN 66036); currency codes
ISO 4217.
"""

from __future__ import annotations

import re
from decimal import Decimal

from regkit.language import Either, Phrase, Wrong, phrase
from regkit.model.facts import Fact
from regkit.model.values import Value, amount
from regkit.read.currencies import CURRENCIES

_IN = {
    "cc": {"cc": "1", "cm3": "1", "ccm": "1", "ml": "1", "l": "1000"},
    "kg": {"kg": "1", "t": "1000", "lb": "0.45359237"},
    "km": {"km": "1", "miles": "1.609344", "mile": "1.609344"},
    "miles": {"miles": "1", "mile": "1"},
    "kW": {"kW": "1", "W": "0.001", "PS": "0.73549875"},
    "months": {"months": "1", "month": "1", "years": "12", "year": "12"},
    "%": {"%": "1", "percent": "1"},
}
_WRITTEN = re.compile(r"(-?[0-9]{1,15}(?:\.[0-9]{1,6})?)(?: ?(\S+))?")
_CURRENCY = re.compile(r"[A-Z]{3}")
_RATE = re.compile(r"[0-9]{1,9}(\.[0-9]{1,12})?")


def read_quantity(written: object, fact: Fact) -> Value:
    """Return the amount of a quantity fact; a plain number is in the fact's own unit.

    Raises:
        Wrong: it is no such amount.
    """
    right = phrase("a number of {unit}, such as '{example}'", unit=fact.unit,
                   example=f"250 {fact.unit}")
    number, unit = _split(written, right)
    factors = _IN.get(fact.unit, {fact.unit: "1"})
    if unit and unit not in factors:
        raise Wrong(phrase("{written} is not in {unit}; write {units}", written=repr(written),
                           unit=fact.unit, units=Either(tuple(factors))))
    if number < 0:
        raise Wrong(_negative(written))
    converted = number * Decimal(factors[unit or fact.unit])
    return amount(converted, converted, fact.unit, str(written))


def read_money(written: object) -> Value:
    """Return an amount of money with its ISO 4217 code as unit.

    Raises:
        Wrong: it is no such amount.
    """
    number, currency = _split(
        written, phrase("an amount and its currency, such as '{example}'", example="2500.00 GBP"))
    if not _CURRENCY.fullmatch(currency):
        raise Wrong(phrase("{written} names no currency; write for example '{example}'",
                           written=repr(written), example=f"{number} GBP"))
    if number < 0:
        raise Wrong(_negative(written))
    return amount(number, number, read_currency(currency), str(written))


def read_currency(written: str) -> str:
    """Return a currency code of ISO 4217.

    Raises:
        Wrong: there is no such currency.
    """
    if written not in CURRENCIES:
        raise Wrong(phrase("names the currency {written}, which is none of ISO 4217; write for "
                           "example GBP or EUR", written=repr(written)))
    return written


def read_rate(written: object) -> Decimal:
    """Return an exchange rate: how much of the second currency one unit of the first is.

    Raises:
        Wrong: it is no number above 0.
    """
    text = "" if isinstance(written, bool) else str(written)
    if not _RATE.fullmatch(text) or not Decimal(text):
        raise Wrong(phrase("{written} is no number above 0; write for example 0.8412",
                           written=repr(written)))
    return Decimal(text)


def _negative(written: object) -> Phrase:
    return phrase("{written} is negative; write 0 or more", written=repr(written))


def _split(written: object, right: Phrase) -> tuple[Decimal, str]:
    wrong = Wrong(phrase("{written} is no amount; write {right}", written=repr(written),
                         right=right))
    if isinstance(written, bool) or not isinstance(written, (str, int, float)):
        raise wrong
    found = _WRITTEN.fullmatch(str(written))
    if found is None:
        raise wrong
    return Decimal(found[1]), found[2] or ""
