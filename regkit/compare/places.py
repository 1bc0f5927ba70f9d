"""Boxes that move with the day of assessment: bounds as the places where tests cut."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import product
from typing import Any

from regkit.compare.eras import Eras, Span
from regkit.compare.regions import Box
from regkit.conditions import Test
from regkit.conditions.diagram import Part
from regkit.model.calendar import LeapDay


@dataclass(frozen=True)
class Place:
    """A bound of a region: fixed, or where a test cuts on each day by a rule for 29 February."""

    fixed: Any = None
    test: Test | None = None
    at: int = 0
    rule: LeapDay | None = None


Places = tuple[Any, ...]
"""The parts of a domain, the bounds of each a pair of places; words as they are."""

Placed = tuple[tuple[str, Places], ...]
"""A box whose bounds are places, so that it can be told for any day."""


def in_places(
    box: Box, on: date, span: Span, tests: list[Test], eras: Eras, rules: Iterable[LeapDay]
) -> Placed:
    """Return a box of one day by its places.

    Args:
        span: the days within which a bound may move, or is fixed.
        rules: the rules for 29 February by which tests cut.
    """
    def place(bound: Any, key: str) -> Place:
        moving: Place | None = None
        for rule, test in product(rules, tests):
            for at, cut in enumerate(eras.bounds(test, on, rule) if test.key == key else ()):
                if cut == bound:
                    if eras.bounds(test, span[0], rule) == eras.bounds(test, span[1], rule):
                        return Place(bound)
                    moving = moving or Place(None, test, at, rule)
        return moving or Place(bound)

    return tuple(
        (key, tuple(tuple(place(bound, key) for bound in part) if isinstance(part, tuple) else part
                    for part in parts))
        for key, parts in box.items())


def box_on(placed: Placed, day: date, eras: Eras) -> Box:
    """Return the box that lies at some places on a day."""
    return {name: parts_on(places, day, eras) for name, places in placed}


def parts_on(places: Places, day: date, eras: Eras) -> tuple[Part, ...]:
    """Return the parts that lie at some places on a day."""
    return tuple(
        tuple(p.fixed if p.test is None else eras.bounds(p.test, day, p.rule)[p.at] for p in part)
        if isinstance(part, tuple) else part
        for part in places)


def parts_within(places: Places, days: Span, eras: Eras) -> tuple[Part, ...]:
    """Return parts that hold those of each of some days.

    No bound ever moves back, so none reaches beyond where it begins on the first of them and ends
    on the last.
    """
    first, last = (parts_on(places, day, eras) for day in days)
    return tuple((one[0], other[1]) if isinstance(one, tuple) else one
                 for one, other in zip(first, last, strict=True))
