"""How fast is a case assessed? Four ways side by side, in alternating rounds.

    python -m tests.benchmarks.assess
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from statistics import median
from time import perf_counter
from typing import Any

import regkit
from regkit.judge.law import law_on
from regkit.model.assessment import Verdict
from regkit.model.case import Case
from tests.benchmarks.forty import ON, case_of, functions, plain_cases, ruleset

CASES, ROUNDS = 200, 9


def measured(ways: dict[str, Callable[[], object]]) -> dict[str, float]:
    """Return the median seconds a case takes each way; the ways take turns."""
    times: dict[str, list[float]] = {name: [] for name in ways}
    for way in ways.values():
        way()
    for _ in range(ROUNDS):
        for name, way in ways.items():
            start = perf_counter()
            way()
            times[name].append((perf_counter() - start) / CASES)
    return {name: median(found) for name, found in times.items()}


def each(way: Callable[[Any], object], cases: Iterable[Any]) -> None:
    """Do something with every case; results are dropped, so that memory stays small."""
    for case in cases:
        way(case)


def main() -> None:
    """Check that all ways agree, then print a table."""
    rules, hand = ruleset(), functions()
    law = law_on(rules, ON)
    plain = list(plain_cases(CASES))
    cases = [case_of(case, rules) for case in plain]
    gappy = [case_of(case, rules) for case in plain_cases(CASES, unknown=0.05)]
    for one, case in zip(plain, cases, strict=True):
        ours = [verdict == Verdict.REQUIRED
                for verdict in regkit.assess(case, rules, ON).verdicts.values()]
        assert ours == [bool(function(one)) for function in hand]

    def verdicts(case: Case) -> object:
        return regkit.assess(case, rules, ON).verdicts

    def findings(case: Case) -> object:
        return regkit.assess(case, rules, ON).findings

    def walk(case: Case) -> object:
        view = law.view(case)
        return [condition.truth(view) for condition in conditions]

    def reasons(case: Case) -> object:
        view = law.view(case)
        return [condition.reason(view) for condition in conditions]

    conditions = [condition for condition in law.requirements.values() if condition is not None]
    ways: dict[str, Callable[[], object]] = {
        "40 hand-written functions": lambda: each(lambda case: [f(case) for f in hand], plain),
        "regkit, compiled truths": lambda: each(law.program.run, cases),
        "regkit, verdicts": lambda: each(verdicts, cases),
        "regkit, verdicts, 5 % of facts untold": lambda: each(verdicts, gappy),
        "regkit, walking the trees": lambda: each(walk, cases),
        "regkit, walking the trees for reasons": lambda: each(reasons, cases),
        "regkit, all findings with reasons": lambda: each(findings, cases),
        "the same, 5 % of facts untold": lambda: each(findings, gappy),
    }
    try:
        from tests.second_engine import SecondEngine

        engine = SecondEngine(law)
        for one, case in zip(plain, cases, strict=True):
            theirs = engine.required(case)
            assert [theirs[name] for name in rules.requirements] == [
                bool(function(one)) for function in hand]
        messages = [engine.message(case) for case in cases]
        ways["durable-rules, verdicts (messages ready)"] = lambda: each(engine.decide, messages)
    except ImportError:
        print("durable-rules is not installed: pip install 'regkit[durable]'")
    found = measured(ways)
    floor = found["40 hand-written functions"]
    print(f"40 requirements, {CASES} cases, medians of {ROUNDS} alternating rounds\n")
    print(f"{'way':44}{'µs a case':>10}{'against hand-written':>22}")
    for name, seconds in found.items():
        print(f"{name:44}{seconds * 1e6:10.1f}{seconds / floor:22.2f}")


if __name__ == "__main__":
    main()
