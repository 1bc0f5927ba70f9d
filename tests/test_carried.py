"""Carrying a case over: one vehicle under the rules of several countries, and what stays behind.

What each country makes of it is asserted where its law states it; the sources stand beside the
entries of the rulesets, and beside the checks here where they are the point.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.compare.across import across
from regkit.compare.carried import carry
from regkit.language import speaker
from regkit.model.carried import Across, Carried
from regkit.model.carried_document import across_document
from tests.test_schemas import SCHEMAS, validator

CASES = Path(__file__).parent.parent / "docs" / "cases"
ON = date(2026, 5, 20)
say = speaker().say


def case_of(
    code: str, papers: list[dict[str, Any]] | None = None, done: list[dict[str, Any]] | None = None,
    elsewhere: dict[str, dict[str, Any]] | None = None, **facts: Any,
) -> regkit.Case:
    told = {name.replace("__", "."): value for name, value in facts.items()}
    return regkit.read_case({"jurisdiction": code, "facts": told, "papers": papers or [],
                             "done": done or [], "elsewhere": elsewhere or {}})


def carried(case: regkit.Case, there: str) -> Carried:
    return carry(case, regkit.load(case.jurisdiction), regkit.load(there))


def compared(case: regkit.Case, *codes: str, on: date = ON) -> Across:
    rulesets = [regkit.load(code) for code in codes]
    found = [carried(case, code) for code in codes]
    return across(case, found, [
        regkit.assess(one.case, ruleset, on) for one, ruleset in zip(found, rulesets, strict=True)])


def notes(found: Carried) -> str:
    return " | ".join(say(note) for note in found.notes)


def test_the_vehicle_the_purchase_and_the_journey_are_the_same_elsewhere() -> None:
    """The picture is that of a choice not yet made: brought to the other country instead."""
    case = case_of("DE", vehicle__kind="car", vehicle__built="1971-03", vehicle__place="abroad",
                   arrival__date="2026-05-11", arrival__from="US", purchase__price="14000 EUR")

    found = carried(case, "IE")

    assert found.case.jurisdiction == "IE"
    assert dict(found.case.facts) == dict(case.facts)
    assert "brought here instead, on the same day" in notes(found)


def test_what_is_told_of_one_country_is_open_in_another_never_guessed() -> None:
    case = case_of("DE", vehicle__first_registered_here="never", vehicle__built="1971",
                   test__passed="2025-03-01")

    found = carried(case, "IE")

    assert "vehicle.first_registered_here" not in found.case.facts
    assert set(found.left_behind) == {"vehicle.first_registered_here", "test.passed"}
    assert "Told of one country alone (Germany)" in notes(found)


def test_the_case_may_tell_what_is_different_elsewhere() -> None:
    case = case_of("DE", vehicle__first_registered_here="never",
                   elsewhere={"IE": {"vehicle.first_registered_here": "1975-06-01",
                                     "arrival.date": "2026-05-14"}},
                   arrival__date="2026-05-11")

    found = carried(case, "IE")

    assert found.case.facts["vehicle.first_registered_here"].written == "1975-06-01"
    assert found.case.facts["arrival.date"].written == "2026-05-14"
    assert "vehicle.first_registered_here" not in found.left_behind
    assert case.facts["arrival.date"].written == "2026-05-11"


def test_never_registered_anywhere_is_never_registered_there() -> None:
    found = carried(case_of("DE", vehicle__first_registered="never",
                            vehicle__first_registered_here="never"), "IE")

    assert found.case.value("vehicle.first_registered_here").word == "never"


def test_a_vehicle_on_the_register_at_home_comes_from_there() -> None:
    case = case_of("GB", vehicle__place="registered_here", arrival__date="1999-05-01",
                   arrival__from="FR", vehicle__built="1971")

    found = carried(case, "DE")

    assert found.case.facts["vehicle.place"].options == {"abroad"}
    assert found.case.facts["arrival.from"].options == {"GB"}
    assert "arrival.date" not in found.case.facts
    assert "coming from: Great Britain" in notes(found)


def test_a_vehicle_that_came_from_a_country_did_not_come_to_it() -> None:
    found = carried(case_of("DE", vehicle__place="abroad", arrival__from="IE",
                            arrival__date="2026-05-11"), "IE")

    assert not [name for name in found.case.facts if name.startswith("arrival.")]
    assert "comes from this country" in notes(found)


def test_facts_of_another_vocabulary_are_no_error_and_count_where_they_are_asked() -> None:
    case = case_of("DE", vehicle__built="1971", ie__converted_before_registration="no",
                   eu__onward_costs="240 EUR", de__plate="h")

    assert set(case.facts) == {"vehicle.built", "eu.onward_costs", "de.plate"}
    assert carried(case, "DE").not_asked == ("ie.converted_before_registration",)
    to_ireland = carried(case, "IE")
    assert to_ireland.case.facts["ie.converted_before_registration"].options == {"no"}
    assert "eu.onward_costs" in to_ireland.case.facts
    assert to_ireland.not_asked == ("de.plate",)
    assert carried(case, "GB").not_asked == (
        "de.plate", "eu.onward_costs", "ie.converted_before_registration")


def test_a_misspelt_fact_of_another_country_is_still_an_error() -> None:
    with pytest.raises(regkit.Unreadable, match=r"ie\.vrt_releif"):
        case_of("DE", ie__vrt_releif="none")
    with pytest.raises(regkit.Unreadable, match="no ruleset of that name"):
        case_of("DE", elsewhere={"QZ": {"vehicle.built": "1971"}})
    with pytest.raises(regkit.Unreadable, match=r"vehicle\.biult"):
        case_of("DE", elsewhere={"IE": {"vehicle.biult": "1971"}})


def test_papers_from_outside_count_everywhere_papers_of_an_office_at_home_alone() -> None:
    """An invoice is an invoice; the registration document of one country is none of another."""
    case = case_of("GB", papers=[
        {"evidence": "purchase-invoice", "dated": "2026-02-14"},
        {"evidence": "registration-document", "shows": {"vehicle.built": "1962"}},
    ], vehicle__kind="motorcycle")

    found = carried(case, "IE")

    assert [paper.evidence for paper in found.case.papers] == ["purchase-invoice"]
    assert found.case.facts["vehicle.built"].written == "1962"
    assert "they meet no need here" in notes(found)


def test_papers_left_at_home_that_contradict_the_case_keep_the_fact_open() -> None:
    case = case_of("GB", papers=[
        {"evidence": "registration-document", "shows": {"vehicle.built": "1962"}},
    ], vehicle__built="1985")

    value = carried(case, "IE").case.value("vehicle.built")

    assert {one.written for one in value.either} == {"1962", "1985"}


def test_a_step_counts_where_both_share_the_law_it_is_a_step_of() -> None:
    """The heading of goods is chosen once for the Union's customs territory (Union layer); an
    import declaration is each state's own entry, and Great Britain is outside."""
    case = case_of("DE", done=[{"requirement": "choose-customs-heading", "on": "2026-05-12"},
                               {"requirement": "make-import-declaration", "on": "2026-05-13"}])

    ireland, britain = carried(case, "IE"), carried(case, "GB")

    assert [done.requirement for done in ireland.case.done] == ["choose-customs-heading"]
    assert "not done here: Make the import declaration" in notes(ireland)
    assert britain.case.done == ()


