"""Exact answers: undecided only if both can still come true; checked by trying every vehicle."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, assume, example, given, settings
from hypothesis import strategies as st

import regkit
from regkit.conditions import AnyOf, NoneOf, Open
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.exact import Exact, may_hide_an_answer
from regkit.judge.law import law_on
from regkit.judge.settling import ways_to_settle
from regkit.model.assessment import Exactness, Outcome, Verdict
from tests import small_world
from tests.drawn_cases import cases, days_of_assessment
from tests.drawn_cases import read as read_drawn
from tests.rulesets_under_test import NAMES, ruleset

# Not shrunk: a smaller failing example is not worth trying every vehicle a thousand times.
many = settings(max_examples=150, deadline=None, phases=[Phase.explicit, Phase.generate],
                suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])


def exact_truth(told: dict[str, Any], written: Any) -> Truth:
    return Exact(small_world.view(told)).truth(small_world.read(written))


def tried(told: dict[str, Any], written: Any) -> set[bool]:
    """Return what the condition comes out as, over every possible vehicle."""
    facts = small_world.facts_of(written)
    return {small_world.holds(written, world) for world in small_world.worlds(told, facts)}


@many
@given(told=small_world.told, written=small_world.written_conditions)
def test_undecided_means_that_both_can_still_come_true(told: dict[str, Any], written: Any) -> None:
    """Brute force over every vehicle of a small world gives the same three answers."""
    found = tried(told, written)
    assume(found)  # else what is told contradicts itself, which reading a case refuses

    expected = UNDECIDED if len(found) == 2 else YES if found == {True} else NO
    assert exact_truth(told, written) == expected


@many
@given(told=small_world.told_numbers, written=small_world.number_conditions)
def test_numbers_that_are_compared_are_settled_exactly(told: dict[str, Any], written: Any) -> None:
    """Brute force over two numbers in every place between the cuts and in every order."""
    found = tried(told, written)

    expected = UNDECIDED if len(found) == 2 else YES if found == {True} else NO
    assert exact_truth(told, written) == expected


@many
@given(told=small_world.told, written=small_world.written_conditions)
def test_exact_refines_kleene(told: dict[str, Any], written: Any) -> None:
    """Whatever Kleene's logic settles stays so."""
    condition, view = small_world.read(written), small_world.view(told)
    kleene = condition.truth(view)

    assert kleene in (UNDECIDED, Exact(view).truth(condition)) or not tried(told, written)


@settings(many, max_examples=300)
@given(told=small_world.told, written=small_world.tests | small_world.written_conditions)
@example({}, {"v.hue": ["red", "green", "blue"]})
def test_where_nothing_can_hide_kleene_is_exact(told: dict[str, Any], written: Any) -> None:
    """Deciding exactly is left out only where it would find nothing."""
    condition, view = small_world.read(written), small_world.view(told)
    assume(tried(told, written))
    if not may_hide_an_answer(condition, {}, view.day, small_world.VOCABULARY):
        assert Exact(view).truth(condition) == condition.truth(view)


def test_a_question_asked_twice_can_hide_an_answer() -> None:
    """However it is answered (M41)."""
    twice = AnyOf((Open("is-it-so"), NoneOf((Open("is-it-so"),))))
    view = small_world.view({})

    assert may_hide_an_answer(twice, {}, view.day, small_world.VOCABULARY)
    assert (twice.truth(view), Exact(view).truth(twice)) == (UNDECIDED, YES)


@pytest.mark.parametrize(("written", "told", "expected"), [
    ({"any": [{"v.old": "yes"}, {"v.old": "no"}]}, {}, YES),
    ({"any": [{"v.old": "yes"}, {"none": [{"v.old": "yes"}]}]}, {"v.old": "unknown"}, YES),
    ({"any": [{"v.hue": ["red", "green"]}, {"v.hue": "blue"}]}, {}, YES),
    ({"all": [{"v.size": {"less than": "2 cc"}}, {"v.size": {"more than": "3 cc"}}]}, {}, NO),
    ({"v.size": {"at least": "0 cc"}}, {}, YES),
    # Built no later than sold: what is sold before a day was built before it.
    ({"any": [{"v.built": {"before": "2020-01-03"}}, {"v.sold": {"on or after": "2020-01-03"}},
              {"v.sold": "never"}]}, {}, YES),
    # Built by a day and sold after it: sold later than built, unless it never was sold.
    ({"any": [{"v.sold": "never"}, {"v.sold": {"on or before": "2020-01-03"}},
              {"v.built": {"after": "2020-01-03"}},
              {"v.built": {"more than": "0 days before v.sold"}}]}, {}, YES),
    # Six days cannot lie between two dates of the same week.
    ({"v.built": {"at least": "6 days before v.sold"}}, {"v.built": (0, 3), "v.sold": (2, 5)}, NO),
    # A whole calendar year apart, and not: pushed on and on, to the end of the calendar.
    ({"all": [{"v.built": {"at least": "400 calendar years before v.sold"}},
              {"v.sold": {"at least": "0 calendar years before v.built"}}]}, {}, NO),
    # 40 days are more than any month; two months can be 59 days, and four years once in a century
    # but 1,460, though 3,000 steps from the first day told do not get there.
    ({"all": [{"v.built": {"at least": "40 days before v.sold"}},
              {"v.built": {"at most": "1 months before v.sold"}}]}, {}, NO),
    # The same two months cannot be over and not be over.
    ({"all": [{"v.built": {"at least": "2 months before v.sold"}},
              {"v.seen": {"less than": "2 months after v.built"}},
              {"v.seen": {"at least": "0 days after v.sold"}}]}, {}, NO),
    ({"all": [{"v.built": {"at least": "2 months before v.sold"}},
              {"v.built": {"at most": "59 days before v.sold"}}]},
     {"v.built": (60, 500)}, UNDECIDED),
    ({"all": [{"v.built": {"at least": "4 years before v.sold"}},
              {"v.built": {"at most": "1460 days before v.sold"}}]},
     {"v.built": (60, 40_000)}, UNDECIDED),
    ({"v.hue": ["red", "green", "blue"]}, {}, YES),
    ({"v.old": "yes"}, {}, UNDECIDED),
])
def test_settled_either_way(written: Any, told: dict[str, Any], expected: Truth) -> None:
    """Cases worked out by hand."""
    assert exact_truth(told, written) == expected


