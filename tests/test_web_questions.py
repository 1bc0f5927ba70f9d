"""The questions of the web adapter, answered in a browser's hands until the report comes."""

from __future__ import annotations

from typing import Any

import pytest
from starlette.testclient import TestClient

import regkit
from tests.rulesets_under_test import ROOT
from tests.test_next_question import asked
from tests.web_visitor import ON, Visitor, asking, walk

CASES = ROOT / "docs" / "cases"


def judged(facts: dict[str, Any], code: str) -> dict[str, str]:
    """Return the verdicts on facts, but for duties that wait for an event."""
    ruleset = regkit.load(code)
    case = regkit.read_case({"jurisdiction": code, "facts": facts}, ruleset)
    assessment = regkit.assess(case, ruleset, ON)
    waiting = {finding.id for finding in assessment.findings if finding.waits_for}
    return {name: verdict.value for name, verdict in assessment.verdicts.items()
            if name not in waiting}


@pytest.mark.parametrize("name", ["ie-import", "gb-import", "de-import", "se-import"])
def test_a_case_walked_through_comes_to_the_verdicts_of_its_file(
    name: str, visitor: Visitor, served: TestClient
) -> None:
    """Question by question, until none is left; what was asked is enough."""
    case = regkit.read_case(CASES / f"{name}.yaml")
    answers = {fact: value.written for fact, value in case.facts.items()}
    start = visitor.get("/")

    report = walk(visitor, visitor.send(start, jurisdiction=case.jurisdiction), answers)

    taken = served.get(report.link("Take your answers along as a file"))
    told = taken.json()["facts"]
    assert taken.headers["content-disposition"] == 'attachment; filename="case.json"'
    assert set(told) <= set(answers) and len(told) > 5
    assert judged(told, case.jurisdiction) == judged(answers, case.jurisdiction)
    assert "/report?" in report.address
    assert regkit.load(case.jurisdiction).digest in report.text


def test_the_order_is_that_of_the_exact_next_question(visitor: Visitor) -> None:
    """The same questions as `regkit ask` puts to one who answers alike."""
    answers = {fact: value.written for fact, value
               in regkit.read_case(CASES / "ie-import.yaml").facts.items()}
    walk(visitor, visitor.get("/ask?jurisdiction=IE"), answers)

    on_pages = list(dict.fromkeys(page.fact for page in visitor.seen if page.fact))
    assert on_pages == asked(regkit.load("IE"), answers)


def test_back_and_another_answer_is_as_if_the_first_had_never_been_given(
    visitor: Visitor,
) -> None:
    """The back button shows an earlier page; its form still holds the case as it was there."""
    first = visitor.get("/ask?jurisdiction=IE")
    second = visitor.answer(first, "abroad")
    third = visitor.answer(second, None)
    again = visitor.answer(second, "FR" if second.all(".//select") else None)
    other = visitor.answer(first, "registered_here")

    assert first.fact == "vehicle.place"
    assert third.fact == again.fact or second.all(".//select")
    assert "Brought in from another country" in third.words(".//dl")
    assert other.words(".//dl").count("Already on this country's register") == 1
    assert "Brought in" not in other.words(".//dl")


def test_sending_a_form_twice_changes_nothing(visitor: Visitor) -> None:
    first = visitor.get("/ask?jurisdiction=IE")
    once, twice = visitor.answer(first, "abroad"), visitor.answer(first, "abroad")

    assert (once.fact, once.words(".//dl")) == (twice.fact, twice.words(".//dl"))


def test_an_answer_can_be_changed_and_taken_back(visitor: Visitor) -> None:
    page = visitor.answer(visitor.get("/ask?jurisdiction=IE"), "abroad")
    change = visitor.get(page.link("Change"))

    assert change.fact == "vehicle.place" and change.fields["answer"] == "abroad"

    changed = visitor.answer(change, "found_here")
    assert "Found in this country" in changed.words(".//dl")

    taken_back = visitor.answer(visitor.get(changed.link("Change")), None)
    assert "not known" in taken_back.words(".//dl")
    assert visitor.get(taken_back.link("Change")).fields["answer"] == "?"


