"""Amounts: exact arithmetic, rounding as rules state it, the smallest units of currencies."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from babel.numbers import get_currency_precision
from hypothesis import given
from hypothesis import strategies as st

from regkit.judge.amounts import per_cent, plus, rounded, times
from regkit.model.bill import Amount, smallest_unit, total
from regkit.read.currencies import CURRENCIES


def test_the_smallest_units_are_those_babel_knows() -> None:
    """Places after the point by ISO 4217, against the Unicode CLDR's copy of the list.

    CLDR differs by design where coins are out of use (its 'digits' follow use, not the standard).
    """
    from_cldr = {code: Decimal(1).scaleb(-get_currency_precision(code)) for code in CURRENCIES}
    differing = {code for code in CURRENCIES if smallest_unit(code) != from_cldr[code]}

    assert {"GBP", "EUR", "JPY", "KWD", "ISK", "CHF", "SEK"}.isdisjoint(differing)
    assert all(smallest_unit(code) < from_cldr[code] or from_cldr[code] < 1 for code in differing)


@given(st.lists(st.tuples(st.decimals(0, 10**15, places=6), st.decimals(0, 10**6, places=6)),
                max_size=8))
def test_arithmetic_is_exact(pairs: list[tuple[Decimal, Decimal]]) -> None:
    """Sums and shares agree with fractions, which round nothing."""
    low, high = plus([per_cent((base, base), (rate, rate)) for base, rate in pairs])

    assert high == low
    assert Fraction(low) == sum(Fraction(base) * Fraction(rate) / 100 for base, rate in pairs)


def test_nothing_times_anything_unknown_is_nothing() -> None:
    nothing, unknown = (Decimal(0), Decimal(0)), (Decimal(0), None)

    assert times(nothing, unknown) == nothing


@pytest.mark.parametrize(("amount", "to", "how", "result"), [
    ("191.73", "1", "down", "191"),       # KraftStG § 11(5): whole euros, down
    ("1369", "10", "up", "1370"),         # Danish registration tax: tens, up
    ("0.125", "0.01", "half up", "0.13"),
    ("0.125", "0.01", "half even", "0.12"),
    ("7.00", "0.05", "half up", "7.00"),
])
def test_rounding_as_rules_state_it(amount: str, to: str, how: str, result: str) -> None:
    exact = Decimal(amount)

    assert rounded((exact, exact), Decimal(to), how)[0] == Decimal(result)


def test_currencies_are_totalled_apart() -> None:
    found = total([Amount(Decimal(1), Decimal(1), "GBP"), Amount(Decimal(2), None, "EUR"),
                   Amount(Decimal(3), Decimal(3), "GBP")])

    assert [amount.written for amount in found] == ["2 EUR or more", "4 GBP"]
