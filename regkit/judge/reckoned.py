"""What reckoning a charge comes to, what is met on the way, and how it is rounded and said."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from regkit.conditions.truth import Truth
from regkit.judge.amounts import Range, rounded
from regkit.language import Money, Phrase, phrase, plural
from regkit.model.bill import Amount, smallest_unit
from regkit.model.deadline import DaysLate
from regkit.model.facts import Vocabulary
from regkit.model.figure import Figure
from regkit.model.ruleset import Charge
from regkit.model.values import Value


@dataclass(frozen=True)
class Reckoned:
    """What a charge comes to.

    Attributes:
        edition: the edition it was reckoned by; None where no edition can count.
        due: whether its own conditions make it due.
        bases: the charges it was reckoned from.
    """

    amount: Amount
    edition: Charge | None
    due: Truth
    how: tuple[Phrase, ...]
    because: Phrase | None = None
    needs: tuple[Phrase, ...] = ()
    bases: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    rounding: Phrase | None = None


@dataclass
class Notes:
    """What is met on the way: what must be known, what was used."""

    needs: dict[Phrase, None] = field(default_factory=dict)
    bases: dict[str, None] = field(default_factory=dict)
    sources: dict[str, None] = field(default_factory=dict)
    because: list[Phrase] = field(default_factory=list)
    how: list[Phrase] = field(default_factory=list)


def range_of(value: Value) -> Range:
    """Return what an amount or quantity may be."""
    low = value.low if isinstance(value.low, Decimal) else Decimal(0)
    return low, value.high if isinstance(value.high, Decimal) else None


def rounded_by_rule(
    amount: Range, edition: Charge | None, currency: str
) -> tuple[Range, Phrase | None]:
    """Round by the charge's own rule, else what is paid to the smallest unit, which is said."""
    if edition is None or (edition.rounding is None and not edition.payable):
        return amount, None
    if edition.rounding is not None:
        to, how = edition.rounding.to, edition.rounding.how
        template = "rounded {how} to {to}"
    else:
        to, how = smallest_unit(currency), "half up"
        template = "rounded {how} to {to}; no source states a rule"
    result = rounded(amount, to, how)
    if result == amount:
        return result, None
    return result, phrase(template, how=phrase(how), to=to)


def late_words(
    figure: Figure, late: DaysLate, currency: str, vocabulary: Vocabulary
) -> Phrase:
    """Return how a charge for lateness comes about."""
    if figure.form == "lateness table":
        said = phrase("a share that grows with lateness, {days}", days=late)
    elif figure.form == "lateness amounts":
        said = phrase("an amount that grows with lateness, {days}", days=late)
    else:
        daily = phrase("{rate} %", rate=figure.number) if figure.form == "daily rate" else phrase(
            "{money}", money=Money(figure.number, currency))
        said = phrase("{daily} a day, {days}", daily=daily, days=late)
    if figure.since:
        said = phrase("{said}, counted from: {event}", said=said,
                      event=vocabulary[figure.since].label)
    if figure.least is not None and figure.most_days is not None:
        return plural("{said}, {least} at least, for {count} day at most",
                      "{said}, {least} at least, for {count} days at most",
                      count=figure.most_days, said=said, least=Money(figure.least, currency))
    return said
