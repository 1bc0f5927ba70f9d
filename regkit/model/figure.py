"""How much a charge is: one figure of it, and how an amount is rounded."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from regkit.language import Phrase, phrase
from regkit.model.calendar import Period
from regkit.model.quantities import quantity

if TYPE_CHECKING:
    from regkit.conditions import Condition
    from regkit.model.facts import Vocabulary

LATE_FORMS = ("per day", "daily rate", "lateness table", "lateness amounts")
"""The forms of figure that say what lateness costs."""


_EACH = {
    "started": "{what} for each {step} begun of {label}",
    "full": "{what} for each full {step} of {label}",
    "in proportion": "{what} for each {step} of {label}",
}


@dataclass(frozen=True, slots=True)
class ForEach:
    """What a figure counts once for each of: 25 cc begun of the engine, a day of the season.

    Attributes:
        step: the size of one step, in the unit of the fact.
        of: the quantity fact that is measured; or two facts, the first and last month of a season
            whose days are counted.
        counts: `started` counts a step begun as a whole one, `full` leaves it out, `in
            proportion` counts the part that is there.
        beyond, up_to: only what lies above the one and below the other counts; None is no bound.
    """

    step: Decimal
    of: tuple[str, ...]
    counts: Literal["started", "full", "in proportion"]
    beyond: Decimal | None = None
    up_to: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """How much: one of an amount, a rate of something, a sum, or a charge for lateness.

    Attributes:
        form: `amount`, `rate`, `sum`, `not known`, or one of `LATE_FORMS`.
        number: the amount, the daily amount or rate, or the rate in per cent.
        parts: the rate is `number` of so many parts: 100 for per cent, 365 in 1/365.
        rate_fact: the quantity fact in per cent that is the rate, instead of a number.
        of: facts and charges whose sum is the base; of a daily amount, the requirement.
        less: facts and charges that are taken off the base, to nothing at least.
        each: what it counts once for each of; None counts it once.
        since: the date fact from which the days of lateness count; empty for the last day.
        most_days: the days at most that count.
        least, most: the least and the greatest amount.
        steps: (how late at most, rate in per cent or amount) for a table of lateness; None is
            any lateness.
        when: the condition of this figure among several; None for always.
    """

    form: str
    number: Decimal = Decimal(0)
    parts: int = 100
    rate_fact: str = ""
    of: tuple[str, ...] = ()
    less: tuple[str, ...] = ()
    each: ForEach | None = None
    since: str = ""
    most_days: int | None = None
    least: Decimal | None = None
    most: Decimal | None = None
    steps: tuple[tuple[Period | None, Decimal], ...] = ()
    when: Condition | None = None

    @property
    def facts(self) -> tuple[str, ...]:
        """The facts it looks at beside its condition, and the charges it is reckoned from."""
        named = (*self.of, *self.less, self.rate_fact, *(self.each.of if self.each else ()),
                 self.since)
        return tuple(name for name in named if name)


def say_each(what: Phrase, each: ForEach, vocabulary: Vocabulary) -> Phrase:
    """Return the words for an amount and what it counts for each of."""
    facts, unit = [vocabulary[name] for name in each.of], unit_of(each, vocabulary)
    label = phrase("{label}", label=facts[0].label) if len(facts) == 1 else phrase(
        "{first} to {last}", first=facts[0].label, last=facts[1].label)
    said = phrase(_EACH[each.counts], what=what, step=quantity(each.step, unit), label=label)
    if each.beyond is not None:
        said = phrase("{said} beyond {bound}", said=said, bound=quantity(each.beyond, unit))
    if each.up_to is not None:
        said = phrase("{said} up to {bound}", said=said, bound=quantity(each.up_to, unit))
    return said


def unit_of(each: ForEach, vocabulary: Vocabulary) -> str:
    """Return the unit of what is counted: that of the quantity, of a season days."""
    return vocabulary[each.of[0]].unit if len(each.of) == 1 else "days"


def say_rate(figure: Figure) -> Phrase:
    """Return the words for a rate of so many hundredths or other parts: 20 %, 1/365."""
    if figure.parts == 100:
        return phrase("{rate} %", rate=figure.number)
    return phrase("{number}/{parts}", number=figure.number, parts=figure.parts)


@dataclass(frozen=True, slots=True)
class Rounding:
    """To which multiple an amount is rounded, and how: half up, half even, down or up."""

    to: Decimal
    how: str
    sources: tuple[str, ...] = ()
