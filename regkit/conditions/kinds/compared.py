"""Is one quantity, or one amount of money, above or below another?

    gb.yearly_tax_after: {more than: gb.yearly_tax_before}
    vehicle.unladen_weight: {at most: vehicle.gross_weight}

Both must be in one unit. Amounts of money in two currencies cannot be compared, which leaves the
test undecided.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
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
from regkit.model.values import MISSING, Bound, Value

_NAME = re.compile(r"[a-z_]+(\.[a-z_0-9]+)+")


@dataclass(frozen=True, slots=True)
class Compared(Kind):
    """The number is at least, more than, less than or at most that of another fact."""

    fact: Fact
    comparison: str
    other: Fact

    types: ClassVar[tuple[str, ...]] = ("quantity", "money")
    example: ClassVar[str] = "{more than: another.fact}"
    schema: ClassVar[Mapping[str, Any]] = schema_of_bounds(
        r"^[a-z_]+(\.[a-z_0-9]+)+$",
        1, "above or below another fact: {more than: gb.yearly_tax_before}")

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        keys = only_keys(written, COMPARISONS)
        if keys is None or len(keys) != 1 or fact.type not in cls.types:
            return None
        (comparison, name), = keys.items()
        if not _NAME.fullmatch(str(name)):
            return None
        other = vocabulary.get(str(name))
        if other is None or (other.type, other.unit) != (fact.type, fact.unit):
            raise Misread(f"{fact.name} cannot be compared with {name!r}; name another fact of the "
                          f"type {fact.type}{f' in {fact.unit}' if fact.unit else ''}")
        return cls(fact, comparison, other)

    @property
    def key(self) -> str:
        """The derived quantity: by how much the one exceeds the other."""
        return f"{self.fact.name} less {self.other.name}"

    @property
    def facts(self) -> tuple[Fact, ...]:
        return (self.fact, self.other)

    def cut(self, day: LawDay) -> Between:
        nothing = Decimal(0)
        bounds = {"at least": (nothing, None), "more than": (LEAST_STEP, None),
                  "less than": (None, nothing), "at most": (None, LEAST_STEP)}
        return Between(self.key, *bounds[self.comparison])

    def value(self, case: Case, day: LawDay) -> Value:
        """Return by how much the one may exceed the other."""
        one, other = (case.value(fact.name) for fact in self.facts)
        if one.unit and other.unit and one.unit != other.unit:
            return MISSING
        return Value(
            low=_apart(_low(one), other.high), high=-_apart(_low(other), one.high),
            written=f"{one.written} less {other.written}" if one.told and other.told else "",
        )

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        """Return for both facts the least numbers at which the difference can lie inside."""
        one, other = (lows[fact.name] for fact in self.facts)
        if isinstance(inside[0], Decimal):
            one = max(one, other + inside[0])
        if isinstance(inside[1], Decimal):
            other = max(other, one - inside[1])
        return {self.fact.name: one, self.other.name: other}

    def rule(self) -> Phrase:
        return phrase("{label} {comparison} {other}", label=self.fact.label,
                      comparison=phrase(self.comparison), other=self.other.label)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        comparison = NEGATED[self.comparison] if outcome == NO else self.comparison
        return phrase("{comparison} {other} ({value})", comparison=phrase(comparison),
                      other=self.other.label, value=view.case.value(self.other.name).said())


def _low(value: Value) -> Decimal:
    """Return the least a quantity may be: never less than nothing."""
    return value.low if isinstance(value.low, Decimal) else Decimal(0)


def _apart(one: Decimal, other: Bound) -> Bound:
    """Return the one less the other, which may have no upper end."""
    return one - other if isinstance(other, Decimal) else float("-inf")
