"""Exact answers: own diagrams against z3 on the same questions, a whole diff, and growth.

Run: python -m tests.benchmarks.cells. Ratios compare what was measured in the same run.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from itertools import combinations
from typing import Any

from regkit.compare.changes import as_of, compare
from regkit.conditions import All, AnyOf, NoneOf, Test
from regkit.conditions.cells import Cells
from regkit.judge.law import law_on
from regkit.model.case import Case
from regkit.model.ruleset import History, Ruleset
from regkit.read.released import released_versions
from regkit.read.sides import read_side
from tests.referee import Referee
from tests.rulesets_under_test import NAMES, ruleset

ON = date(2026, 4, 1)


def seconds(run: Callable[[], Any]) -> float:
    begun = time.perf_counter()
    run()
    return time.perf_counter() - begun


def median(run: Callable[[], Any], rounds: int = 5) -> float:
    return statistics.median(seconds(run) for _ in range(rounds))


def against_z3(rules: Ruleset) -> None:
    law = law_on(rules, ON)
    view = law.view(Case(rules.jurisdiction, {}, vocabulary=rules.vocabulary))
    pairs = [(one.when, other.when)
             for histories in (rules.definitions, rules.requirements)
             for history in histories.values()
             for one, other in combinations(history.editions, 2)]
    if not pairs:
        return

    def own() -> None:
        cells = Cells(view)
        for one, other in pairs:
            cells.diagrams.differ(cells.draw(one), cells.draw(other))

    def z3() -> None:
        for one, other in pairs:
            referee = Referee(law.definitions, law.day)
            referee.differ(referee.formula(one), referee.formula(other))

    mine, theirs = median(own), median(z3, 3)
    print(f"{rules.jurisdiction:7} {len(pairs):4} pairs of editions: own {mine * 1e3:8.1f} ms, "
          f"z3 {theirs * 1e3:8.1f} ms, z3 / own {theirs / mine:6.1f}")


def whole_diff(rules: Ruleset) -> None:
    first, last = date(1980, 1, 1), date(2049, 12, 31)
    same = seconds(lambda: compare(rules, rules, first, last, ON))
    days = as_of(rules, date(2016, 1, 1)), as_of(rules, ON)
    law = seconds(lambda: compare(*days, first, last, ON))
    print(f"{rules.jurisdiction:7} 70 years: with itself {same:6.2f} s, law of 2016 with law of "
          f"2026 {law:6.2f} s", flush=True)


def released_diff(code: str) -> None:
    """Diff the first and the last released version, as `regkit diff` does."""
    versions = [name for name in released_versions() if name.split("@")[0] == code]
    if len(versions) < 2:
        return
    old, new = (read_side(versions[at]) for at in (0, -1))
    took = seconds(lambda: compare(old.ruleset, new.ruleset, date(1980, 1, 1), date(2049, 12, 31),
                                   ON, (old.written, new.written)))
    print(f"{code:7} 70 years: {old.label} with {new.label} {took:6.2f} s", flush=True)


def growing(rules: Ruleset, count: int) -> float:
    """Return the seconds for diffing a ruleset of so many requirements with a changed twin."""
    tests = [node for history in rules.requirements.values() for edition in history.editions
             for node in edition.when.walk() if isinstance(node, Test)]
    tests += [node for history in rules.definitions.values() for edition in history.editions
              for node in edition.when.walk() if isinstance(node, Test)]
    model = next(iter(rules.requirements.values())).latest

    def made(shift: int) -> Ruleset:
        found = {}
        for at in range(count):
            own = [tests[(at * 7 + n * 5 + shift) % len(tests)] for n in range(6)]
            when = All((own[0], AnyOf((own[1], own[2])), NoneOf((own[3], All((own[4], own[5]))))))
            edition = replace(model, id=f"r{at}", when=when, first=None, last=None, needs=(),
                              window=None, on_event="")
            found[f"r{at}"] = History(f"r{at}", (edition,))
        return replace(rules, requirements=found, digest=f"grown {count} {shift}")

    old, new = made(0), made(1)
    half = {**new.requirements, **{f"r{at}": old.requirements[f"r{at}"]
                                   for at in range(0, count, 2)}}
    mixed = replace(new, requirements=half, digest=f"grown {count} mixed")
    return seconds(lambda: compare(old, mixed, date(2020, 1, 1), date(2029, 12, 31), ON))


def main() -> None:
    for name in NAMES:
        against_z3(ruleset(name))
    for name in NAMES:
        whole_diff(ruleset(name))
        released_diff(name)
    base = 0.0
    for count in (10, 100, 1000):
        took = growing(ruleset("GB"), count)
        base = base or took
        print(f"{count:5} requirements, half of them rewritten, ten years: {took:7.2f} s "
              f"({took / base:6.1f} times that of 10)", flush=True)


if __name__ == "__main__":
    main()
