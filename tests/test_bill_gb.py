"""Great Britain's charges against what law and authorities state; sources as in its ruleset."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

import regkit
from regkit.model.bill import Bill, total
from tests.quillby import line


def british(on: str, **facts: Any) -> Bill:
    told = {"vehicle.place": "abroad", "vehicle.kind": "car", "arrival.from": "US",
            "vehicle.first_registered_here": "never", "arrival.purpose": "stay",
            "use.on_road": "yes", "customs.relief": "none", "arrival.date": on,
            "purchase.price": "18500 GBP", "purchase.transport": "1300 GBP",
            "purchase.insurance": "200 GBP", "purchase.other_costs": "0 GBP",
            **{name.replace("__", "."): value for name, value in facts.items()}}
    rules = regkit.load("GB")
    read = regkit.read_case({"jurisdiction": "GB", "facts": told}, rules)
    return regkit.assess(read, rules, date.fromisoformat(on)).bills[0]


@pytest.mark.parametrize(("on", "base", "tax"), [
    # Finance Act 1995, section 22: 14.29 %, with VAT at 17.5 % about 2.5 % of the whole.
    ("1998-06-01", "2858 GBP", "500.15 GBP"),
    # Finance Act 1999, section 12: 28.58 %, about 5 %.
    ("2005-06-01", "5716 GBP", "1000.30 GBP"),
    # HMRC manual IMPS05200: 25 %, with VAT at 20 % exactly 5 %.
    ("2026-03-01", "5000 GBP", "1000 GBP"),
])
def test_collectors_pieces_bear_vat_on_a_share_of_their_value(
    on: str, base: str, tax: str
) -> None:
    found = british(on, customs__heading="collectors")

    assert line(found, "customs-duty").amount.written == "0 GBP"
    assert line(found, "import-vat-base").amount.written == base
    assert line(found, "import-vat").amount.written == tax


def test_an_ordinary_car_bears_duty_and_vat_on_value_and_duty() -> None:
    """GOV.UK, paying VAT and duty; duty of 10 % by decision C00210: 2,000 + 4,400 = 6,400."""
    found = british("2026-03-01", customs__heading="ordinary", customs__duty_rate="10 %")
    border = [line(found, charge).amount for charge in ("customs-duty", "import-vat")]

    assert [amount.written for amount in border] == ["2000 GBP", "4400 GBP"]
    assert total(border)[0].written == "6400 GBP"


@pytest.mark.parametrize(("on", "fee"), [
    ("2003-12-31", "25 GBP"), ("2004-01-01", "38 GBP"), ("2007-04-30", "38 GBP"),
    ("2007-05-01", "50 GBP"), ("2026-03-01", "55 GBP"),
])
def test_the_fee_for_first_registration_by_its_day(on: str, fee: str) -> None:
    """SI 2002/2742, regulation 10, and SI 2007/1018; earlier days second-hand."""
    assert line(british(on), "first-registration-fee").amount.written == fee
