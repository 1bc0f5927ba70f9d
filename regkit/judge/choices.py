"""Choosing among ways: which is cheapest, which is fastest.

Up to `MOST_COMBINATIONS` combinations of ways all are tried, so both are exact. Beyond that the
fastest is still exact, since a step's earliest day depends on each need alone; the cheapest is then
the best of each choice by itself, beside the fastest of the others, and the plan says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import product
from math import prod

from regkit.judge.network import Network, Outcome, Point, Selection
from regkit.model.plan import Choice, Missing, Way
from regkit.model.ruleset import SOURCE_KINDS

MOST_COMBINATIONS = 1024


@dataclass(frozen=True, slots=True)
class Tried:
    """A selection of ways and what it comes to."""

    selection: Selection
    outcome: Outcome


def best(network: Network) -> tuple[Tried, tuple[Choice, ...], bool]:
    """Return the fastest selection, the choices it makes side by side, and whether all is exact."""
    points = network.points
    exact = prod(len(_ways(network, point)) for point in points) <= MOST_COMBINATIONS
    exact = exact and not any(need.cut_off for needs in network.needs.values() for need in needs)
    tried = list(_every(network, points) if exact else _each(network, points))
    chosen = min(tried, key=lambda one: (*one.outcome.fast, *one.outcome.cheap))
    taken = [point for point in points if point[0] in chosen.outcome.steps]
    return chosen, tuple(_choice(network, point, tried, chosen) for point in taken), exact


def fastest(network: Network) -> Selection:
    """Return the selection in which every step is finished as early as it can be.

    Each step takes, for each need, the way that is ready first; a way is kept only when it makes
    the step earlier, so that no two steps ever wait for each other.
    """
    finish: dict[str, date] = {}
    selection: dict[Point, int] = {}

    def ready(part: Missing) -> date:
        if part.step:
            return finish.get(part.step, date.max)
        takes = network.ruleset.evidence[part.evidence].latest.takes
        return takes.most.after(network.on) if takes else network.on

    improved = True
    while improved:
        improved = False
        for name, step in network.steps.items():
            start, ways = network.not_before[name], {}
            for at, need in enumerate(network.needs[name]):
                days = [max(map(ready, way)) for way in need.ways] or (
                    [network.on] if need.perhaps else [date.max])
                ways[name, at] = days.index(min(days))
                start = max(start, min(days))
            if start == date.max:
                continue
            end = step.takes.most.after(start) if step.takes else start
            if end < finish.get(name, date.max):
                finish[name], improved = end, True
                selection.update(ways)
    return {point: selection.get(point, 0) for point in network.points}


def _ways(network: Network, point: Point) -> tuple[object, ...]:
    return network.needs[point[0]][point[1]].ways


def _every(network: Network, points: tuple[Point, ...]) -> Iterator[Tried]:
    for picked in product(*(range(len(_ways(network, point))) for point in points)):
        selection = dict(zip(points, picked, strict=True))
        yield Tried(selection, network.outcome(selection))


def _each(network: Network, points: tuple[Point, ...]) -> Iterator[Tried]:
    """Try each way of each choice beside the fastest ways of the others."""
    base = dict(fastest(network))
    yield Tried(base, network.outcome(base))
    for point in points:
        for way in range(len(_ways(network, point))):
            selection = {**base, point: way}
            yield Tried(selection, network.outcome(selection))


def _choice(network: Network, point: Point, tried: list[Tried], chosen: Tried) -> Choice:
    step, at = point
    need = network.needs[step][at]
    fast, cheap = [], []
    for way in range(len(need.ways)):
        here = [one for one in tried
                if one.selection.get(point, 0) == way and step in one.outcome.steps]
        fast.append(min(here, key=lambda one: (*_done_by(one, step), *one.outcome.fast)))
        cheap.append(min(here, key=lambda one: one.outcome.cheap))
    return Choice(
        requirement=step,
        ways=tuple(_way(network, point, way, fast[way], cheap[way])
                   for way in range(len(need.ways))),
        chosen=chosen.selection.get(point, 0),
        fastest=_first(range(len(fast)), lambda way: (
            *_done_by(fast[way], step), *fast[way].outcome.fast, *fast[way].outcome.cheap)),
        cheapest=_first(range(len(cheap)), lambda way: (
            *cheap[way].outcome.cheap, *_done_by(cheap[way], step))),
    )


def _first(ways: Iterable[int], key: object) -> int:
    return min(ways, key=key)  # type: ignore[call-overload, no-any-return]


def _done_by(one: Tried, step: str) -> tuple[int, int]:
    days = one.outcome.schedule.finish.get(step)
    return (days.last.toordinal(), days.first.toordinal()) if days else (10**9, 10**9)


def _way(network: Network, point: Point, way: int, fast: Tried, cheap: Tried) -> Way:
    step, at = point
    parts = sorted(network.needs[step][at].ways[way], key=lambda part: part.evidence)
    steps = [network.steps[name] for name in fast.outcome.steps]
    sources = network.ruleset.sources
    kinds = [sources[name].kind for name in _rests_on(network, point, way)]
    return Way(
        papers=tuple(part.evidence for part in parts if part.outside),
        steps=tuple(part.step for part in parts if part.step),
        finish=fast.outcome.schedule.finish.get(step),
        cost=None if cheap.outcome.schedule.stuck else cheap.outcome.cost,
        papers_to_get=len(cheap.outcome.papers),
        undecided=sum(part.perhaps for part in parts),
        open_questions=len({name for one in steps for name in one.questions}),
        untimed=tuple(part.evidence for part in parts if part.outside
                      and network.ruleset.evidence[part.evidence].latest.takes is None),
        weakest=max(kinds, key=SOURCE_KINDS.index, default=""),
    )


def _rests_on(network: Network, point: Point, way: int) -> Iterator[str]:
    for part in network.needs[point[0]][point[1]].ways[way]:
        evidence = network.ruleset.evidence[part.evidence].latest
        yield from evidence.sources
        for takes in (evidence.takes, network.steps[part.step].takes if part.step else None):
            yield from takes.sources if takes else ()
        if part.step:
            yield from network.steps[part.step].sources
