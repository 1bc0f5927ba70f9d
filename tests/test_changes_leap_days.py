"""The diff of two rulesets that count a year from 29 February to different days."""

from __future__ import annotations

import json
import tempfile
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from random import Random
from typing import Any, get_args

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

import regkit
from regkit.compare.changes import compare
from regkit.compare.leap_days import NoAnniversary, OldCells
from regkit.conditions.diagram import TRUE
from regkit.conditions.kinds.elapsed import Elapsed
from regkit.conditions.kinds.kind import COMPARISONS
from regkit.conditions.truth import YES
from regkit.conditions.view import LawDay, View
from regkit.language import speaker
from regkit.model.calendar import LeapDay, Period
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from regkit.model.values import days
from tests import small_ruleset
from tests.rulesets_under_test import ruleset
from tests.small_world import VOCABULARY
from tests.zedland_changed import FIRST, LAST, ONE_DAY, TODAY, effect

RULES: tuple[LeapDay, ...] = get_args(LeapDay)
BUILT, SOLD = VOCABULARY["v.built"], VOCABULARY["v.sold"]
SPAN = date(2019, 1, 1), date(2026, 12, 31)


def both(rules: Ruleset) -> tuple[Ruleset, Ruleset]:
    """Return a ruleset by either rule, the later day first."""
    early, late = (replace(rules, digest=f"{rules.digest} by {rule}", leap_day=rule)
                   for rule in RULES)
    return late, early


def loaded(when: Any) -> tuple[Ruleset, Ruleset]:
    with tempfile.TemporaryDirectory() as folder:
        return both(regkit.load(small_ruleset.write(Path(folder), definitions=json.dumps(
            {"old": {"title": "Old", "when": when, "sources": ["act"]}}))))


def answer(rules: Ruleset, facts: dict[str, Any], on: date) -> str:
    case = regkit.read_case({"jurisdiction": "QA", "facts": facts}, rules)
    return regkit.assess(case, rules, on).verdicts["paint-it"].value


@pytest.mark.parametrize(("comparison", "month", "day"), [
    ("at least", 2, 28), ("less than", 2, 28), ("more than", 3, 1), ("at most", 3, 1),
])
def test_how_long_ago_differs_on_one_day_of_some_years(
    comparison: str, month: int, day: int
) -> None:
    """25 years from 29 February 1996 are complete on 28 February or on 1 March 2021; more than 25
    begin the day after. Found by asking about each day of winter, and the same in the diff.
    """
    old, new = loaded({"thing.made": {comparison: "25 years ago"}})
    asked = [date(year, 2, 1) + n * ONE_DAY for year in range(SPAN[0].year, SPAN[1].year + 1)
             for n in range(45)]
    found = [(made, on) for made in ("1996-02-29", "2000-02-29", "1998-02-28") for on in asked
             if answer(old, {"thing.made": made}, on) != answer(new, {"thing.made": made}, on)]
    region, = effect(compare(old, new, *SPAN, TODAY), "paint-it").regions
    limit, = region.limits

    assert [on for _, on in found] == [date(2021, month, day), date(2025, month, day)]
    assert [on for first, last in region.days for on in {first, last}] == [on for _, on in found]
    assert (limit.spans, limit.spans_later) == (
        ((date(1996, 2, 29),) * 2,), ((date(2000, 2, 29),) * 2,))


_comparison = st.sampled_from(COMPARISONS)
_ago = st.tuples(st.sampled_from(["thing.made", "thing.sold"]), _comparison, st.sampled_from(
    ["1 years ago", "2 years ago", "12 months ago", "6 months ago", "2 calendar years ago"])).map(
    lambda t: {t[0]: {t[1]: t[2]}})
_between = st.tuples(_comparison, st.sampled_from(
    ["1 years", "2 years", "24 months", "6 months", "1 calendar years"])).map(
    lambda t: {"thing.sold": {t[0]: f"{t[1]} after thing.made"}})
written = st.recursive(_between | _ago, lambda inner: st.tuples(
    st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)
).map(lambda pair: {pair[0]: pair[1]}), max_leaves=3)

# Leap days, the days beside them, and those around their anniversaries.
MADE = [date(2020, 2, 28), date(2020, 2, 29), date(2020, 3, 1), date(2016, 2, 29)]
AROUND = [date(year, 2, 27) + n * ONE_DAY for year in (2017, 2018, 2020, 2021, 2022, 2023)
          for n in range(4)]


@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate],
          suppress_health_check=[HealthCheck.too_slow])
@given(written, st.randoms(use_true_random=False))
@example({"thing.sold": {"at least": "1 years after thing.made"}}, None)
@example({"all": [{"thing.sold": {"at most": "2 years after thing.made"}},
                  {"thing.made": {"more than": "2 years ago"}}]}, None)
