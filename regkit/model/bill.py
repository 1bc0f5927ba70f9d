"""The bill: what one route costs, line by line. Frozen values; `judge.bill` makes them.

Amounts are exact decimals in one currency (ISO 4217). Where a fact is open, an amount is a range;
where nothing bounds it from above, `most` is None and the line says what must be known.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from regkit.language import Money, Phrase, Text, phrase
from regkit.model.assessment import Outcome
from regkit.model.ruleset import Source

# Decimal places of the smallest unit where they are not two. Source: ISO 4217, list one.
_PLACES = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    3: "BHD IQD JOD KWD LYD OMR TND",
    4: "CLF UYW",
}
_PLACES_OF = {code: places for places, codes in _PLACES.items() for code in codes.split()}


def smallest_unit(currency: str) -> Decimal:
    """Return the smallest unit of a currency, such as 0.01 for GBP (ISO 4217)."""
    return Decimal(1).scaleb(-_PLACES_OF.get(currency, 2))


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of money, or the range it lies in."""

    least: Decimal
    most: Decimal | None
    currency: str

    @property
    def exact(self) -> bool:
        """Whether there is exactly one amount."""
        return self.least == self.most

    @property
    def written(self) -> str:
        """The amount as worked examples write it: 55 GBP, 7.50 to 9 GBP, 210 GBP or more."""
        least = _plain(self.least, self.currency)
        if self.most is None:
            return f"{least} {self.currency} or more"
        upper = "" if self.exact else f" to {_plain(self.most, self.currency)}"
        return f"{least}{upper} {self.currency}"

    def said(self) -> Phrase:
        """Return the words for this amount."""
        least = Money(self.least, self.currency)
        if self.exact:
            return phrase("{amount}", amount=least)
        if self.most is None:
            if not self.least:
                return phrase("not known")
            return phrase("at least {least}", least=least)
        return phrase("{least} to {most}", least=least, most=Money(self.most, self.currency))


@dataclass(frozen=True)
class Line:
    """One line of a bill.

    Attributes:
        payable: whether it is paid; else it is only a base of other lines.
        certain: whether it is due for certain; else it may be.
        requirement: the requirement it belongs to; empty for a base.
        how: how the amount comes about; several where more than one figure may count.
        because: why this figure counts and not another; None where there is only one.
        needs: what must be known before the amount is exact.
        due_if: what must be known before it is certain to be due.
        rounding: how it was rounded, if that changed it.
    """

    charge: str
    title: Text
    amount: Amount
    payable: bool
    certain: bool
    how: tuple[Phrase, ...]
    sources: tuple[Source, ...]
    requirement: str = ""
    paid_to: Text | None = None
    because: Phrase | None = None
    needs: tuple[Phrase, ...] = ()
    due_if: tuple[Phrase, ...] = ()
    rounding: Phrase | None = None
    questions: tuple[str, ...] = ()

    @property
    def counted(self) -> Amount:
        """What it adds to the total: nothing at least while it is not certain to be due."""
        least = self.amount.least if self.certain else Decimal(0)
        return Amount(least, self.amount.most, self.amount.currency)


@dataclass(frozen=True)
class Bill:
    """What one route costs.

    Attributes:
        route: the identifier of the route; empty for the case as it is told.
        as_told: whether the case itself tells this route.
        open: whether the route is open to the vehicle and its keeper.
        why: why it is open, or not, in one sentence.
        lines: bases come before what is reckoned from them.
        sources: of the route itself.
    """

    route: str
    title: Text | None
    as_told: bool
    open: Outcome
    lines: tuple[Line, ...]
    why: Phrase | None = None
    sources: tuple[Source, ...] = ()

    @property
    def totals(self) -> tuple[Amount, ...]:
        """The sum of the payable lines, one for each currency, exactly."""
        return total(line.counted for line in self.lines if line.payable)

    def line(self, charge: str) -> Line | None:
        """Return the line of a charge, None if it is not on the bill."""
        return next((line for line in self.lines if line.charge == charge), None)


def as_written(text: str) -> str:
    """Return an amount somebody wrote in the wording of `Amount.written`: 7.5 GBP as 7.50 GBP.

    >>> as_written("7.5 to 9.00 GBP")
    '7.50 to 9 GBP'
    """
    currency = next(iter(re.findall(r"\b[A-Z]{3}\b", text)), "")
    return re.sub(r"\d+(?:\.\d+)?", lambda found: _plain(Decimal(found[0]), currency), text)


def _plain(number: Decimal, currency: str) -> str:
    """Return a whole amount without places, any other with those of its currency or more."""
    shortest, unit = number.normalize(), smallest_unit(currency)
    if shortest == shortest.to_integral_value() or shortest % unit:
        return f"{shortest:f}"
    return f"{shortest.quantize(unit):f}"


def total(amounts: Iterable[Amount]) -> tuple[Amount, ...]:
    """Return the sum of amounts, one for each currency, in alphabetical order of their codes."""
    sums: dict[str, Amount] = {}
    for amount in amounts:
        so_far = sums.get(amount.currency, Amount(Decimal(0), Decimal(0), amount.currency))
        most = (None if so_far.most is None or amount.most is None
                else so_far.most + amount.most)
        sums[amount.currency] = Amount(so_far.least + amount.least, most, amount.currency)
    return tuple(sums[currency] for currency in sorted(sums))
