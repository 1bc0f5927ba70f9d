"""How much a charge is: one figure of it, and how an amount is rounded."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from regkit.model.calendar import Period

if TYPE_CHECKING:
    from regkit.conditions import Condition


@dataclass(frozen=True, slots=True)
class Figure:
    """How much: one of an amount, a rate of something, a sum, or a charge for lateness.

    Attributes:
        form: `amount`, `rate`, `sum`, `per day` or `lateness table`.
        number: the amount, the daily amount, or the rate in per cent.
        rate_fact: the quantity fact in per cent that is the rate, instead of a number.
        of: facts and charges whose sum is the base; for lateness, the requirement.
        most_days: the days at most that count.
        least: the least amount.
        steps: (how late at most, rate in per cent) for a lateness table; None is any lateness.
        when: the condition of this figure among several; None for always.
    """

    form: str
    number: Decimal = Decimal(0)
    rate_fact: str = ""
    of: tuple[str, ...] = ()
    most_days: int | None = None
    least: Decimal | None = None
    steps: tuple[tuple[Period | None, Decimal], ...] = ()
    when: Condition | None = None


@dataclass(frozen=True, slots=True)
class Rounding:
    """To which multiple an amount is rounded, and how: half up, half even, down or up."""

    to: Decimal
    how: str
    sources: tuple[str, ...] = ()
