"""Exact arithmetic with amounts that may be ranges.

Sums, products and hundredths of decimals are exact, so nothing is ever rounded by accident: the
context raises if it would be. Rounding happens in one place, by the rule that a charge states.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager
from decimal import (
    ROUND_DOWN,
    ROUND_HALF_EVEN,
    ROUND_HALF_UP,
    ROUND_UP,
    Context,
    Decimal,
    Inexact,
    localcontext,
)

Range = tuple[Decimal, Decimal | None]
"""The least and the most; None where nothing bounds it from above."""

NOTHING: Range = (Decimal(0), Decimal(0))
ANYTHING: Range = (Decimal(0), None)

_EXACT = Context(prec=400, traps=[Inexact])
_HOW = {"half up": ROUND_HALF_UP, "half even": ROUND_HALF_EVEN, "down": ROUND_DOWN,
        "up": ROUND_UP}


def exactly() -> AbstractContextManager[Context]:
    """Return a context in which a result that had to be rounded is an error."""
    return localcontext(_EXACT)


def plus(parts: Iterable[Range]) -> Range:
    """Return the sum of ranges."""
    least, most = Decimal(0), Decimal(0)
    open_ended = False
    with exactly():
        for low, high in parts:
            least += low
            open_ended = open_ended or high is None
            most += high or 0
    return least, None if open_ended else most


def times(first: Range, second: Range) -> Range:
    """Return the product of ranges of numbers that are not negative; nothing times any is 0."""
    with exactly():
        least = first[0] * second[0]
        if first[1] == 0 or second[1] == 0:
            return least, Decimal(0)
        return least, None if first[1] is None or second[1] is None else first[1] * second[1]


def per_cent(base: Range, rate: Range) -> Range:
    """Return a rate in per cent of a base."""
    with exactly():
        low, high = times(base, rate)
        return low.scaleb(-2), None if high is None else high.scaleb(-2)


def less(base: Range, taken: Range) -> Range:
    """Return what is left of a base when something is taken off, nothing at least."""
    with exactly():
        low = Decimal(0) if taken[1] is None else max(base[0] - taken[1], Decimal(0))
        return low, None if base[1] is None else max(base[1] - taken[0], Decimal(0))


def divided(amount: Range, parts: Decimal) -> Range:
    """Return one of so many equal parts of an amount.

    A quotient that never ends is cut after 400 digits, far below what any rounding rule looks at;
    reading makes sure that what never ends is rounded next.
    """
    with localcontext(Context(prec=400)):
        return amount[0] / parts, None if amount[1] is None else amount[1] / parts


def bounded(amount: Range, least: Decimal | None, most: Decimal | None) -> Range:
    """Return an amount that is `least` at least and `most` at most."""
    low, high = at_least(amount, least)
    if most is None:
        return low, high
    return min(low, most), most if high is None else min(high, most)


def at_least(amount: Range, least: Decimal | None) -> Range:
    """Return an amount that is `least` at least."""
    if least is None:
        return amount
    return max(amount[0], least), None if amount[1] is None else max(amount[1], least)


def any_of(ranges: Iterable[Range]) -> Range:
    """Return the range that holds all of several; nothing at all where there is none."""
    found = list(ranges) or [NOTHING]
    highs = [high for _, high in found if high is not None]
    return min(low for low, _ in found), max(highs) if len(highs) == len(found) else None


def rounded(amount: Range, to: Decimal, how: str) -> Range:
    """Return an amount rounded to a multiple of `to`: half up, half even, down or up."""
    low, high = amount
    return _round(low, to, how), None if high is None else _round(high, to, how)


def _round(amount: Decimal, to: Decimal, how: str) -> Decimal:
    with localcontext(Context(prec=400)):
        whole = amount / to
        return whole.to_integral_value(rounding=_HOW[how]) * to
