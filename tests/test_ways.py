"""The cheapest and the fastest way, against trying every combination there is."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import product
from math import prod
from pathlib import Path
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

import regkit
from regkit.judge.choices import best, fastest
from regkit.judge.needs import OpenNeed
from regkit.judge.network import Network
from regkit.language import Text
from regkit.model.calendar import Period
from regkit.model.plan import Missing
from regkit.model.ruleset import Evidence, History, Requirement
from regkit.model.window import Duration

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
ON = date(2026, 3, 10)


@st.composite
def networks(draw: st.DrawFn) -> Network:
    """A network of up to six steps; each need may be met by steps or by papers from outside."""
    count = draw(st.integers(1, 6))
    papers = ("p", "q", "r")
    lengths = st.one_of(st.none(), st.builds(
        lambda least, more: Duration(Period(least, "days"), Period(least + more, "days")),
        st.integers(0, 9), st.integers(0, 9)))
    steps, needs = {}, {}
    for at in range(count):
        steps[str(at)] = Requirement(
            id=str(at), title=Text.of("step"), why=Text.of(""), stage="", authority="",
            when=None, takes=draw(lengths), charges=(f"fee-{at}",))  # type: ignore[arg-type]
        way = st.frozensets(st.one_of(
            st.sampled_from(papers).map(lambda name: Missing(name, outside=True)),
            st.integers(0, count - 1).map(lambda step: Missing(f"e{step}", str(step))),
        ), min_size=1, max_size=2)
        needs[str(at)] = tuple(
            OpenNeed(tuple(ways), False)
            for ways in draw(st.lists(st.lists(way, min_size=1, max_size=3, unique=True),
                                      max_size=2)))
    prices = {f"fee-{at}": Decimal(draw(st.integers(0, 9))) for at in range(count)}
    prices |= {f"fee-{name}": Decimal(draw(st.integers(0, 9))) for name in papers}
    evidence = {
        name: History(name, (Evidence(id=name, title=Text.of(name), from_outside=True,
                                      takes=draw(lengths), charges=(f"fee-{name}",)),))
        for name in papers
    } | {f"e{at}": History(f"e{at}", (Evidence(id=f"e{at}", title=Text.of("e")),))
         for at in range(count)}
    fee = ISLAND.charges["letter-fee"]
    ruleset = replace(ISLAND, evidence=evidence, charges=dict.fromkeys(prices, fee), sources={})
    return Network(ruleset, ON, steps, needs, ("0",), dict.fromkeys(steps, ON),
                   lambda name: (prices[name], prices[name]))


def every_selection(network: Network) -> list[Any]:
    points = network.points
    sizes = [range(len(network.needs[step][at].ways)) for step, at in points]
    assume(prod(map(len, sizes)) <= 1024)
    return [dict(zip(points, picked, strict=True)) for picked in product(*sizes)]


def every_outcome(network: Network) -> list[Any]:
    return [network.outcome(selection) for selection in every_selection(network)]


@settings(max_examples=80, deadline=None)
@given(networks())
def test_cheapest_and_fastest_are_the_best_of_all_combinations(network: Network) -> None:
    chosen, found, exact = best(network)
    assume(exact)
    feasible = [one for one in every_outcome(network) if not one.schedule.stuck]
    assert bool(chosen.outcome.schedule.stuck) == (not feasible)
    if not feasible:
        return
    assert chosen.outcome.schedule.end == min(one.schedule.end for one in feasible)
    for choice in found:
        cheap = choice.ways[choice.cheapest].cost
        assert cheap is not None
        assert cheap.most == min(one.cost.most for one in feasible
                                 if choice.requirement in one.steps)


@settings(max_examples=80, deadline=None)
@given(networks())
def test_beyond_the_bound_the_fastest_is_still_exact(network: Network) -> None:
    feasible = [one for one in every_outcome(network) if not one.schedule.stuck]
    found = network.outcome(fastest(network)).schedule
    assert bool(found.stuck) == (not feasible)
    if feasible:
        assert found.end == min(one.schedule.end for one in feasible)
