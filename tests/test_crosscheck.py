"""Do papers, told facts and vehicle agree? Who says what; and what a fact rests on then."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from regkit.model.comparison import Comparison
from regkit.model.likeness import Likeness, alike, plain
from regkit.show.resting_text import resting_lines
from tests.quillby import assessed, case, say

LETTER, OLD, EXTRACT = "dating-letter", "old-document", "extract"


def paper(evidence: str, reference: str = "", **shows: Any) -> dict[str, Any]:
    """Return a paper; `vehicle__built` stands for vehicle.built."""
    return {"evidence": evidence, "reference": reference,
            "shows": {name.replace("__", "."): value for name, value in shows.items()}}


def compared(facts: dict[str, Any], *papers: dict[str, Any]) -> dict[str, Comparison]:
    found = assessed(facts, papers).paper_trouble.comparisons
    return {one.about: one for one in found}


def said(one: Comparison) -> list[tuple[str, str]]:
    return [(say(said.by), say(said.value)) for said in one.said]


# ------------------------------------------------------------------ likeness, as stated

@pytest.mark.parametrize(("one", "other", "likeness"), [
    ("S25 10482", "s25-10482", Likeness.SAME),               # spaces, hyphens, case
    ("S25.104/82", "S2510482", Likeness.SAME),               # full stops, slashes
    ("Ｓ25 10482", "S25 10482", Likeness.SAME),               # full-width letters (NFKC)
    ("S25 10482", "S25 1O482", Likeness.MISREAD),            # letter O for figure 0
    ("S25 10482", "S25 I0482", Likeness.MISREAD),            # letter I for figure 1
    ("S25 10482", "S25 10483", Likeness.DIFFERENT),
    ("S25 10482", "SZ5 10482", Likeness.DIFFERENT),          # no other confusion is assumed
    ("Jane Miller", "MILLER, Jane", Likeness.WRITTEN_DIFFERENTLY),
    ("José Núñez", "Jose Nunez", Likeness.WRITTEN_DIFFERENTLY),
    ("J. Miller", "Jane Miller", Likeness.WRITTEN_DIFFERENTLY),
    ("Jane Miller", "John Miller", Likeness.DIFFERENT),
    ("Jane Miller", "Jane Mary Miller", Likeness.DIFFERENT),
])
def test_how_alike_numbers_and_names_are(one: str, other: str, likeness: Likeness) -> None:
    assert alike(one, other) == alike(other, one) == likeness


@given(st.text(alphabet="O0I1l Ss2-./ ", min_size=1))
def test_only_what_is_stated_is_ever_equal(text: str) -> None:
    """What counts as the same has the same letters and figures once the stated marks are gone."""
    stripped = "".join(c for c in text if c.isalnum()).upper()

    assert plain(text) == stripped
    assert alike(text, stripped) == Likeness.SAME


# ------------------------------------------------------------------ contradictions

def test_a_contradiction_names_both_papers_and_both_values() -> None:
    found = compared({"vehicle.built": None},
                     paper(LETTER, "L 1", vehicle__built="1955"),
                     paper(EXTRACT, "E 2", vehicle__built="1956-03"))

    assert found["vehicle.built"].likeness == Likeness.DIFFERENT
    assert said(found["vehicle.built"]) == [
        ("'Dating letter' (L 1)", "1955"), ("'Extract' (E 2)", "March 1956")]


def test_the_number_on_the_vehicle_is_compared_with_that_on_paper() -> None:
    """The ruleset's cross-check puts the two facts together; it brings its reason and source."""
    found = compared({"vehicle.frame_number_seen": "S25 1O482"},
                     paper(OLD, vehicle__frame_number="S25 10482"))["frame-number"]

    assert found.likeness == Likeness.MISREAD
    assert said(found) == [("'Old document'", "S25 10482"),
                           ("the case, under 'frame number seen'", "S25 1O482")]
    assert say(found.why) == "The office reads it off the vehicle."
    assert found.sources == ("quillby-habit",)


