"""z3 as an independent referee: conditions as formulas over integers, reals and words.

Z3 (de Moura and Bjørner, TACAS 2008) knows nothing of cells or diagrams. Each fact is a variable of
its own sort; what a test cuts becomes a comparison. A period between two dates is a variable of its
own, as in the diagrams.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

import z3

from regkit.conditions import All, AnyOf, ByDate, Condition, Holds, NoneOf, NoRule, Open, Test
from regkit.conditions.cut import Among, Between
from regkit.conditions.diagram import BEGINNING, NEVER_DAY, Part, Variable
from regkit.conditions.view import LawDay, Named
from regkit.model.values import NEVER, UNKNOWN


class Referee:
    """Puts the conditions of one law into formulas; the same facts give the same variables."""

    def __init__(self, definitions: Mapping[str, Named], day: LawDay) -> None:
        self.definitions, self.day = definitions, day
        self.domains: dict[str, Any] = {}

    def formula(self, condition: Condition | None) -> Any:
        if condition is None or isinstance(condition, NoRule):
            return z3.BoolVal(False)
        if isinstance(condition, All):
            return z3.And(*[self.formula(part) for part in condition.conditions])
        if isinstance(condition, AnyOf):
            return z3.Or(*[self.formula(part) for part in condition.conditions])
        if isinstance(condition, NoneOf):
            return z3.Not(z3.Or(*[self.formula(part) for part in condition.conditions]))
        if isinstance(condition, Holds):
            return self.formula(self.definitions[condition.definition].condition)
        if isinstance(condition, Open):
            return z3.Bool(f"question {condition.question}")
        if isinstance(condition, ByDate):
            return z3.Or(*[z3.And(self.formula(when), self.formula(rule))
                           for when, rule in condition.spans])
        assert isinstance(condition, Test)
        return self._test(condition)

    def _test(self, test: Test) -> Any:
        cut = test.cut(self.day)
        if isinstance(cut, Between):
            value = z3.Real(test.key)
            never = z3.Bool(f"{test.key} never") if test.fact.type == "date" else False
            if test.fact.type in ("quantity", "money") and len(test.facts) == 1:
                self.domains[test.key] = value >= 0
            parts = [z3.Not(never)] if test.fact.type == "date" else []
            parts += [value >= _number(cut.low)] if cut.low is not None else []
            parts += [value < _number(cut.high)] if cut.high is not None else []
            return z3.And(*parts)
        return self._among(test, cut)

    def _among(self, test: Test, cut: Among) -> Any:
        word = z3.String(test.key)
        if test.fact.allowed is not None:
            self.domains[test.key] = z3.Or(*[word == w for w in test.fact.allowed])
        found = []
        for name in sorted(cut.words):
            if name == UNKNOWN:
                found.append(z3.Bool(f"{test.key} unknown"))
            elif name == NEVER and test.fact.type == "date":
                found.append(z3.Bool(f"{test.key} never"))
            else:
                found.append(word == name)
        passed = z3.Or(*found)
        return passed if cut.wanted else z3.Not(passed)

    def differ(self, one: Any, other: Any) -> bool:
        """Return whether some vehicle tells two formulas apart."""
        return self.possible(z3.Xor(one, other))

    def possible(self, *formulas: Any) -> bool:
        """Return whether some vehicle fulfils all of the formulas."""
        solver = z3.Solver()
        solver.add(*formulas, *self.domains.values())
        answer = solver.check()
        assert answer != z3.unknown
        return bool(answer == z3.sat)

    def inside(self, variable: Variable, part: Part, cuts: Iterable[Any]) -> Any:
        """Return that a variable of a diagram with these cuts lies in one part of its domain."""
        key = variable.key
        if variable.about == UNKNOWN:
            return z3.Bool(f"{variable.facts[0].name} unknown") == (part == "yes")
        if variable.about == "question":
            return z3.Bool(key) == (part == "yes")
        if not isinstance(part, tuple):
            word = z3.String(key)
            return word == part if part else z3.And(*[word != cut for cut in cuts])
        (low, high), value, never = part, z3.Real(key), z3.Bool(f"{key} never")
        if low == NEVER_DAY:
            return never
        between = z3.And(low == BEGINNING or value >= _number(low),
                         high in (None, NEVER_DAY) or value < _number(high))
        if variable.facts[0].type != "date":
            return between
        return z3.Or(never, between) if high is None else z3.And(z3.Not(never), between)


def _number(bound: Any) -> Any:
    if isinstance(bound, Decimal):
        return z3.Q(*Fraction(bound).as_integer_ratio())
    return z3.RealVal(int(bound))
