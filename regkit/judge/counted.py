"""How often a figure counts: steps begun, full steps, or what is there in proportion."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from regkit.judge.amounts import Range
from regkit.judge.reckoned import range_of
from regkit.language import Phrase, phrase, plural
from regkit.model.case import Case
from regkit.model.facts import Vocabulary
from regkit.model.figure import ForEach, say_each, unit_of
from regkit.model.quantities import quantity
from regkit.model.season import days_in, seasons
from regkit.model.values import amount


def measured(each: ForEach, case: Case) -> Range:
    """Return the part of a quantity that counts, or the days of a season."""
    if len(each.of) == 1:
        low, high = range_of(case.value(each.of[0]))
    else:
        lengths = [Decimal(days_in(season)) for season in seasons(*map(case.value, each.of))]
        low, high = min(lengths), max(lengths)
    return _within(low, each), None if high is None else _within(high, each)


def times_counted(each: ForEach, there: Range) -> tuple[Range, Decimal]:
    """Return how often a figure counts for what is there: a number, and what to divide it by."""
    if each.counts == "in proportion":
        return there, each.step
    low, high = there
    return (_steps(low, each), None if high is None else _steps(high, each)), Decimal(1)


def say_counted(what: Phrase, each: ForEach, there: Range, vocabulary: Vocabulary) -> Phrase:
    """Return the words for how an amount comes about, with what the case has of it."""
    said, unit = say_each(what, each, vocabulary), unit_of(each, vocabulary)
    low, high = there
    if low != high:
        return said if high is None else phrase("{said}: {value}", said=said,
                                                value=amount(low, high, unit))
    if each.counts == "in proportion":
        return phrase("{said}: {value}", said=said, value=quantity(low, unit))
    return plural("{said}: {value}, so {count} time", "{said}: {value}, so {count} times",
                  count=_steps(low, each), said=said, value=quantity(low, unit))


def _within(there: Decimal, each: ForEach) -> Decimal:
    if each.up_to is not None:
        there = min(there, each.up_to)
    return max(there - (each.beyond or 0), Decimal(0))


def _steps(there: Decimal, each: ForEach) -> Decimal:
    how = ROUND_CEILING if each.counts == "started" else ROUND_FLOOR
    return (there / each.step).to_integral_value(rounding=how)
