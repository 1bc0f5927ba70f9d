"""How many questions are asked, over all worked examples: against the vocabulary and the optimum.

Each example is completed to a vehicle of which everything is known: what the example leaves
open is drawn, always the same way, and so is one day of a date that it gives as a month or a year,
which would be asked for again. Then questions are asked until no finding can change. The
optimum is the smallest set of facts that settles the same findings of this vehicle, chosen by
one who knows all the answers beforehand; it is found exactly by implicit hitting sets (z3 picks
the sets), so no strategy can ask less. Run: python -m tests.benchmarks.asking [EVERY [CODE...]] to
take every so-manieth example of these rulesets.
"""

from __future__ import annotations

import random
import statistics
import sys
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

import z3

import regkit
from regkit.compare.next_question import next_question, open_findings
from regkit.conditions.diagram import way_to_true
from regkit.judge.exact import Exact
from regkit.judge.law import Law, law_on
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.ruleset import Example, Ruleset
from regkit.read.facts import read_value
from tests.rulesets_under_test import NAMES, ruleset

MOST_ROUNDS = 400
EARLIEST, LATEST = date(1900, 1, 1).toordinal(), date(2060, 1, 1).toordinal()


def value(fact: Fact, chance: random.Random, currency: str) -> Any:
    if fact.allowed is not None:
        return chance.choice(fact.allowed)
    if fact.type == "date":
        return str(date(1950, 1, 1) + timedelta(days=chance.randrange(27_000)))
    if fact.type in ("quantity", "money"):
        return f"{chance.choice([0, 1, 5, 40, 400, 4000])} {fact.unit or currency}"
    return chance.choice(["FR", "US", "JP", "DE"]) if fact.type == "country" else "A 1"


def exactly(fact: Fact, told: Any, chance: random.Random) -> Any:
    """Return what is told; of an inexact date one of its days, drawn."""
    value = read_value(fact, told)
    if fact.type != "date" or value.exact or value.word is not None:
        return told
    first, last = max(int(value.low), EARLIEST), min(int(value.high), LATEST)
    return str(date.fromordinal(chance.randint(first, last)))


def completed(example: Example, rules: Ruleset) -> Case | None:
    """Return the example's vehicle with everything told; None if no draw fits what it tells."""
    for seed in range(40):
        chance = random.Random(f"{example.id} {seed}")
        facts = {fact.name: value(fact, chance, rules.currency) for fact in rules.asked}
        facts |= {name: exactly(rules.vocabulary[name], told, chance)
                  for name, told in example.facts.items() if told != "unknown"}
        try:
            return regkit.read_case({"jurisdiction": rules.jurisdiction, "facts": facts}, rules)
        except regkit.Unreadable:
            continue
    return None


def part(whole: Case, names: Any) -> Case:
    return Case(whole.jurisdiction, {n: whole.facts[n] for n in names},
                vocabulary=whole.vocabulary)


def asked(law: Law, whole: Case) -> int:
    told: list[str] = []
    while (question := next_question(law, part(whole, told))) is not None:
        assert question.fact.name not in told, "what is told exactly is not asked for again"
        told.append(question.fact.name)
    return len(told)


def optimum(law: Law, whole: Case) -> int | None:
    """Return the size of the smallest certificate; None if it was not found in time."""
    aims = {name: Exact(law.view(whole)).truth(condition)
            for name, condition in law.requirements.items() if condition is not None}
    hit: list[frozenset[str]] = []
    for _ in range(MOST_ROUNDS):
        chosen = smallest(hit)
        wrong = other_world(law, whole, chosen, aims)
        if wrong is None:
            return len(chosen)
        hit.append(wrong)
    return None


def smallest(sets: list[frozenset[str]]) -> list[str]:
    solver = z3.Optimize()
    for one in sets:
        solver.add(z3.Or(*[z3.Bool(name) for name in one]))
    names = sorted(set().union(*sets)) if sets else []
    solver.minimize(z3.Sum([z3.If(z3.Bool(name), 1, 0) for name in names] or [z3.IntVal(0)]))
    assert solver.check() == z3.sat
    model = solver.model()
    return [name for name in names if z3.is_true(model[z3.Bool(name)])]


def other_world(law: Law, whole: Case, chosen: list[str], aims: Any) -> frozenset[str] | None:
    """Return facts one of which must be told as well; None if all findings are settled."""
    exact = Exact(law.view(part(whole, chosen)))
    for name, drawn in open_findings(law, exact):
        diagrams = exact.cells.diagrams
        aim = aims[name].word
        if aim == "undecided":
            continue
        against = diagrams.negate(drawn) if aim == "yes" else drawn
        differing: set[str] = set()
        for key, where in way_to_true(against).items():
            facts = exact.unsettled(key)
            test = exact.cells.tests.get(key)
            value = None if test is None else test.value(whole, law.day)
            if value is None or not _inside(value, where):
                differing |= facts
        if differing - set(chosen):
            return frozenset(differing - set(chosen))
    return None


def _inside(value: Any, where: Any) -> bool:
    if isinstance(where, tuple):
        low, high = where
        return bool(value.low >= low and (high is None or value.low < high))
    return where in (value.options or ()) if where is not None else False


def main(every: int, names: Sequence[str]) -> None:
    print(f"{'ruleset':8} {'examples':>8} {'facts':>6} {'asked':>6} {'optimum':>8} {'ratio':>6} "
          f"{'most':>5}")
    for name in names:
        rules = ruleset(name)
        counts: list[int] = []
        pairs: list[tuple[int, int]] = []
        for example in list(rules.examples.values())[::every]:
            whole = completed(example, rules)
            if whole is None:
                continue
            law = law_on(rules, example.on)
            counts.append(asked(law, whole))
            best = optimum(law, whole)
            if best is not None:
                pairs.append((counts[-1], best))
        if counts:
            least = statistics.mean(b for _, b in pairs)
            ratio = sum(a for a, _ in pairs) / max(sum(b for _, b in pairs), 1)
            print(f"{name:8} {len(counts):8} {len(rules.asked):6} {statistics.mean(counts):6.1f} "
                  f"{least:8.1f} {ratio:6.2f} {max(counts):5}", flush=True)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1, sys.argv[2:] or NAMES)
