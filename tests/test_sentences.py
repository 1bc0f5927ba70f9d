"""What a keeper reads helps to act: nothing goes without saying, and nothing is said twice.

The law itself is tested by the worked examples; here the words that the answer is put into.
"""

from __future__ import annotations

from datetime import date

import regkit
from regkit.language import speaker
from regkit.model.assessment import Reason
from regkit.show.bill_text import bill_lines
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
