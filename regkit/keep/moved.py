"""A condition with one test changed in it: turned round, moved a little, or short of a word.

Conditions are changed where they cut, so a new kind of test needs nothing here.

A list of countries is only turned round, unless it is very short: it is copied from a treaty as a
whole, and an example a country would copy it once more and prove nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from regkit.conditions import All, AnyOf, Condition, Holds, NoneOf, Test, View
from regkit.conditions.cut import Among, Between, Cut
from regkit.conditions.truth import Truth
from regkit.conditions.view import LawDay
from regkit.language import Phrase, phrase, speaker
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.values import Bound, Value

DAY_MOVES = {"a day earlier": -1, "a day later": 1, "a year earlier": -365, "a year later": 365}
NUMBER_MOVES = {"1 less": Decimal(-1), "1 more": Decimal(1)}
LONGEST_LIST = 12
LONGEST_LIST_OF_COUNTRIES = 3
"""A list of more words is only turned round: no one would try each."""

_SOME_DAY = date(2000, 1, 1)


def changed_conditions(condition: Condition) -> Iterator[tuple[str, Condition]]:
    """Yield the condition with one test changed in it, and what was changed."""
    if isinstance(condition, Test):
        words = speaker().say(condition.rule())
        yield f"'{words}' turned round", NoneOf((condition,))
        yield from ((f"'{words}', {says}", Moved(condition.fact, condition, says, moved))
                    for says, moved in _moves(condition))
        return
    if isinstance(condition, (All, AnyOf, NoneOf)):
        make = type(condition)
        for at, part in enumerate(condition.conditions):
            for says, changed in changed_conditions(part):
                parts = (*condition.conditions[:at], changed, *condition.conditions[at + 1:])
                yield says, make(parts)
        return
    if isinstance(condition, Holds):
        yield f"'{speaker().say(condition.rule())}' turned round", NoneOf((condition,))


def _moves(test: Test) -> Iterator[tuple[str, tuple[str, Any]]]:
    """Yield how a test's cut can be moved: a side and by how much, or a word to leave out."""
    cut = test.cut(LawDay(_SOME_DAY))
    if isinstance(cut, Among):
        longest = LONGEST_LIST_OF_COUNTRIES if test.fact.type == "country" else LONGEST_LIST
        for word in sorted(cut.words) if 1 < len(cut.words) <= longest else ():
            yield f"without {word}", ("without", word)
        return
    number = test.fact.type in ("quantity", "money")
    for side in ("low", "high"):
        if getattr(cut, side) is not None:
            named = "" if None in (cut.low, cut.high) else f"{side} "
            for says, by in (NUMBER_MOVES if number else DAY_MOVES).items():
                yield f"{named}{says}", (side, by)


@dataclass(frozen=True)
class Moved(Test):
    """A test whose cut lies a little elsewhere."""

    fact: Fact
    inner: Test
    how: str
    moved: tuple[str, Any]

    @property
    def key(self) -> str:
        return self.inner.key

    @property
    def facts(self) -> tuple[Fact, ...]:
        return self.inner.facts

    def cut(self, day: LawDay) -> Cut:
        cut, (side, by) = self.inner.cut(day), self.moved
        if isinstance(cut, Among):
            return replace(cut, words=cut.words - {by})
        bound = getattr(cut, side)
        low, high = ((bound + by, cut.high) if side == "low" else (cut.low, bound + by))
        return Between(cut.key, low, high)

    def value(self, case: Case, day: LawDay) -> Value:
        return self.inner.value(case, day)

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        return self.inner.earliest(lows, inside, day)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        return self.inner.relation(view, outcome)

    def rule(self) -> Phrase:
        return phrase("{rule}, {how}", rule=self.inner.rule(), how=self.how)
