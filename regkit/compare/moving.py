"""On which days cuts pass what a case tells: the only days on which an answer can change by itself.

The bounds of a cut never decrease as the day moves on. So the day on which a bound passes a value,
or two bounds pass each other, is found by halving the span, not by trying every day.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import lru_cache

from regkit.conditions import Between, Test
from regkit.conditions.view import LawDay
from regkit.model.calendar import LeapDay
from regkit.model.values import Bound, Value

BoundOn = Callable[[int], Bound]
"""Where a bound of a cut lies on a day, given as an ordinal; it never decreases."""

CLOSE = 3
"""Bounds are whole days and cuts are half-open, so 'just before' and 'just after' differ by one."""


def bounds(test: Test, leap_day: LeapDay) -> tuple[BoundOn, ...]:
    """Return the bounds of a test's cut as functions of the day; none for a cut into words."""
    if not isinstance(test.cut(LawDay(date(2000, 1, 1), leap_day)), Between):
        return ()

    def side(name: str) -> BoundOn:
        @lru_cache(maxsize=4096)
        def bound(day: int) -> Bound:
            found = getattr(test.cut(LawDay(date.fromordinal(day), leap_day)), name)
            return float("-inf" if name == "low" else "inf") if found is None else found

        return bound

    return side("low"), side("high")


def passing_days(
    bound: BoundOn, values: Iterable[Bound], first: int, last: int
) -> Iterator[int]:
    """Yield each day after `first`, up to `last`, on which a bound comes to lie above a value."""
    lowest, highest = bound(first), bound(last)
    for value in values:
        if not lowest <= value < highest:
            continue
        low, high = first, last
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if bound(middle) > value else (middle, high)
        yield high


def crossing_days(one: BoundOn, other: BoundOn, first: int, last: int) -> Iterator[int]:
    """Yield each day after `first`, up to `last`, on which two bounds come to lie otherwise.

    What counts is which is later, and by how many days if they are close.
    """
    if one(first) > other(last) + CLOSE or one(last) + CLOSE < other(first):
        return
    if one(first) == one(last) and other(first) == other(last):
        return
    if last - first == 1:
        if _apart(one(first), other(first)) != _apart(one(last), other(last)):
            yield last
        return
    middle = (first + last) // 2
    yield from crossing_days(one, other, first, middle)
    yield from crossing_days(one, other, middle, last)


def moves(bound: BoundOn, first: int, last: int) -> bool:
    """Return whether a bound is elsewhere at the end of a span than at its start."""
    return bool(bound(first) != bound(last))


def ends(value: Value) -> tuple[Bound, ...]:
    """Return the least and the most a value may be, where they are bounded."""
    return tuple(end for end in (value.low, value.high) if abs(end) != float("inf"))


def shifted(bound: BoundOn, test: Test, leap_day: LeapDay) -> Iterator[BoundOn]:
    """Yield a bound as it looks from the other end of a quantity derived from two events."""
    names = [fact.name for fact in test.facts]
    for start in names:
        def reached(day: int, start: str = start) -> Bound:
            law_day = LawDay(date.fromordinal(day), leap_day)
            lows = {name: bound(day) if name == start else float("-inf") for name in names}
            (end,) = (name for name in names if name != start)
            return test.earliest(lows, (0, float("inf")), law_day)[end]

        yield lru_cache(maxsize=4096)(reached)


def _apart(one: Bound, other: Bound) -> Bound:
    if one == other:
        return 0
    return max(-CLOSE, min(CLOSE, one - other))