def test_what_agrees_is_kept_as_compared_and_is_no_disagreement() -> None:
    trouble = assessed({"vehicle.built": "1962"},
                       [paper(LETTER, vehicle__built="1962-05")]).paper_trouble

    assert [one.about for one in trouble.agreements] == ["vehicle.built"]
    assert trouble.disagreements == ()


@pytest.mark.parametrize(("facts", "shows", "likeness"), [
    ({"vehicle.kind": "car"}, {"vehicle__kind": "motorcycle"}, Likeness.DIFFERENT),
    ({"vehicle.engine_capacity": "247 cc"}, {"vehicle__engine_capacity": "0.247 l"},
     Likeness.SAME),
    ({"vehicle.engine_capacity": "247 cc"}, {"vehicle__engine_capacity": "250 cc"},
     Likeness.DIFFERENT),
    ({"keeper.name": "Jane Miller"}, {"keeper__name": "Miller, Jane"},
     Likeness.WRITTEN_DIFFERENTLY),
    ({"keeper.address": "1 High Street"}, {"keeper__address": "I High-Street"},
     Likeness.MISREAD),
    ({"purchase.price": "4200 XTS"}, {"purchase__price": "4900 EUR"}, Likeness.INCOMPARABLE),
    ({"vehicle.first_registered": "never"}, {"vehicle__first_registered": "1963"},
     Likeness.DIFFERENT),
])
def test_every_kind_of_fact_is_compared(
    facts: dict[str, Any], shows: dict[str, Any], likeness: Likeness
) -> None:
    """Kind, capacity, names, addresses, money, dates: whatever two of them tell."""
    (found,) = compared({"vehicle.built": None, **facts}, paper(OLD, **shows)).values()

    assert found.likeness == likeness


def test_papers_that_must_name_the_keeper_are_compared_by_whom_they_name() -> None:
    """Two papers may contradict each other even where the case does not tell the keeper's name."""
    found = compared({"keeper.name": None}, {"evidence": "form-q", "named": "Jane Miller"},
                     {"evidence": "statement", "named": "John Miller"},
                     {"evidence": "letter-of-mayor", "named": "The Mayor"})

    assert found["keeper.name"].likeness == Likeness.DIFFERENT
    assert said(found["keeper.name"]) == [
        ("'Form Q'", "Jane Miller"), ("'Statement'", "John Miller")]


def test_what_is_told_as_unknown_contradicts_nothing() -> None:
    assert compared({"vehicle.built": "unknown"}, paper(LETTER, vehicle__built="1962")) == {}


def test_dates_out_of_order_between_papers_are_a_contradiction() -> None:
    """Built after it was first registered cannot be; which of the papers is wrong is not known."""
    found = compared({"vehicle.built": None},
                     paper(LETTER, vehicle__built="1970"),
                     paper(OLD, vehicle__first_registered="1963-05-17"))
    one = found["vehicle.built after vehicle.first_registered"]

    assert one.likeness == Likeness.DIFFERENT
    assert said(one) == [("'Dating letter'", "1970"), ("'Old document'", "17 May 1963")]


# ------------------------------------------------------------------ what a fact rests on

def test_a_fact_no_one_declared_may_rest_on_a_paper() -> None:
    told = case({"vehicle.built": None}, [paper(LETTER, vehicle__built="1962-05-17")])

    assert say(told.value("vehicle.built")) == "17 May 1962"
    assert told.value("vehicle.built").exact


def test_a_paper_narrows_an_inexact_date() -> None:
    told = case({"vehicle.built": "1962/1963"}, [paper(LETTER, vehicle__built="1963/1964")])

    assert say(told.value("vehicle.built")) == "1963"


def test_two_papers_that_disagree_make_the_fact_inexact_with_both_values() -> None:
    told = case({"vehicle.built": None}, [paper(LETTER, vehicle__built="1955"),
                                          paper(EXTRACT, vehicle__built="1957")])
    built = told.value("vehicle.built")

    assert not built.exact
    assert say(built) == "either 1955 or 1957"
    assert (built.low, built.high) == (
        date(1955, 1, 1).toordinal(), date(1957, 12, 31).toordinal())