def test_carried_home_nothing_changes() -> None:
    case = regkit.read_case(CASES / "de-import.yaml")

    found = carried(case, "DE")

    assert (found.case.facts, found.case.papers, found.notes) == (case.facts, case.papers, ())


def test_a_region_of_the_same_country_shares_what_is_told_of_the_country() -> None:
    found = carried(case_of("US-CA", vehicle__first_registered_here="1971"), "US-TX")

    assert found.left_behind == ()
    assert "vehicle.first_registered_here" in found.case.facts


def test_clocks_of_different_countries_answer_differently_for_one_vehicle() -> None:
    """Thirty years by the day for a collector's piece (Commission Implementing Regulation (EU)
    2022/2399 and before it the explanatory note to heading 9705); forty calendar years by the
    latest 1 April in Great Britain's vehicle tax (Vehicle Excise and Registration Act 1994,
    schedule 2, paragraph 1A)."""
    case = case_of("DE", vehicle__kind="car", vehicle__built="1990-05-10",
                   vehicle__first_registered="1990-06-01")

    found = compared(case, "DE", "GB")

    classes = {row.id: [say(answer) for answer in row.answers] for row in found.part("class")}
    assert classes["old-enough-for-an-oldtimer"] == ["yes", "–"]
    assert classes["exempt-from-vehicle-tax-by-age"] == ["–", "no"]


def test_facts_that_one_country_alone_asks_are_marked() -> None:
    found = compared(case_of("DE", vehicle__built="1971", de__plate="h"), "DE", "IE")

    alone = {row.id: found.having(row) for row in found.part("fact")
             if len(found.having(row)) == 1}
    assert alone["de.plate"] == ("DE",)
    assert alone["ie.converted_before_registration"] == ("IE",)
    assert "vehicle.built" not in alone