@pytest.mark.parametrize(("fact", "written", "says"), [
    ("vehicle.built", "tomorrow", "'tomorrow' is no date that can be read"),
    ("vehicle.built", "1962-13-01", "is no date that can be read"),
    ("vehicle.built", "", "Give an answer, or say that you do not know it"),
    ("vehicle.built", "19\u202e62", "a character that cannot be seen"),
    ("vehicle.engine_capacity", "big", "is no number of cc"),
    ("vehicle.engine_capacity", "-5", "is no number of cc"),
    ("vehicle.engine_capacity", "1,500", "can be read in two ways"),
    ("vehicle.engine_capacity", "1.500", "can be read in two ways"),
    ("purchase.price", "much", "is no amount of money"),
    ("vehicle.frame_number", "x" * 501, "has 501 characters"),
])
def test_a_wrong_answer_is_asked_for_again_beside_its_field(
    fact: str, written: str, says: str, visitor: Visitor
) -> None:
    """What is wrong and what would be right; what was written stands there still."""
    page = visitor.answer(asking(visitor, fact), written)

    assert page.status == 422 and page.fact == fact
    assert says in page.words(".//div[@role='alert']")
    assert says in page.words(".//p[@id='regkit-wrong']")
    field = page.tree.find(".//input[@id='regkit-answer']")
    assert field.get("aria-invalid") == "true"
    assert "regkit-wrong" in field.get("aria-describedby").split()
    assert field.get("value") == written.replace("\u202e", "")[:500]
    assert page.words(".//title").startswith("This answer cannot be taken")


def test_going_back_after_a_wrong_answer_sends_nothing_anew(visitor: Visitor) -> None:
    """The page that asks again has an address of its own, which shows the same each time."""
    wrong = visitor.answer(asking(visitor, "vehicle.built"), "tomorrow")
    visitor.answer(wrong, "1962")

    assert "case=" in wrong.address and "tomorrow" not in wrong.address
    again = visitor.get(wrong.address)
    assert again.words(".//div[@role='alert']") == wrong.words(".//div[@role='alert']")


@pytest.mark.parametrize(("fact", "written", "told"), [
    ("vehicle.built", "17.05.1962", "1962-05-17"),
    ("vehicle.built", "7. 5. 1962", "1962-05-07"),
    ("vehicle.built", "1960/1964", "1960/1964"),
    ("vehicle.built", "never", "never"),
    ("vehicle.engine_capacity", "2,5 l", "2.5 l"),
    ("vehicle.engine_capacity", "1 500", "1500"),
    ("vehicle.engine_capacity", "250 cc", "250 cc"),
    ("purchase.price", "2500,50", "2500.50 GBP"),
    ("arrival.from", "FR", "FR"),
])
def test_numbers_and_days_are_read_as_people_write_them(
    fact: str, written: str, told: str, visitor: Visitor, served: TestClient
) -> None:
    """Only where nothing can be mistaken."""
    page = asking(visitor, fact)
    after = (visitor.send(page, answer="written", written=written)
             if fact != "vehicle.built" or written != "never" else visitor.answer(page, written))
    case = served.get(f"/case.json?case={after.fields['case']}").json()

    assert case["facts"] == {fact: told}


def test_an_answer_both_written_and_picked_is_asked_for_again(visitor: Visitor) -> None:
    page = asking(visitor, "vehicle.built")
    both = visitor.send(page, answer="?", written="1962")
    assert both.status == 422 and "keep one of the two" in both.words(".//div[@role='alert']")

    told = visitor.send(page, answer="written", written="1962")
    change = visitor.get(told.link("Change"))
    assert change.fields["written"] == "1962"
    assert visitor.answer(change, None).status == 200


def test_after_a_wrong_answer_another_one_can_simply_be_picked(visitor: Visitor) -> None:
    """What was wrong still stands in its field, and is no second answer."""
    wrong = visitor.answer(asking(visitor, "vehicle.built"), "tomorrow")

    assert visitor.send(wrong, answer="?").fact != "vehicle.built"
    assert visitor.send(wrong, answer="?", written="1962").status == 422


def test_a_contradiction_names_the_other_answer(visitor: Visitor) -> None:
    """Built after it was registered cannot be."""
    told = visitor.answer(asking(visitor, "vehicle.first_registered"), "1960")
    token = told.fields["case"]
    page = visitor.answer(visitor.get(f"/ask?case={token}&change=vehicle.built"), "1970")

    assert page.status == 422
    assert "'1960' to the question: When was it first registered" in page.words(
        ".//p[@id='regkit-wrong']")


def test_what_is_told_too_inexactly_is_asked_for_once_more_and_no_oftener(
    visitor: Visitor, served: TestClient
) -> None:
    """Whoever knows it no more exactly goes on; whoever does, tells it."""
    told = {"vehicle.built": "1990/2005"}
    page = visitor.get("/ask?jurisdiction=IE")
    again = None
    for _ in range(120):
        if not page.fact:
            break
        if "So far you have answered" in page.words(".//form"):
            assert again is None or page.fact != again.fact
            again = page
            page = visitor.answer(page, None)
        else:
            page = visitor.answer(page, told.get(page.fact))

    assert again is not None and again.fact == "vehicle.built"
    assert again.fields["written"] == "1990/2005"
    assert "I do not know it more exactly" in again.words(".//form")
    assert served.get(page.link("as a file")).json()["facts"] == told
    same = visitor.send(again)
    assert not same.fact or "So far you have answered" not in same.words(".//form")
    better = visitor.answer(again, "1994-05-17")
    assert "17 May 1994" in better.words()
