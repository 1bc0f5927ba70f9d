"""Values of facts. A value is the set of what the fact may be.

An inexact date is all days it may be; two papers that disagree leave two options. A fact that a
case does not tell may be anything. One form of value serves all types, so that a test can ask one
question of it: does every possible value pass, does none, or do some?

`low` and `high` bound ordered values (days as proleptic Gregorian ordinals, numbers as `Decimal`,
both ends included). `options` are the possible words of a choice, or of anything else unordered.
`word` says what was said instead of a value: `unknown` or `never`. `either` keeps, to be said, the
values of those who disagree; low and high then span them all.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from typing import Any

from regkit.language import Either, Money, Month, Phrase, phrase
from regkit.model.quantities import quantity

UNKNOWN = "unknown"
NEVER = "never"
TOLD = ""
"""The answer of a date or number that is told: none of the words a choice can name."""

_ANY_LOW = float("-inf")
_ANY_HIGH = float("inf")

Bound = Any
"""An int (a day), a Decimal (a number), or an infinity where the end is open."""


@dataclass(frozen=True, slots=True)
class Value:
    """What a fact may be. Compare with `==`; read `exact` before taking it for one value."""

    low: Bound = _ANY_LOW
    high: Bound = _ANY_HIGH
    options: frozenset[str] | None = None
    word: str | None = None
    written: str = ""
    unit: str = ""
    bounded_by: str = ""
    either: tuple[Value, ...] = ()
    answer: str | frozenset[str] | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out `answer`: the one word said, the words possible, TOLD, or None if untold."""
        answer: str | frozenset[str] | None = self.word
        if answer is None and self.options is not None:
            answer = next(iter(self.options)) if len(self.options) == 1 else self.options
        object.__setattr__(self, "answer", answer or (TOLD if self.written else None))

    @property
    def told(self) -> bool:
        """Whether the case says anything about the fact, be it that it is unknown."""
        return bool(self.written)

    @property
    def happened(self) -> bool:
        """Whether a date fact is known to have happened, on whatever day."""
        return self.word != NEVER and (bool(self.bounded_by) or (self.told and self.word is None))

    @property
    def exact(self) -> bool:
        """Whether exactly one value is possible."""
        if self.options is not None:
            return len(self.options) == 1
        return self.word == NEVER or self.low == self.high

    def said(self) -> Phrase:
        """Return the words for this value."""
        if self.either:
            return phrase("either {values}", values=Either(tuple(v.said() for v in self.either)))
        if not self.bounded_by and (self.word == UNKNOWN or not self.told):
            return phrase("not known")
        if self.word == NEVER:
            return phrase("never")
        if self.options is not None:
            return phrase("{options}", options=Either(tuple(sorted(self.options))))
        if self.unit:
            return _say_amount(self)
        return _say_days(self)


MISSING = Value()
"""The value of a fact the case does not tell: anything is possible."""


def unknown() -> Value:
    """Return the value of a fact the case expressly calls unknown."""
    return Value(word=UNKNOWN, written=UNKNOWN)


def never() -> Value:
    """Return the value of a date fact that never happened: no day is possible."""
    return Value(low=_ANY_HIGH, high=_ANY_LOW, word=NEVER, written=NEVER)


def days(first: date | None, last: date | None, written: str = "") -> Value:
    """Return the value of a date fact that lies from `first` to `last`, both included.

    None leaves that end open.
    """
    return Value(
        low=_ANY_LOW if first is None else first.toordinal(),
        high=_ANY_HIGH if last is None else last.toordinal(),
        written=written or f"{first or '..'}/{last or '..'}",
    )


def amount(low: Decimal, high: Decimal, unit: str, written: str = "") -> Value:
    """Return the value of a quantity, or of money with its ISO 4217 code as unit."""
    return Value(low=low, high=high, unit=unit, written=written or f"{low} {unit}")


def choice(*options: str) -> Value:
    """Return the value of a choice, yes_no, country, identifier or text fact."""
    return Value(options=frozenset(options), written=" or ".join(sorted(options)))


def no_later(value: Value, other: Value, other_name: str) -> Value:
    """Return `value` narrowed to days no later than `other` may be at the latest."""
    if value.word == NEVER or not value.high > other.high or other.word == NEVER:
        return value
    return replace(value, high=other.high, bounded_by=other_name)


def day_of(bound: Bound) -> date | None:
    """Return the date of a bound, None where it is open."""
    return date.fromordinal(int(bound)) if _ANY_LOW < bound < _ANY_HIGH else None


def _say_days(value: Value) -> Phrase:
    first, last = day_of(value.low), day_of(value.high)
    if first is None and last is None:
        return phrase("not known")
    if first is None:
        return phrase("no later than {day}", day=last or "")
    if last is None:
        return phrase("no earlier than {day}", day=first)
    if first == last:
        return phrase("{day}", day=first)
    return _say_span(first, last)


def _say_span(first: date, last: date) -> Phrase:
    starts_year, ends_year = (first.month, first.day) == (1, 1), (last.month, last.day) == (12, 31)
    if starts_year and ends_year:
        if first.year == last.year:
            return phrase("{year}", year=str(first.year))
        return phrase("{first} to {last}", first=str(first.year), last=str(last.year))
    next_day = date.fromordinal(last.toordinal() + 1)
    if first.day == 1 and next_day.day == 1:
        if (first.year, first.month) == (last.year, last.month):
            return phrase("{month}", month=Month(first))
        return phrase("{first} to {last}", first=Month(first), last=Month(last))
    return phrase("between {first} and {last}", first=first, last=last)


def _say_amount(value: Value) -> Phrase:
    low, high, unit = _number(value.low), _number(value.high), value.unit
    money = len(unit) == 3 and unit.isupper()
    if low != high:
        if money:
            return phrase("{first} to {last}", first=Money(low, unit), last=Money(high, unit))
        return phrase("{first} to {last}", first=low, last=quantity(high, unit))
    return phrase("{money}", money=Money(low, unit)) if money else quantity(low, unit)


def _number(bound: Bound) -> Decimal:
    return bound if isinstance(bound, Decimal) else Decimal(str(bound))
