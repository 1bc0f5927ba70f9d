"""Charges, exact to the penny: rates, bases, cases, editions, ranges, currencies, routes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import regkit
from regkit.conditions import NoneOf
from regkit.keep.examples import example_case
from regkit.language import speaker
from regkit.model.assessment import Outcome
from regkit.model.bill import Amount, Bill
from regkit.show.bill_text import bill_lines
from tests.quillby import ON, RULES, assessed, case, line, say, wrong

LETTER = {"evidence": "dating-letter"}
PRICE = {"purchase.price": "1000 XTS", "purchase.transport": "200 XTS", "qb.duty_rate": "6 %",
         "customs.heading": "ordinary", "arrival.means": "driven",
         "vehicle.engine_capacity": "247 cc"}


def bill(facts: Mapping[str, Any] | None = None, on: date = ON, **more: Any) -> Bill:
    more.setdefault("papers", [LETTER])
    return assessed({**PRICE, **(facts or {})}, on=on, **more).bills[0]


def written(found: Bill) -> dict[str, str]:
    return {one.charge: one.amount.written for one in found.lines}


# ------------------------------------------------------------------ one route, all facts known

def test_every_charge_that_is_due_is_a_line_and_bases_come_first() -> None:
    """Value 1,200; duty 6 % of it is 72; tax 17.5 % of 1,272 is 222.60."""
    assert written(bill()) == {
        "value": "1200 XTS", "duty": "72 XTS", "sales-tax": "222.60 XTS", "stamp": "2.50 XTS",
        "register-fee": "35 XTS",
    }


def test_the_total_is_the_sum_of_the_payable_lines() -> None:
    """The value at the border is no charge: 72 + 222.60 + 2.50 + 35 = 332.10."""
    assert [amount.written for amount in bill().totals] == ["332.10 XTS"]


def test_a_line_says_how_why_to_whom_and_by_which_source() -> None:
    found = line(bill(), "register-fee")

    assert [say(how) for how in found.how] == ["a fixed amount"]
    assert say(found.because) == "engine capacity 247 cc, at most 500 cc"
    assert say(found.paid_to) == "Office of Quillby"
    assert [(source.id, source.kind) for source in found.sources] == [("quillby-act", "law")]
    tax = line(bill(), "sales-tax")
    assert [" ".join(say(how).split()) for how in tax.how] == [
        "17.5 % of the sum of 'Value' XTS 1,200.00 + 'Duty' XTS 72.00"]


@pytest.mark.parametrize(("capacity", "fee"), [
    ("125 cc", "20 XTS"), ("126 cc", "35 XTS"), ("500 cc", "35 XTS"), ("501 cc", "60 XTS"),
])
def test_the_first_case_whose_condition_holds_counts(capacity: str, fee: str) -> None:
    assert written(bill({"vehicle.engine_capacity": capacity}))["register-fee"] == fee


@pytest.mark.parametrize(("arrived", "tax"), [
    ("2019-12-31", "190.80 XTS"), ("2020-01-01", "222.60 XTS"), ("2029-12-31", "222.60 XTS"),
    ("2030-01-01", "254.40 XTS"),
])
def test_the_day_that_governs_a_charge_chooses_its_rate(arrived: str, tax: str) -> None:
    """15, 17.5 and 20 % of 1,272 by the day of arrival, on whatever day one asks."""
    assert written(bill({"arrival.date": arrived}, on=date(2030, 1, 1)))["sales-tax"] == tax


def test_a_rate_may_be_a_fact() -> None:
    assert written(bill({"qb.duty_rate": "0 %"}))["duty"] == "0 XTS"
    assert written(bill({"qb.duty_rate": "12.5 %"}))["duty"] == "150 XTS"


def test_rounding_by_a_stated_rule_brings_its_source() -> None:
    """6 % of 1,215 is 72.90; the notes round duty down to whole units."""
    duty = line(bill({"purchase.price": "1015 XTS"}), "duty")

    assert duty.amount.written == "72 XTS"
    assert say(duty.rounding) == "rounded down to 1"
    assert [source.id for source in duty.sources] == ["quillby-act", "quillby-notes"]


def test_without_a_rule_it_is_rounded_to_the_penny_and_says_so() -> None:
    """17.5 % of 1,000.01 (no duty) is 175.00175."""
    tax = line(bill({"purchase.price": "800.01 XTS", "qb.duty_rate": "0 %"}), "sales-tax")

    assert tax.amount.written == "175 XTS"
    assert say(tax.rounding) == "rounded half up to 0.01; no source states a rule"
    assert line(bill(), "sales-tax").rounding is None


@pytest.mark.parametrize(("storage", "tax"), [("10 XTS", "5 XTS"), ("80 XTS", "8 XTS")])
def test_a_threshold_is_the_least_that_is_due(storage: str, tax: str) -> None:
    """10 %, but 5 at least; only for what was shipped."""
    found = written(bill({"arrival.means": "shipped", "qb.storage": storage}))

    assert found["storage-tax"] == tax
    assert "storage-tax" not in written(bill({"qb.storage": storage}))


@pytest.mark.parametrize(("done", "fine", "surcharge"), [
    ("2026-04-20", None, None),             # in time: the 10th day after 10 April
    ("2026-04-30", "50 XTS", "11.13 XTS"),  # 10 days: 50; 5 % of 222.60
    ("2026-05-01", "55 XTS", "11.13 XTS"),
    ("2026-07-20", "455 XTS", "11.13 XTS"),
    ("2026-07-21", "460 XTS", "22.26 XTS"),  # over three months: 10 %
    ("2026-12-01", "500 XTS", "33.39 XTS"),  # a hundred days at most; over six months: 15 %
])
def test_what_lateness_costs(done: str, fine: str | None, surcharge: str | None) -> None:
    """Due 20 April, ten days after the 10th; 5 a day, 50 at least; a table of shares of the tax."""
    found = written(bill({"arrival.date": "2026-04-10"}, on=date(2026, 12, 24),
                         done=[{"requirement": "clear-it", "on": done}]))

    assert found.get("late-fine") == fine
    assert found.get("late-surcharge") == surcharge


# ------------------------------------------------------------------ unknown facts

def test_a_missing_price_is_asked_for_and_nothing_is_made_up() -> None:
    found = bill({"purchase.price": None})
    value = line(found, "value")

    assert value.amount == Amount(Decimal(200), None, "XTS")
    assert [say(need) for need in value.needs] == ["price"]
    assert "needs price" in "\n".join(bill_lines((bill({
        "purchase.price": None, "purchase.transport": "0 XTS"}),)))
    assert found.totals[0].most is None


def test_an_open_condition_gives_the_range_of_what_may_count() -> None:
    fee = line(bill({"vehicle.engine_capacity": None}), "register-fee")

    assert fee.amount.written == "20 to 60 XTS"
    assert [say(need) for need in fee.needs] == ["engine capacity"]


def test_one_of_two_opposite_cases_counts_whatever_is_not_known() -> None:
    """Whether the engine is small is open; one of 'small' and 'not small' counts in any case, and
    what is neither does not.
    """
    history = RULES.charges["register-fee"]
    (edition,) = history.editions
    small = next(figure.when for figure in edition.figures if figure.when is not None)
    first, second = (replace(edition.figures[0], form="amount", number=Decimal(number), of=())
                     for number in (20, 60))
    opposite = (replace(first, when=small), replace(second, when=NoneOf((small,))),
                replace(second, number=Decimal(900), when=None))
    changed = replace(history, editions=(replace(edition, figures=opposite),))
    rules = replace(RULES, digest="opposite cases",
                    charges={**RULES.charges, "register-fee": changed})
    open_case = case({"vehicle.engine_capacity": None})

    (found, *_) = regkit.assess(open_case, rules, ON).bills
    assert line(found, "register-fee").amount.written == "20 to 60 XTS"


def test_an_inexact_day_gives_the_range_of_its_editions() -> None:
    tax = line(bill({"arrival.date": "2019/2020"}), "sales-tax")

    assert tax.amount.written == "190.80 to 222.60 XTS"
    assert [say(need) for need in tax.needs] == ["arrived"]


def test_a_charge_that_may_not_be_due_counts_from_nothing() -> None:
    """Only young vehicles pay for approval; when it was built is not known."""
    found = bill({"vehicle.built": None})
    fee = line(found, "approval-fee")

    assert not fee.certain
    assert [say(fact) for fact in fee.due_if] == ["built"]
    assert found.totals[0].written == "332.10 to 412.10 XTS"


def test_papers_still_to_get_cost_what_they_cost() -> None:
    """The dating letter is asked for in any case by one step, and as one of two by another."""
    without = bill(papers=())

    assert line(without, "letter-fee").certain
    assert bill().line("letter-fee") is None
    assert without.totals[0].least - bill().totals[0].least == 15


def test_a_duty_that_waits_for_an_event_costs_nothing_yet() -> None:
    waiting = bill()
    changed = bill({"change.colour": "2026-04-19", "vehicle.place": "found_here"})

    assert [one.requirement for one in waiting.lines if one.charge == "stamp"] == ["clear-it"]
    assert [one.requirement for one in changed.lines if one.charge == "stamp"] == [
        "tell-of-colour"]


# ------------------------------------------------------------------ currencies

EURO = {"from": "EUR", "to": "XTS", "rate": "1.25", "on": "2026-04-01", "source": "a bank"}


def test_no_exchange_rate_is_invented() -> None:
    value = line(bill({"purchase.price": "800 EUR"}), "value")

    assert value.amount.most is None
    assert [say(need) for need in value.needs] == ["a rate from EUR to XTS"]


def test_a_rate_of_the_case_is_used_and_shown_with_its_day_and_source() -> None:
    value = line(bill({"purchase.price": "800 EUR"}, rates=[EURO]), "value")

    assert value.amount.written == "1200 XTS"
    assert "€800.00 at 1.25 XTS for 1 EUR (a bank, 1 April 2026)" in say(value.how[0])


def test_a_rate_the_other_way_round_is_not_turned_over() -> None:
    """Its reciprocal would not be exact, and banks quote two rates."""
    turned = {**EURO, "from": "XTS", "to": "EUR"}
    value = line(bill({"purchase.price": "800 EUR"}, rates=[turned]), "value")

    assert value.amount.most is None


def test_a_charge_in_another_currency_is_converted_as_a_base_and_totalled_apart() -> None:
    """Half of 8 EUR at 1.25 is 5 XTS; the 8 EUR themselves are owed in euros."""
    told = {"change.colour": "2026-04-19", "vehicle.place": "found_here"}
    found = bill(told, rates=[EURO])

    assert written(found)["share-of-the-stamp"] == "5 XTS"
    assert [amount.written for amount in found.totals] == ["8 EUR", "42.50 XTS"]
    assert line(bill(told), "share-of-the-stamp").amount.most is None


@pytest.mark.parametrize(("parts", "says"), [
    ({"facts": {"purchase.price": "a lot"}}, "`purchase.price` 'a lot' is no amount; write an "
     "amount and its currency, such as '2500.00 GBP'"),
    ({"facts": {"purchase.price": "-5 GBP"}},
     "`purchase.price` '-5 GBP' is negative; write 0 or more"),
    ({"facts": {"purchase.price": "5"}},
     "`purchase.price` '5' names no currency; write for example '5 GBP'"),
    ({"facts": {"purchase.price": "5 QQQ"}}, "`purchase.price` names the currency 'QQQ', which is "
     "none of ISO 4217; write for example GBP or EUR"),
    ({"rates": [{**EURO, "rate": "-1"}]}, "the rate '-1' is no number above 0"),
    ({"rates": [{**EURO, "rate": 0}]}, "the rate 0 is no number above 0"),
    ({"rates": [{**EURO, "to": "QQQ"}]}, "the rate names the currency 'QQQ'"),
    ({"rates": [EURO, EURO]}, "gives a second rate from EUR to XTS"),
    ({"rates": [{**EURO, "on": "2026-02-30"}]}, "'2026-02-30' is no day that exists"),
    ({"rates": [{"from": "EUR", "to": "XTS", "rate": 1}]}, "lacks `on` and `source`"),
])
def test_money_told_wrongly_is_one_clear_sentence(parts: dict[str, Any], says: str) -> None:
    problems = wrong(**parts)

    assert len(problems) == 1
    assert says in problems[0]


# ------------------------------------------------------------------ routes

def test_one_bill_a_route_the_one_told_first() -> None:
    found = assessed({**PRICE, "vehicle.original_state": "yes"}, [LETTER]).bills

    assert [(one.route, one.as_told, one.open) for one in found] == [
        ("ordinary", True, Outcome.YES), ("treasure", False, Outcome.YES)]
    assert [one.totals[0].written for one in found] == ["332.10 XTS", "247.50 XTS"]


def test_a_route_that_is_not_open_has_no_lines_and_says_why() -> None:
    closed = assessed({**PRICE, "vehicle.original_state": "no"}).bills[1]

    assert closed.open == Outcome.NO and closed.lines == ()
    assert say(closed.why) == "in its original state: no"


def test_a_route_that_may_be_open_is_reckoned_as_if_it_were() -> None:
    maybe = assessed(PRICE).bills[1]

    assert maybe.open == Outcome.UNDECIDED
    assert line(maybe, "duty").amount.written == "0 XTS"


def test_a_case_that_tells_no_route_is_reckoned_as_it_stands_too() -> None:
    found = assessed({**PRICE, "customs.heading": None}).bills

    assert [one.route for one in found] == ["", "treasure", "ordinary"]
    assert line(found[0], "duty").amount.written == "0 to 72 XTS"


# ------------------------------------------------------------------ promises

money = st.decimals(min_value=0, max_value=10**9, places=2).map(lambda d: f"{d} XTS")
perhaps = st.none() | money


@given(perhaps, perhaps, st.sampled_from([None, "0 %", "6 %", "22.125 %"]),
       st.sampled_from([None, "100 cc", "600 cc"]), st.sampled_from([None, "1962", "2020"]))
@settings(max_examples=60, deadline=None)
def test_totals_are_the_sum_of_their_lines_to_the_penny(
    price: str | None, transport: str | None, rate: str | None, capacity: str | None,
    built: str | None,
) -> None:
    found = bill({"purchase.price": price, "purchase.transport": transport, "qb.duty_rate": rate,
                  "vehicle.engine_capacity": capacity, "vehicle.built": built})
    counted = [one for one in found.lines if one.payable]
    (amount,) = found.totals

    assert amount.least == sum(one.amount.least if one.certain else 0 for one in counted)
    if amount.most is not None:
        assert amount.most == sum(one.amount.most or 0 for one in counted)
        for one in counted:
            assert one.amount.least == one.amount.least.quantize(Decimal("0.01"))


@given(money, money, st.integers(0, 10000))
@settings(max_examples=60, deadline=None)
def test_an_amount_lies_in_the_range_it_had_while_a_fact_was_open(
    price: str, transport: str, rate: int
) -> None:
    """Telling the rest of the case settles a range; it never leaves it."""
    known = {"purchase.price": price, "purchase.transport": transport,
             "qb.duty_rate": f"{Decimal(rate) / 100} %"}
    exact = bill(known)
    for missing in known:
        ranged = bill({**known, missing: None})
        for one in exact.lines:
            wide = line(ranged, one.charge).amount
            assert wide.least <= one.amount.least
            assert wide.most is None or one.amount.least <= wide.most


# ------------------------------------------------------------------ in words

def test_bills_are_said_in_full() -> None:
    """Every line, its reason, its source and the total stand on the page."""
    text = "\n".join(bill_lines(assessed(PRICE, [LETTER]).bills))

    for part in ("Duty", "6 % of 'Value'", "XTS 72.00", "quillby-act (law)", "Total", "XTS 332.10"):
        assert part in text.replace("\N{NO-BREAK SPACE}", " ")
    assert speaker("en").say(case().value("vehicle.built").said()) == "1962"


def test_a_daily_rate_four_and_a_half_times_as_high_makes_lateness_cost_so_much_more() -> None:
    """As Ireland's Minister for Finance reckoned it for all late registrations of 2023 together.

    EUR 1,094,275 at 0.1 % a day would have been EUR 4,924,238 at 0.45 % (28 February 2024). A rate
    that never was law is no worked example of the ruleset; one vehicle shows the same factor.
    """
    ireland = regkit.load("IE")
    late = ireland.charges["additional-vrt-for-each-day"]
    editions = tuple(replace(edition, figures=tuple(
        replace(figure, number=Decimal("0.45")) for figure in edition.figures))
        for edition in late.editions)
    dearer = replace(ireland, digest="at 0.45 %", charges={
        **ireland.charges, late.id: replace(late, editions=editions)})
    example = ireland.examples["registered-a-hundred-days-after-entry"]
    as_is, at_more = (
        regkit.assess(example_case(example, ireland), ruleset, example.on).bills[0].line(late.id)
        for ruleset in (ireland, dearer))
    assert as_is is not None and at_more is not None
    factor = Fraction(at_more.amount.least) / Fraction(as_is.amount.least)
    assert (as_is.amount.least, factor) == (20, Fraction(9, 2))
    assert round(factor * 1_094_275) == 4_924_238