@example({"all": [{"thing.made": {"less than": "2 years ago"}},
                  {"thing.sold": {"less than": "1 years after thing.made"}},
                  {"thing.made": {"at least": "6 months ago"}}]}, Random(1))
@example({"none": [{"thing.sold": {"more than": "12 months ago"}},
                   {"thing.made": {"at most": "12 months ago"}},
                   {"thing.sold": {"at least": "1 years after thing.made"}}]}, Random(1))
@example({"any": [{"thing.sold": {"less than": "6 months ago"}},
                  {"thing.sold": {"at least": "24 months after thing.made"}},
                  {"thing.sold": {"at most": "2 years after thing.made"}}]}, Random(1))
def test_where_assessing_both_sides_differs_the_diff_says_so(when: Any, chance: Any) -> None:
    """And nothing is left unproven; each vehicle shown is answered as its region says."""
    old, new = loaded(when)
    found = [one for one in compare(old, new, *SPAN, TODAY).effects if one.id == "paint-it"]
    regions = [region for one in found for region in one.regions]
    cases = [({"thing.made": str(made), "thing.sold": str(sold)}, on)
             for made in MADE for sold in AROUND for on in AROUND
             if made <= sold and SPAN[0] <= on]

    assert all(one.complete for one in found)
    for region in regions:
        assert region.witness is not None
        seen = dict(region.witness.facts), region.witness.on
        assert (answer(old, *seen), answer(new, *seen)) == (region.before, region.after)
    for facts, on in chance.sample(cases, 250) if chance else cases:
        outcomes = answer(old, facts, on), answer(new, facts, on)
        assert outcomes[0] == outcomes[1] or any(
            (region.before, region.after) == outcomes
            and any(first <= on <= last for first, last in region.days)
            for region in regions), (facts, on)


def test_a_period_between_two_dates_differs_for_a_29_february_alone() -> None:
    """Three years after it is one of two days, so the order of the two dates decides; six months
    after it is one day.
    """
    changes = compare(*both(ruleset("ZZ")), FIRST, LAST, TODAY)
    region, = effect(changes, "back-in-time").regions
    said = [speaker("en").say(limit.says) for limit in region.limits]

    assert all(one.complete for one in changes.effects)
    assert "long-kept" not in {one.id for one in changes.effects}
    assert (region.before, region.after) == ("yes", "no")
    assert said == ["from 'left this customs territory' to 'arrived' a day more than 3 years",
                    "left this customs territory on a 29 February that has no anniversary "
                    "after 3 years"]


_starts = st.sampled_from([date(2020, 2, 29), date(2096, 2, 29)]) | st.dates(
    date(2015, 1, 1), date(2025, 12, 31))


@settings(max_examples=300, deadline=None)
@given(_starts, _comparison, st.sampled_from([(1, "years"), (3, "years"), (4, "years"),
                                              (12, "months"), (18, "months")]),
       st.sampled_from(RULES), st.sampled_from(RULES), st.integers(-3, 3))
def test_the_old_side_is_drawn_as_it_reckons(
    built: date, comparison: str, period: Any, own: LeapDay, other: LeapDay, slip: int
) -> None:
    """The diagram in terms of the other rule is true exactly where the test holds by its own."""
    test, length = Elapsed(BUILT, comparison, Period(*period), "before", SOLD), Period(*period)
    sold = length.after(built, own) + slip * ONE_DAY
    nobody = View(Case("QA", {}, vocabulary=VOCABULARY), LawDay(TODAY, own), {}, {})
    told = View(replace(nobody.case, facts={"v.built": days(built, built),
                                            "v.sold": days(sold, sold)}), nobody.day, {}, {})

    apart = (sold - length.after(built, other)).days
    without = length.after(built, "28 February") != length.after(built, "1 March")
    cells = OldCells(nobody, rule=other)
    drawn = cells.test(test)
    for key, value in ((test.key, apart), (NoAnniversary(BUILT, length).key, int(without))):
        drawn = cells.diagrams.fixed(drawn, key, (value, value + 1))
    assert (drawn is TRUE) == (test.truth(told) == YES)


@settings(max_examples=60, deadline=None)
@given(st.dates(date(1890, 1, 1), date(2110, 12, 31)), st.sampled_from([1, 3, 4, 25, 30, 40]),
       st.booleans())
def test_the_next_day_without_an_anniversary(start: date, years: int, wanted: bool) -> None:
    """The first such day, or the first other day, is found by trying one after the other."""
    length = Period(years, "years")
    test = NoAnniversary(BUILT, length)
    inside = (1, float("inf")) if wanted else (float("-inf"), 0)
    found = date.fromordinal(test.earliest({"v.built": start.toordinal()}, inside,
                                           LawDay(TODAY))["v.built"])

    tried = start
    while (length.after(tried, "28 February") != length.after(tried, "1 March")) != wanted:
        tried += timedelta(days=1)
    assert found == tried
