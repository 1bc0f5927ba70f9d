"""Two sides that differ in which day completes a year where there is no 29 February.

How long ago a date is shows in the cuts themselves, on 28 February and 1 March alone. What lies
between two dates is one variable of the diagrams, reckoned by the rule of the new side; the old
side puts it a day more or less where the earlier date is a 29 February without an anniversary,
which is a variable of its own.
"""

from __future__ import annotations

from bisect import bisect_left
from calendar import isleap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from regkit.conditions import Test
from regkit.conditions.cells import Cells
from regkit.conditions.cut import Between
from regkit.conditions.diagram import Node
from regkit.conditions.kinds.elapsed import Elapsed
from regkit.conditions.truth import Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, phrase
from regkit.model.calendar import LeapDay, Period
from regkit.model.facts import Fact
from regkit.model.values import Bound

NO_ANNIVERSARY = "without an anniversary"


def turning_days(first: date, last: date) -> Iterator[date]:
    """Yield the days of a span on which the two rules may differ in how long ago a date is."""
    for year in range(first.year, last.year + 1):
        # A year from 29 February is complete on one of these; more than a year ago begins a day on.
        yield from (day for day in (date(year, 2, 28), date(year, 3, 1)) if first <= day <= last)


def follows_leap_day(test: Test) -> bool:
    """Return whether what lies between two dates depends on the rule for 29 February."""
    return isinstance(test, Elapsed) and bool(without_anniversary(test.length))


@dataclass(frozen=True, slots=True)
class NoAnniversary(Test):
    """The date is a 29 February, and after the period there is none. Asked of nobody's case."""

    fact: Fact
    length: Period

    @property
    def key(self) -> str:
        """The date, the period and that it has no anniversary."""
        length = self.length.canonical()
        return f"{self.fact.name} + {length.count} {length.unit} {NO_ANNIVERSARY}"

    def cut(self, day: LawDay) -> Between:
        return Between(self.key, 1, None)

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        """Return the next such day, or the next day that is not one."""
        start, without = lows[self.fact.name], without_anniversary(self.length)
        at = bisect_left(without, start)
        if inside[0] == 1:
            start = without[at] if at < len(without) else date.max.toordinal() + 1
        elif at < len(without) and without[at] == start:
            start += 1
        return {self.fact.name: start}

    def rule(self) -> Phrase:
        return phrase("{label} on a 29 February that has no anniversary after {length}",
                      label=self.fact.label, length=self.length)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        return self.rule()


@dataclass(frozen=True)
class OldCells(Cells):
    """Draws by the old side's rule what lies between two dates, in terms of the new side's.

    Attributes:
        rule: that of the new side; by default the law's own.
    """

    rule: LeapDay | None = field(kw_only=True, default=None)

    def test(self, test: Test) -> Node:
        own, plain = self.view.day.leap_day, super().test(test)
        if self.rule in (None, own) or not follows_leap_day(test):
            return plain
        assert isinstance(test, Elapsed)
        cut, more = test.cut(self.view.day), 1 if own == "28 February" else -1
        low, high = (None if bound is None else bound - more for bound in (cut.low, cut.high))
        return self.diagrams.choose(
            super().test(NoAnniversary(test.start, test.length)),
            self.cut(test, Between(cut.key, low, high)), plain)


@lru_cache(maxsize=512)
def without_anniversary(length: Period) -> tuple[int, ...]:
    """Return every 29 February after whose period there is none."""
    found = []
    for year in range(4, date.max.year, 4):
        born = date(year, 2, 29) if isleap(year) else None
        try:
            if born and length.after(born, "28 February") != length.after(born, "1 March"):
                found.append(born.toordinal())
        except OverflowError:
            break
    return tuple(found)
