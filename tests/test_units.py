"""Amounts with units: exact, and refused where they are none.

Sources: SI brochure, 9th edition (2019); international yard and pound agreement (1959); DIN 66036.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from regkit.language import Text
from regkit.model.facts import Fact
from regkit.read.units import read_money, read_quantity

numbers = st.decimals(0, 10**9, places=3, allow_nan=False)


def fact(unit: str) -> Fact:
    """Return a quantity fact in a unit."""
    return Fact("a.b", "quantity", Text.of("?"), Text.of("b"), unit=unit)


@pytest.mark.parametrize(("unit", "written", "expected"), [
    ("cc", "1.5 l", "1500"), ("cc", "250", "250"), ("cc", "250cc", "250"), ("cc", "250 cm3", "250"),
    ("kg", "3.5 t", "3500"), ("kg", "100 lb", "45.359237"),
    ("km", "10 miles", "16.09344"), ("km", "1 mile", "1.609344"),
    ("kW", "100 PS", "73.549875"), ("kW", "4000 W", "4"),
    ("months", "2 years", "24"), ("%", "20 %", "20"),
])
def test_units_convert_by_their_definition(unit: str, written: str, expected: str) -> None:
    """The pound is 0.45359237 kg, the mile 1,609.344 m, the metric horsepower 735.49875 W."""
    value = read_quantity(written, fact(unit))

    assert value.low == value.high == Decimal(expected)
    assert value.unit == unit and value.written == written


@settings(max_examples=200, deadline=None)
@given(numbers, st.sampled_from([("kg", "lb", Fraction(45359237, 10**8)),
                                 ("km", "miles", Fraction(1609344, 10**6)),
                                 ("kW", "PS", Fraction(73549875, 10**8)),
                                 ("cc", "l", Fraction(1000))]))
def test_conversion_is_exact(number: Decimal, units: tuple[str, str, Fraction]) -> None:
    """Never a rounded binary fraction: as exact as Python's fractions."""
    own, foreign, factor = units

    converted = read_quantity(f"{number} {foreign}", fact(own)).low

    assert Fraction(converted) == Fraction(number) * factor


@settings(max_examples=100, deadline=None)
@given(numbers)
def test_money_is_kept_to_the_last_digit(number: Decimal) -> None:
    """Amount and currency as written."""
    value = read_money(f"{number} GBP")

    assert (value.low, value.high, value.unit) == (number, number, "GBP")


@pytest.mark.parametrize("written", [
    "1,5 kg", "1.500,00 kg", "1 000 kg", "kg 1", "1e3 kg", "", " ", "٣ kg", "0x10 kg", "1 kg kg",
    "9" * 16 + " kg", "-1 kg", True, None, [], "1 mile", "1 KG",
])
def test_what_is_no_amount_is_refused_with_what_would_be_right(written: object) -> None:
    """The message always shows how to write it."""
    with pytest.raises(ValueError, match="write"):
        read_quantity(written, fact("kg"))
