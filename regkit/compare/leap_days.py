"""Two sides that differ in which day completes a year where there is no 29 February.

What lies between two dates is one variable of the diagrams. Where the sides reckon it otherwise, it
becomes two, so that the difference is seen. How long ago a date is shows in the cuts themselves, on
28 February and 1 March alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from regkit.compare.rewriting import entries_rewritten
from regkit.conditions import Test
from regkit.conditions.diagram import BEGINNING, FALSE, NEVER_DAY, Diagrams, Line, Node
from regkit.conditions.kinds.elapsed import Elapsed
from regkit.model.ruleset import Ruleset


def reckoned_apart(ruleset: Ruleset) -> Ruleset:
    """Return a ruleset whose periods between two dates say by which rule they are reckoned."""
    def apart(value: Any) -> Any:
        if isinstance(value, Elapsed) and value.length.follows_leap_day:
            return replace(value, leap_day=ruleset.leap_day)
        return value

    return replace(ruleset, digest=f"{ruleset.digest} by its own rule for 29 February",
                   **entries_rewritten(ruleset, apart))


def never_so(test: Test, tests: Mapping[str, Test], diagrams: Diagrams) -> Node:
    """Return where a period would be complete by the two rules on days on which it never is.

    By the one rule it is complete on the same day as by the other, or a day earlier.
    """
    if not isinstance(test, Elapsed) or test.leap_day != "28 February":
        return FALSE
    twin = replace(test, leap_day="1 March")
    if twin.key not in tests:
        return FALSE

    def early(*part: Any) -> Node:
        return diagrams.where(Line(test.key, test.facts), [part])

    def late(*part: Any) -> Node:
        return diagrams.where(Line(twin.key, test.facts), [part])

    return diagrams.some((
        diagrams.differ(early(NEVER_DAY, None), late(NEVER_DAY, None)),
        *(diagrams.both(early(BEGINNING, bound), late(bound, NEVER_DAY)) for bound in (0, 1)),
        diagrams.both(early(1, NEVER_DAY), late(BEGINNING, 0)),
    ))


def turning_days(first: date, last: date) -> Iterator[date]:
    """Yield the days of a span on which the two rules may differ in how long ago a date is."""
    for year in range(first.year, last.year + 1):
        # A year from 29 February is complete on one of these; more than a year ago begins a day on.
        yield from (day for day in (date(year, 2, 28), date(year, 3, 1)) if first <= day <= last)
