"""Three values and their tables: Kleene's strong logic, nothing else.

The numbers are chosen so that `&` is 'all' and `|` is 'any' on them, which also puts them in
order: no, undecided, yes. Source: S. C. Kleene, Introduction to Metamathematics (1952), section 64.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum


class Truth(IntEnum):
    """Whether something holds: no, undecided or yes."""

    NO = 0
    UNDECIDED = 1
    YES = 3

    @property
    def word(self) -> str:
        """`no`, `undecided` or `yes`."""
        return self.name.lower()


NO, UNDECIDED, YES = Truth.NO, Truth.UNDECIDED, Truth.YES

OPPOSITE = (YES, UNDECIDED, YES, NO)
"""The opposite of each value, indexed by its number (2 is not a value)."""


def every(values: Iterable[Truth]) -> Truth:
    """Return yes if all are yes, no if one is no, else undecided. Of nothing: yes."""
    return min(values, default=YES)


def some(values: Iterable[Truth]) -> Truth:
    """Return yes if one is yes, no if all are no, else undecided. Of nothing: no."""
    return max(values, default=NO)


def opposite(value: Truth) -> Truth:
    """Return no for yes, yes for no, undecided for undecided."""
    return OPPOSITE[value]


def agreed(values: Iterable[Truth]) -> Truth:
    """Return the value all share; undecided where they differ or there is none."""
    found = set(values)
    return found.pop() if len(found) == 1 else UNDECIDED
