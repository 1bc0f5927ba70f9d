"""Texts as values: a `Phrase` of the program, a `Text` of a ruleset.

A phrase keeps its English template and its arguments apart, so that another language can order
them differently and format dates, money and lists in its own way. Templates are the message
identifiers of the translation catalogues (GNU gettext convention).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Protocol, runtime_checkable


@runtime_checkable
class Sayable(Protocol):
    """A value that knows the phrase it is said with (an inexact date, a quantity, a country)."""

    def said(self) -> Phrase:
        """Return the phrase for this value."""


@dataclass(frozen=True, slots=True)
class Text:
    """One text of a ruleset in one or more languages, `(language code, wording)` pairs.

    The first pair is the fallback. Language codes are ISO 639-1.
    """

    wordings: tuple[tuple[str, str], ...]

    @classmethod
    def of(cls, written: str | Mapping[str, str]) -> Text:
        """Build from a plain string (English) or a map from language code to wording."""
        if isinstance(written, str):
            return cls((("en", written),))
        return cls(tuple(written.items()))

    def __str__(self) -> str:
        return self.wordings[0][1] if self.wordings else ""


@dataclass(frozen=True, slots=True)
class Phrase:
    """An English template with named arguments, `template.format(**arguments)` once spoken.

    Attributes:
        many: the template where the argument `count` is not one; empty where no number decides.
            Other languages may have more forms than two (GNU gettext, plural forms).
        context: tells apart equal English words that other languages do not say alike (msgctxt).
    """

    template: str
    arguments: tuple[tuple[str, Any], ...] = ()
    many: str = ""
    context: str = ""


@dataclass(frozen=True, slots=True)
class Month:
    """A calendar month, said without its day; `day` is any day in it."""

    day: date


@dataclass(frozen=True, slots=True)
class YearDay:
    """A day that returns every year, said without its year."""

    month: int
    day: int


@dataclass(frozen=True, slots=True)
class Money:
    """An amount of money; `currency` is an ISO 4217 code."""

    amount: Decimal
    currency: str


@dataclass(frozen=True, slots=True)
class Country:
    """A country, by its ISO 3166-1 alpha-2 code (or a subdivision by its ISO 3166-2 code)."""

    code: str


@dataclass(frozen=True, slots=True)
class Either:
    """Alternatives, said as a list that ends in 'or'."""

    options: tuple[Argument, ...]


Argument = (
    str | int | date | Decimal | Text | Month | YearDay | Money | Country | Either | Phrase
    | Sayable
    | tuple["Argument", ...]
)


def phrase(template: str, /, **arguments: Argument) -> Phrase:
    """Make a phrase; arguments may be texts, dates, numbers, phrases, or tuples of these.

    A tuple is spoken as a list ('a, b and c').
    """
    return Phrase(template, tuple(arguments.items()))


def plural(one: str, many: str, /, count: int | Decimal, **arguments: Argument) -> Phrase:
    """Make a phrase whose wording a number decides; templates name it as `{count}`."""
    return Phrase(one, (("count", count), *arguments.items()), many)


def joined(*phrases: Phrase, by: str = "; ") -> Phrase:
    """Put complete phrases one after another; `by` is punctuation, never a word."""
    kept = [part for part in phrases if part.template]
    names = [f"part{number}" for number in range(len(kept))]
    return Phrase(
        by.join(f"{{{name}}}" for name in names), tuple(zip(names, kept, strict=True))
    )