def test_an_answer_that_hangs_on_disagreeing_papers_is_undecided() -> None:
    """Young means built less than ten years ago; one paper says it is, the other that it is not."""
    papers = [paper(LETTER, vehicle__built="2020"), paper(EXTRACT, vehicle__built="1962")]
    found = assessed({"vehicle.built": None}, papers)

    assert found.verdicts["approve-it"].value == "undecided"
    assert assessed({"vehicle.built": None}, papers[:1]).verdicts["approve-it"].value == "required"


@pytest.mark.parametrize(("declared", "shown", "options"), [
    ("car", "motorcycle", frozenset({"car", "motorcycle"})),
    ("car", "car", frozenset({"car"})),
])
def test_choices_that_disagree_keep_both_words(
    declared: str, shown: str, options: frozenset[str]
) -> None:
    told = case({"vehicle.kind": declared}, [paper(OLD, vehicle__kind=shown)])

    assert told.value("vehicle.kind").options == options


def test_a_misread_number_stays_open_and_one_written_otherwise_does_not() -> None:
    misread = case({"vehicle.frame_number": "A 10"}, [paper(OLD, vehicle__frame_number="A 1O")])
    spelt = case({"vehicle.frame_number": "A 10"}, [paper(OLD, vehicle__frame_number="a-10")])

    assert misread.value("vehicle.frame_number").options == frozenset({"A 10", "A 1O"})
    assert spelt.value("vehicle.frame_number").options == frozenset({"A 10"})


def test_never_against_a_date_leaves_both_open() -> None:
    """Neither 'never' nor the day may decide an answer."""
    told = case({"vehicle.first_registered": "never", "vehicle.built": None},
                [paper(OLD, vehicle__first_registered="1963-05-17")])
    registered = told.value("vehicle.first_registered")

    assert say(registered) == "either 17 May 1963 or never"
    assert registered.answer is None and not registered.exact


def test_two_currencies_leave_the_declared_amount() -> None:
    told = case({"purchase.price": "4200 XTS"}, [paper("invoice", purchase__price="4900 EUR")])

    assert say(told.value("purchase.price")) == "XTS\N{NO-BREAK SPACE}4,200.00"


def test_dates_out_of_order_keep_both_open() -> None:
    told = case({"vehicle.built": None},
                [paper(LETTER, vehicle__built="1970"),
                 paper(OLD, vehicle__first_registered="1963")])

    for name in ("vehicle.built", "vehicle.first_registered"):
        found = told.value(name)
        assert found.low <= date(1963, 6, 1).toordinal() <= found.high
        assert not found.exact


def test_telling_a_fact_in_thought_overrides_what_papers_show() -> None:
    """Asking 'what if it were of 1970?' must not be argued with."""
    told = case({"vehicle.built": None}, [paper(LETTER, vehicle__built="1962")])
    supposed = case({"vehicle.built": "1970"}).facts["vehicle.built"]

    assert say(told.with_facts({"vehicle.built": supposed}).value("vehicle.built")) == "1970"


def test_the_answer_says_on_whose_word_it_stands() -> None:
    found = assessed({"vehicle.built": None}, [paper(LETTER, vehicle__built="2020")])
    lines = [say(line) for line in resting_lines(found, found.finding("approve-it"))]
    declared = assessed({"vehicle.built": "2020"})
    contested = assessed({"vehicle.built": "2020"}, [paper(LETTER, vehicle__built="1962")])

    assert lines == ["built: shown by 'Dating letter'"]
    assert [say(line) for line in resting_lines(declared, declared.finding("approve-it"))] == [
        "declared, shown by no paper: built"]
    assert [say(line) for line in resting_lines(contested, contested.finding("approve-it"))] == [
        "built: 'Dating letter' and others disagree, so it stays open between them"]


def test_the_json_says_what_shown_facts_rest_on() -> None:
    document = assessed({"vehicle.built": "1962"},
                        [paper(LETTER, "L 1", vehicle__built="1962-05")]).to_dict()

    assert document["facts_shown_by_papers"] == [{
        "fact": "vehicle.built", "value": "May 1962", "agreement": "the same",
        "rests_on": [
            {"declared": True},
            {"declared": False, "evidence": "dating-letter", "title": "Dating letter",
             "reference": "L 1"},
        ],
    }]
