"""How alike two written values of one fact are.

Numbers and names are compared after one stated normalisation: spaces, hyphens, full stops, commas,
slashes, apostrophes and the case of letters do not count (Unicode NFKC first). Everything beyond
that is reported, never taken for equal:

- the letter O where the other has the figure 0, or I where the other has 1: a probable misreading;
- accents, the order of words, and initials in a name: probably the same, written differently;
- two currencies: cannot be compared.

Dates and quantities agree if some one value fits both, so '1962' agrees with '17 May 1962'.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import combinations
from unicodedata import combining, normalize

from regkit.model.facts import Fact
from regkit.model.values import Value

_NOT_COUNTED = re.compile(r"[\s\-\u2010-\u2015./,'’_]+")
_CONFUSED = str.maketrans("OI", "01")


class Likeness(StrEnum):
    """How alike two values are, best first."""

    SAME = "the same"
    WRITTEN_DIFFERENTLY = "probably the same, written differently"
    INCOMPARABLE = "cannot be compared"
    MISREAD = "probable misreading"
    DIFFERENT = "contradiction"

    @property
    def contradicts(self) -> bool:
        """Whether the two cannot both be right as they stand."""
        return self in (Likeness.MISREAD, Likeness.DIFFERENT)

    @property
    def rank(self) -> int:
        """0 for the same; more is further apart."""
        return list(Likeness).index(self)


def plain(text: str) -> str:
    """Return a number or name with all that does not count left out, in capitals."""
    return _NOT_COUNTED.sub("", normalize("NFKC", text)).upper()


def alike(first: str, second: str) -> Likeness:
    """Return how alike two numbers or names are.

    >>> alike("S25 10482", "s25-10482").value
    'the same'
    >>> alike("S25 10482", "S25 1O482").value
    'probable misreading'
    >>> alike("Jane Miller", "MILLER, Jane").value
    'probably the same, written differently'
    """
    return _spelt_alike(_spelling(first), _spelling(second))


def furthest(told: Iterable[tuple[Fact, Value]]) -> Likeness:
    """Return how alike the two values are that are furthest apart; `SAME` for fewer than two.

    A value that is told twice is looked at once, and each text is normalised once.
    """
    spelling = cache(_spelling)
    found = Likeness.SAME
    for (fact, first), (_, second) in combinations(dict.fromkeys(told), 2):
        found = max(found, likeness(fact, first, second, spelling), key=lambda one: one.rank)
        if found is Likeness.DIFFERENT:
            break
    return found


def likeness(
    fact: Fact, first: Value, second: Value, spelling: Callable[[str], _Spelling] | None = None
) -> Likeness:
    """Return how alike two told values of a fact are; one that is `unknown` fits every other."""
    spelling = spelling or _spelling
    if not _says_something(first) or not _says_something(second):
        return Likeness.SAME
    if first.options is not None and second.options is not None:
        if fact.type in ("identifier", "text"):
            return min((_spelt_alike(spelling(a), spelling(b))
                        for a in first.options for b in second.options),
                       key=lambda found: found.rank)
        return Likeness.SAME if first.options & second.options else Likeness.DIFFERENT
    if first.unit != second.unit and first.word is None and second.word is None:
        return Likeness.INCOMPARABLE
    if first.word or second.word:
        return Likeness.SAME if first.word == second.word else Likeness.DIFFERENT
    meet = first.low <= second.high and second.low <= first.high
    return Likeness.SAME if meet else Likeness.DIFFERENT


def _says_something(value: Value) -> bool:
    return value.told and value.word != "unknown"


@dataclass(frozen=True, slots=True)
class _Spelling:
    """What counts of a written number or name: its letters and figures, and its words."""

    plain: str
    words: list[str]


def _spelling(text: str) -> _Spelling:
    return _Spelling(plain(text), _words(text))


def _spelt_alike(first: _Spelling, second: _Spelling) -> Likeness:
    if first.plain == second.plain:
        return Likeness.SAME
    if first.plain.translate(_CONFUSED) == second.plain.translate(_CONFUSED):
        return Likeness.MISREAD
    if _same_words(first.words, second.words):
        return Likeness.WRITTEN_DIFFERENTLY
    return Likeness.DIFFERENT


def _words(text: str) -> list[str]:
    """Return the words of a name without accents, in alphabetical order."""
    bare = "".join(c for c in normalize("NFKD", text) if not combining(c))
    return sorted(filter(None, map(plain, re.split(r"[\s,]+", bare))))


def _same_words(first: list[str], second: list[str]) -> bool:
    """Return whether two names have the same words; an initial stands for a word it begins."""
    return len(first) == len(second) and all(
        a == b or (min(len(a), len(b)) == 1 and a[0] == b[0])
        for a, b in zip(first, second, strict=True)
    )