@settings(many, max_examples=120)
@given(told=small_world.told, written=small_world.written_conditions)
def test_the_smallest_sets_settle_and_no_smaller_set_does(
    told: dict[str, Any], written: Any
) -> None:
    """Some answers to each set settle the condition; and no single date, or fact if there is none,
    does that is not named.
    """
    exact, condition = Exact(small_world.view(told)), small_world.read(written)
    assume(exact.truth(condition) == UNDECIDED)
    assume(tried(told, {"v.built": "never"}))  # else what is told contradicts itself
    facts = small_world.facts_of(written)
    possible = list(small_world.worlds(told, facts))
    outcomes = [small_world.holds(written, world) for world in possible]

    def settle(names: tuple[str, ...]) -> bool:
        seen: dict[Any, set[bool]] = {}
        for world, outcome in zip(possible, outcomes, strict=True):
            told_now = tuple((world.real[n], n in world.unknown) for n in names)
            seen.setdefault(told_now, set()).add(outcome)
        return any(len(found) == 1 for found in seen.values())

    sets = ways_to_settle(exact, condition).smallest
    for names in sets:
        assert settle(names), names
    dates = {"v.built", "v.sold"}
    # Where dates bound each other, another fact may settle what a day of one leaves to the other.
    compared = dates if facts & dates else facts
    alone = {name for name in compared if settle((name,))}
    assert alone == {names[0] for names in sets if len(names) == 1} & compared


@pytest.mark.parametrize(("written", "expected"), [
    ({"v.built": {"before": "2020-01-01"}}, Exactness("v.built", "year")),
    ({"v.built": {"before": "2020-06-01"}}, Exactness("v.built", "month", (2020,))),
    ({"v.built": {"before": "2020-06-17"}}, Exactness("v.built", "day", (2020,))),
    ({"all": [{"v.built": {"on or after": "2019-01-01"}}, {"v.built": {"before": "2020-06-01"}}]},
     Exactness("v.built", "month", (2020,))),
])
def test_how_exact_is_enough(written: Any, expected: Exactness) -> None:
    """The year is enough, or is not in a certain year, where the month or the day decides."""
    assert ways_to_settle(Exact(small_world.view({})), small_world.read(written)).exactness == (
        expected,)


@pytest.mark.parametrize("name", NAMES)
@settings(many, max_examples=60)
@given(data=st.data(), on=days_of_assessment)
def test_verdicts_and_findings_agree(name: str, data: st.DataObject, on: Any) -> None:
    """The fast verdict, the finding and its reason say the same; so do classes and their uses."""
    rules = ruleset(name)
    case = read_drawn(rules, data.draw(cases(rules, on)))
    assume(case is not None)
    assert case is not None
    assessment = regkit.assess(case, rules, on)
    for finding in assessment.findings:
        assert finding.verdict == assessment.verdicts[finding.id]
        assert (finding.reason.outcome == Outcome.UNDECIDED) == (
            finding.verdict == Verdict.UNDECIDED)
    said = {found.id: found.outcome for found in assessment.classes}
    for finding in assessment.findings:
        for node in finding.reason.deciding():
            if node.kind == "definition" and node.name in said:
                assert node.outcome == said[node.name]


@pytest.mark.parametrize("name", NAMES)
@settings(many, max_examples=40)
@given(data=st.data(), on=days_of_assessment)
def test_only_tested_once_means_kleene_is_exact(name: str, data: st.DataObject, on: Any) -> None:
    """Where a law says that nothing can hide, deciding exactly finds nothing."""
    rules = ruleset(name)
    case = read_drawn(rules, data.draw(cases(rules, on)))
    assume(case is not None)
    assert case is not None
    law = law_on(rules, on)
    exact = Exact(law.view(case))
    for requirement, condition in law.requirements.items():
        if condition is not None and requirement not in law.may_hide:
            assert exact.truth(condition) == condition.truth(exact.view)
