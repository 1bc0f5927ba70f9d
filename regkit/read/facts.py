"""Written values of facts to values, by the type the vocabulary gives."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from regkit.language import Either, Wrong, phrase
from regkit.model.facts import Fact
from regkit.model.values import NEVER, UNKNOWN, Value, choice, never, unknown
from regkit.read.countries import COUNTRIES, not_a_country
from regkit.read.edtf import FORMS, read_date
from regkit.read.problems import hinted
from regkit.read.units import read_money, read_quantity

LONGEST_TEXT = 500


def read_value(fact: Fact, written: Any) -> Value:
    """Return the value of a fact as written in a case.

    Raises:
        Wrong: it is no such value.
    """
    if written is None:
        raise Wrong(phrase("is empty; write a value or `unknown`, or leave the line out"))
    if written == UNKNOWN:
        return unknown()
    return _READERS[fact.type](fact, written)


def _yes_no(fact: Fact, written: Any) -> Value:
    words = {True: "yes", False: "no", "yes": "yes", "no": "no"}
    if isinstance(written, (str, bool)) and written in words:
        return choice(words[written])
    raise Wrong(phrase("{written} is no answer; write yes, no or unknown", written=repr(written)))


def _choice(fact: Fact, written: Any) -> Value:
    allowed = fact.allowed or ()
    if isinstance(written, str) and written in allowed:
        return choice(written)
    says = phrase("{written} is not a value it can take", written=repr(written))
    raise Wrong(phrase("{wrong}; write one of {words}, or unknown",
                       wrong=hinted(says, written, allowed), words=", ".join(allowed)))


def _date(fact: Fact, written: Any) -> Value:
    if written == NEVER:
        return never()
    if isinstance(written, bool) or not isinstance(written, (str, int)):
        raise Wrong(phrase("{written} is no date; write {forms}", written=repr(written),
                           forms=Either((*FORMS, NEVER, UNKNOWN))))
    return read_date(str(written))


def _country(fact: Fact, written: Any) -> Value:
    if isinstance(written, str) and written in COUNTRIES:
        return choice(written)
    raise Wrong(not_a_country(written))


def _words(fact: Fact, written: Any) -> Value:
    if isinstance(written, (bool, float)) or not isinstance(written, (str, int)):
        raise Wrong(phrase("{written} is not text; put quotes around it", written=repr(written)))
    text = str(written).strip()
    if not text or len(text) > LONGEST_TEXT:
        raise Wrong(phrase("must be 1 to {most} characters long, and is {length}",
                           most=LONGEST_TEXT, length=len(text)))
    return choice(text)


_READERS: dict[str, Callable[[Fact, Any], Value]] = {
    "yes_no": _yes_no,
    "choice": _choice,
    "date": _date,
    "quantity": lambda fact, written: read_quantity(written, fact),
    "money": lambda fact, written: read_money(written),
    "country": _country,
    "identifier": _words,
    "text": _words,
}
