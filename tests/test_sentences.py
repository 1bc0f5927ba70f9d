"""What a keeper reads helps to act: nothing goes without saying, and nothing is said twice.

The law itself is tested by the worked examples; here the words that the answer is put into.
"""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest

import regkit
from regkit.compare.scenarios import plan_rows
from regkit.conditions import All
from regkit.judge.deciding import deciding_words
from regkit.judge.law import law_on
from regkit.language import Money, speaker
from regkit.model.assessment import Reason
from regkit.show.bill_text import bill_lines, say_amount
from regkit.show.need_text import need_lines
from regkit.show.packet_text import packet_lines
from regkit.show.plan_text import plan_lines
from regkit.show.text import why_lines

ON = date(2026, 11, 25)
SAY = speaker().say

FOUND = {"vehicle.kind": "motorcycle", "vehicle.place": "found_here", "vehicle.built": "1955~",
         "use.on_road": "yes"}
BROUGHT = {"vehicle.kind": "car", "vehicle.place": "abroad", "vehicle.built": "1984-02-29",
           "vehicle.first_registered": "1984-04", "arrival.date": "2025-10-02",
           "arrival.from": "ES", "arrival.purpose": "stay", "purchase.price": "3100 EUR",
           "keeper.kind": "private", "use.on_road": "yes"}


def assessed(facts: dict[str, str], jurisdiction: str = "GB") -> regkit.Assessment:
    case = regkit.read_case({"jurisdiction": jurisdiction, "facts": facts})
    return regkit.assess(case, regkit.load(jurisdiction), ON)


def test_what_was_found_here_is_not_excused_by_the_day_it_never_arrived() -> None:
    """A rule of the day of arrival has days without a rule; that is no reason to give first."""
    finding = assessed(FOUND).finding("notify-arrival")
    assert SAY(finding.sentence) == (
        "Not required: where it comes from: Found in this country, without valid papers")


def test_where_there_was_no_rule_and_nothing_else_decides_that_is_said() -> None:
    """After 2020 nothing comes from another member state."""
    finding = assessed(BROUGHT).finding("pay-tax-on-new-vehicle")
    assert SAY(finding.sentence) == (
        "Not required: no such rule was in force on the day that counts")


def test_that_a_fact_is_told_is_not_said_beside_what_it_tells() -> None:
    whole = {**BROUGHT, "vehicle.construction": "as_made",
             "vehicle.registration_document": "original", "vehicle.first_registered_here": "never",
             "gb.identity_shown": "yes"}
    found = next(one for one in assessed(whole).classes if one.id == "keeps-original-identity")
    assert "As its maker made it" in SAY(found.sentence)
    assert "not unknown" not in SAY(found.sentence)


def test_an_exact_date_is_not_called_inexact_because_another_is_not_known() -> None:
    """Goods come back duty-free within three years of their export, whose day is not told here."""
    assessment = assessed({**BROUGHT, "customs.relief": "returned"})
    reasons = (reason for finding in assessment.findings for reason in walked(finding.reason))
    said = {SAY(reason.says) for reason in reasons if reason.fact == "arrival.date"}
    assert ("arrived 2 October 2025: it matters whether at most 3 years after left this customs "
            "territory (not known)") in said
    assert not [says for says in said if says.startswith("arrived 2 October 2025: not exact")]


def walked(reason: Reason) -> list[Reason]:
    return [reason, *(below for child in reason.children for below in walked(child))]


def test_a_route_open_to_doubt_names_the_facts_it_depends_on() -> None:
    text = " ".join("\n".join(bill_lines(assessed(BROUGHT).bills)).split())
    assert ("reckoned as if it were: it depends on historic event or results proven, type out of "
            "production, in its original state and a main component was changed") in text


def test_why_tells_what_a_definition_comes_to_once() -> None:
    assessment = assessed(FOUND)
    lines = why_lines(assessment, assessment.finding("notify-arrival"))
    told = " ".join("\n".join(lines).split())
    assert told.count("Too small a machine for the notice of arrival") > 1
    assert told.count("driven by: not known; it matters whether it is Electricity") == 1
    assert "Too small a machine for the notice of arrival (as above)" in told


def test_a_plan_whose_length_nobody_states_names_no_day_as_its_end() -> None:
    told = " ".join(" ".join(plan_lines(assessed(FOUND))).split())
    assert ("How long all of it takes cannot be told; charges of the steps still to take: £55.00."
            in told)
    assert assessed(FOUND).plan.end is None


def test_cases_side_by_side_name_no_day_as_an_end_either() -> None:
    row = next(row for row in plan_rows((assessed(FOUND),)) if row.id == "finish")
    assert [SAY(cell) for cell in row.answers] == ["cannot be told"]


def test_a_plan_does_not_hide_that_being_late_costs_more() -> None:
    """The bill counts a charge for being late, the plan does not, and says so."""
    told = "\n".join(plan_lines(assessed(BROUGHT)))
    assert "What being late costs is not counted in it; it stands with its step." in told
    assert "What being late costs" not in "\n".join(plan_lines(assessed(FOUND)))


def test_a_need_for_one_group_is_that_group() -> None:
    """Sweden asks for one of three papers, and only under heading 9705."""
    swedish = {"vehicle.kind": "car", "vehicle.place": "abroad", "arrival.from": "NO",
               "arrival.purpose": "stay", "use.on_road": "yes", "purchase.price": "45000 NOK"}
    assessment = assessed(swedish, "SE")
    packet = assessment.packet("choose-customs-heading")
    said = " ".join(SAY(says) for _, says in need_lines(packet))
    assert said.startswith("one of: Extract from the maker's production records")
    shown = "\n".join(packet_lines(packet))
    assert "all of these" not in shown
    assert "whether it is needed depends on customs heading" in " ".join(shown.split())


def test_a_currency_by_letters_stands_apart_from_its_figure() -> None:
    """UTS 35, currency spacing: a no-break space between a letter and a digit."""
    assert SAY(Money(Decimal(45000), "NOK")) == "NOK\N{NO-BREAK SPACE}45,000.00"
    assert SAY(Money(Decimal(55), "GBP")) == "£55.00"
    assert SAY(Money(Decimal(55), "USD")) == "US$55.00"


def test_an_amount_that_lacks_a_rate_alone_says_so() -> None:
    american = {"vehicle.kind": "light_goods", "vehicle.place": "abroad", "arrival.from": "JP",
                "purchase.price": "900000 JPY"}
    line = assessed(american, "US-CA").bills[0].line("customs-value")
    assert SAY(say_amount(line)) == "needs a rate from JPY to USD"


def test_what_always_holds_gives_no_reason() -> None:
    """A condition without parts decides by itself: 'all of these' of nothing says nothing."""
    ruleset = regkit.load("GB")
    law = law_on(ruleset, ON)
    case = regkit.read_case({"jurisdiction": "GB", "facts": FOUND}, ruleset)
    assert deciding_words(All(()), law.view(case)) is None


@pytest.mark.parametrize("on", [datetime(2026, 4, 1, 12), "2026-04-01", None])
def test_what_is_no_date_is_refused_with_what_would_be_one(on: Any) -> None:
    """A datetime is a date to Python, but cannot be compared with one."""
    ruleset = regkit.load("GB")
    case = regkit.read_case({"jurisdiction": "GB", "facts": {}}, ruleset)
    with pytest.raises(TypeError, match="a date without a time, such as date"):
        regkit.assess(case, ruleset, on=on)