def test_each_country_is_judged_as_if_it_were_asked_alone() -> None:
    case = regkit.read_case(CASES / "de-import.yaml")
    found = compared(case, "DE", "IE")

    for country in found.countries:
        one = carried(case, country.code)
        alone = regkit.assess(one.case, regkit.load(country.code), ON)
        assert country.assessment.verdicts == alone.verdicts


def test_the_comparison_as_json_fits_its_schema() -> None:
    case = regkit.read_case(CASES / "de-import.yaml")
    document = across_document(compared(case, "DE", "IE", "GB"))

    validator(SCHEMAS / "carried.schema.json").validate(document)
    assert [one["ruleset"]["jurisdiction"] for one in document["countries"]] == ["DE", "IE", "GB"]
    alone = {row["id"] for row in document["rows"]
             if row["part"] == "fact" and row["one_country_alone"]}
    assert "de.plate" in alone and "vehicle.built" not in alone
    assert json.dumps(document)


def test_no_country_or_one_twice_is_refused() -> None:
    case = case_of("DE", vehicle__built="1971")
    with pytest.raises(ValueError, match="at least one"):
        across(case, [], [])
    with pytest.raises(ValueError, match="only once"):
        compared(case, "IE", "IE")


def run(*arguments: str) -> str:
    done = CliRunner().invoke(main, list(arguments))
    assert done.exit_code == 0, done.output
    return done.output


def test_the_command_compares_in_eighty_columns() -> None:
    shown = run("assess", str(CASES / "de-import.yaml"), "--jurisdiction", "de,ie, gb")

    assert "One vehicle across borders, on 20 May 2026" in shown
    assert "What it counts as" in shown and "Facts that one country alone asks" in shown
    assert max(len(line) for line in shown.splitlines()) <= 80


def test_one_code_puts_its_rules_in_place_of_the_cases_own() -> None:
    shown = run("assess", str(CASES / "de-import.yaml"), "--jurisdiction", "IE")

    assert shown.startswith("Ireland, on 20 May 2026")
    assert "How the case was carried over" in shown
    document = json.loads(
        run("assess", str(CASES / "de-import.yaml"), "--jurisdiction", "IE", "--json"))
    validator(SCHEMAS / "assessment.schema.json").validate(document)
    assert document["ruleset"]["jurisdiction"] == "IE"
    assert "vehicle.first_registered_here" in document["carried"]["left_behind"]


def test_a_code_without_a_ruleset_gets_a_sentence() -> None:
    done = CliRunner().invoke(
        main, ["assess", str(CASES / "de-import.yaml"), "--jurisdiction", "DE,QZ"])

    assert done.exit_code == 2 and "QZ is no folder, and no code" in done.output


def test_a_case_is_judged_by_no_other_countrys_rules_until_it_is_carried_over() -> None:
    """Facts of one country alone would count in another; the message names the way across."""
    case, germany = case_of("GB", vehicle__built="1962"), regkit.load("DE")
    with pytest.raises(ValueError, match=r"a case of GB.*rules of DE.*carried\.carry"):
        regkit.assess(case, germany, ON)
    assert regkit.assess(carried(case, "DE").case, germany, ON).case.jurisdiction == "DE"


def test_a_case_of_a_country_is_not_one_of_its_region() -> None:
    """California builds on the federal layer, and still asks more of a case than that."""
    with pytest.raises(ValueError, match=r"a case of US.*rules of US-CA"):
        regkit.assess(case_of("US", vehicle__built="1962"), regkit.load("US-CA"), ON)


def test_what_is_still_to_do_begins_no_higher_than_all_that_is_demanded() -> None:
    """Sweden's temporary registration may not be needed, and then costs nothing in either row.

    A plan may begin higher only where it takes a step for a paper that it gives.
    """
    found = compared(regkit.read_case(CASES / "de-import.yaml"), "DE", "SE", "IE")
    for country in found.countries:
        plan, (total,) = country.assessment.plan, country.assessment.bills[0].totals
        assert all(step.demanded for step in plan.steps), country.code
        assert plan.cost.least <= total.least, country.code
    sweden = found.countries[1].assessment
    assert sweden.plan.step("stop-or-register-temporarily").perhaps
    assert sweden.plan.cost.most - sweden.plan.cost.least >= 450  # the temporary registration
