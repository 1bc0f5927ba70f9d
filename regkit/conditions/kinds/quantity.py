"""Is a quantity or an amount of money above or below a bound?

    vehicle.engine_capacity: {more than: 48 cc}
    vehicle.gross_weight: {at most: 3500 kg}
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, ClassVar, Self

from regkit.conditions.cut import Between
from regkit.conditions.kinds.kind import (
    COMPARISONS,
    LEAST_STEP,
    NEGATED,
    Kind,
    Misread,
    only_keys,
    schema_of_bounds,
)
from regkit.conditions.truth import NO, Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, phrase
from regkit.model.case import Case
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import MISSING, Value, amount

_AMOUNT = re.compile(r"(-?\d{1,15}(?:\.\d{1,6})?) (\S+)")


@dataclass(frozen=True, slots=True)
class Quantity(Kind):
    """The number is at least, more than, less than or at most a bound in the fact's unit."""

    fact: Fact
    bounds: tuple[tuple[str, Decimal], ...]
    unit: str

    types: ClassVar[tuple[str, ...]] = ("quantity", "money")
    example: ClassVar[str] = "{more than: 48 cc}"
    schema: ClassVar[Mapping[str, Any]] = schema_of_bounds(
        r"^-?\d{1,15}(\.\d{1,6})? \S+$",
        2, "a number with its unit: {more than: 48 cc}")

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        keys = only_keys(written, COMPARISONS)
        if keys is None or fact.type not in cls.types:
            return None
        bounds, unit = [], fact.unit
        for key in (key for key in COMPARISONS if key in keys):
            found = _AMOUNT.fullmatch(str(keys[key]))
            if found is None or (fact.unit and found[2] != fact.unit):
                raise Misread(f"{keys[key]!r} is no amount for {fact.name}; write a number and its "
                              f"unit, such as '48 {fact.unit or 'GBP'}'")
            bounds.append((key, Decimal(found[1])))
            unit = found[2]
        return cls(fact, tuple(bounds), unit)

    @property
    def key(self) -> str:
        """The fact; of money, the fact in the currency of the rule, see `value`."""
        name = self.fact.name
        return f"{name} in {self.unit}" if self.fact.type == "money" else name

    def value(self, case: Case, day: LawDay) -> Value:
        """Return the amount; money in another currency than the rule's counts as not known."""
        value = case.value(self.fact.name)
        return value if value.unit in ("", self.unit) else replace(MISSING, written=value.written)

    def cut(self, day: LawDay) -> Between:
        low: list[Decimal] = []
        high: list[Decimal] = []
        for key, bound in self.bounds:
            number = bound + LEAST_STEP if key in ("more than", "at most") else bound
            (low if key in ("at least", "more than") else high).append(number)
        return Between(self.key, max(low, default=None), min(high, default=None))

    def rule(self) -> Phrase:
        return phrase("{label} {bounds}", label=self.fact.label, bounds=self._say(False))

    def relation(self, view: View, outcome: Truth) -> Phrase:
        if outcome == NO and len(self.bounds) > 1:
            return phrase("not {bounds}", bounds=self._say(False))
        return self._say(outcome == NO)

    def _say(self, negated: bool) -> Phrase:
        parts = tuple(
            phrase("{comparison} {amount}", comparison=phrase(NEGATED[key] if negated else key),
                   amount=amount(bound, bound, self.unit))
            for key, bound in self.bounds)
        return phrase("{parts}", parts=parts)
