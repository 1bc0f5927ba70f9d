"""Order from needs and gives: who gives what, and steps that wait for each other in a circle."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from regkit.model.ruleset import Need, Requirement, Ruleset


def givers(requirements: Iterable[Requirement]) -> dict[str, tuple[str, ...]]:
    """Return for each paper the requirements that give it."""
    found: dict[str, list[str]] = {}
    for requirement in requirements:
        for evidence in requirement.gives:
            found.setdefault(evidence, []).append(requirement.id)
    return {evidence: tuple(names) for evidence, names in found.items()}


def circle(waits_for: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """Return the names along a circle, its first name also last; empty if there is none."""
    finished: set[str] = set()
    for start in waits_for:
        trail, ways = [start], [iter(waits_for[start])]
        while ways and start not in finished:
            step = next(ways[-1], None)
            if step is None:
                finished.add(trail.pop())
                ways.pop()
            elif step in trail:
                return (*trail[trail.index(step):], step)
            elif step not in finished and step in waits_for:
                trail.append(step)
                ways.append(iter(waits_for[step]))
    return ()


def order_circle(ruleset: Ruleset, on: date, conditional: bool = False) -> tuple[str, ...]:
    """Return the names along a circle of requirements that can never be done; empty if none.

    A requirement waits only for papers that every way to it needs and that nothing else gives, not
    even somebody outside. Each name is a requirement; the first is also last.

    Args:
        conditional: count also needs that a condition may switch off, which may never meet in one
            case; a circle of these is a warning, one of the others an error.
    """
    current = [edition for history in ruleset.requirements.values()
               if (edition := history.on(on)) is not None]
    given_by = givers(current)
    outside = {
        name for name, history in ruleset.evidence.items()
        if history.latest.from_outside
    }
    outside |= {stood for name in outside for stood in ruleset.evidence[name].latest.stands_in_for}

    def must(need: Need) -> Iterator[str]:
        if need.when is not None and not conditional:
            return
        if need.evidence:
            steps = given_by.get(need.evidence, ())
            if need.evidence not in outside and len(steps) == 1:
                yield steps[0]
        elif need.count == len(need.parts):
            for part in need.parts:
                yield from must(part)

    return circle({
        edition.id: tuple(dict.fromkeys(step for need in edition.needs for step in must(need)))
        for edition in current
    })
