"""Numbers that carry a check of their own: vehicle identification numbers and VAT numbers.

A doubtful number is a caution and never a refusal: a wrong figure on a maker's plate is still what
the plate says. Numbers from before 1981 follow no common form, and their form is never doubted.

Sources: ISO 3779 (17 characters; the letters I, O and Q are not used) and 49 CFR 565 (the check
digit in the ninth place, for vehicles made for sale in the United States). Elsewhere the ninth
place is the maker's own, so it is only looked at where the number begins with 1 to 5, the digits of
North America (ISO 3780). VAT numbers are checked by `python-stdnum`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from regkit.language import Phrase, phrase, plural
from regkit.model.case import Case
from regkit.model.comparison import Doubt
from regkit.model.likeness import plain
from regkit.model.values import Value

LENGTH = 17
FIRST_COMMON_FORM = date(1981, 1, 1)
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_VALUES = dict(zip("ABCDEFGHJKLMNPRSTUVWXYZ", (1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 7, 9,
                                               2, 3, 4, 5, 6, 7, 8, 9), strict=True))
FRAME_FACTS = ("vehicle.frame_number", "vehicle.frame_number_seen")
# Where the VAT library files a country under another module than its code and `vat`.
_VAT_PREFIX = {"EL": "gr", "XI": "gb"}


def check_digit(number: str) -> str:
    """Return the check digit that belongs into the ninth place of a 17-character number.

    Source: 49 CFR 565.15(c). The character now in the ninth place does not matter.

    >>> check_digit("1G4AH59H45G118341")
    '4'

    Raises:
        ValueError: it has another length, or letters that the number never has.
    """
    if len(number) != LENGTH or not all(c.isdigit() or c in _VALUES for c in number):
        raise ValueError(f"{number!r} is no number of {LENGTH} characters without I, O and Q")
    total = sum(weight * (int(c) if c.isdigit() else _VALUES[c])
                for weight, c in zip(_WEIGHTS, number, strict=True))
    return "X" if total % 11 == 10 else str(total % 11)


def doubts(case: Case, jurisdiction: str) -> tuple[Doubt, ...]:
    """Return what looks wrong with the identification and VAT numbers of a case."""
    found: dict[tuple[str, str], Doubt] = {}
    for name, number in _numbers(case):
        if name in FRAME_FACTS:
            says = frame_number_doubt(number, case.value("vehicle.built"))
        else:
            says = vat_number_doubt(number, jurisdiction[:2])
        if says is not None:
            found.setdefault((name, plain(number)), Doubt(name, says))
    return tuple(found.values())


def frame_number_doubt(number: str, built: Value) -> Phrase | None:
    """Return what looks wrong with a frame number, None if nothing does.

    Args:
        built: when the vehicle was built; a number from before 1981 is never doubted.
    """
    first = FIRST_COMMON_FORM.toordinal()
    if built.high < first:
        return None
    compact = plain(number)
    if len(compact) != LENGTH:
        if built.low < first:
            return None
        return plural(
            "'{number}' has {count} character; numbers of vehicles made since 1981 mostly have 17 "
            "(ISO 3779). Read it again on the vehicle",
            "'{number}' has {count} characters; numbers of vehicles made since 1981 mostly have 17 "
            "(ISO 3779). Read it again on the vehicle",
            number=number, count=len(compact))
    letters = tuple(letter for letter in "IOQ" if letter in compact)
    if letters and built.low >= first:
        return phrase("'{number}' holds {letters}, which a 17-character number never has "
                      "(ISO 3779); a probable misreading of 1 or 0", number=number,
                      letters=letters)
    if compact[0] not in "12345" or letters or not compact.isalnum() or not compact.isascii():
        return None
    expected = check_digit(compact)
    if compact[8] == expected:
        return None
    return phrase("'{number}' has '{found}' in the ninth place, where the check digit of a vehicle "
                  "made for North America since 1981 would be '{expected}' (49 CFR 565). Read it "
                  "again on the vehicle", number=number, found=compact[8], expected=expected)


def vat_number_doubt(number: str, country: str) -> Phrase | None:
    """Return what looks wrong with a VAT number, None if nothing does or no check is known.

    Args:
        country: whose number it is where it does not begin with a country's letters.
    """
    try:
        from stdnum.exceptions import ValidationError
        from stdnum.util import get_cc_module
    except ImportError:
        return phrase("the VAT number '{number}' was not checked: that needs the package "
                      "'python-stdnum' (pip install python-stdnum)", number=number)
    prefix = number.strip()[:2].upper()
    for code in (prefix, country) if prefix.isalpha() else (country,):
        module: Any = get_cc_module(_VAT_PREFIX.get(code, code).lower(), "vat")
        if module is not None:
            break
    else:
        return None
    try:
        module.validate(number)
    except ValidationError as wrong:
        return phrase("the VAT number '{number}' does not pass the check of {country}: {why}",
                      number=number, country=code, why=str(wrong))
    return None


def _numbers(case: Case) -> Iterator[tuple[str, str]]:
    values = [case.facts, *(paper.shows for paper in case.papers)]
    for name in (*FRAME_FACTS, "keeper.vat_number"):
        told = {option for shown in values if name in shown
                for option in shown[name].options or ()}
        yield from ((name, number) for number in sorted(told))
