"""The *events* reading: a law's requirements as rules of durable-rules, a second engine.

Each test becomes comparisons on fields of one message, from where it cuts its fact's domain; groups
and definitions become its `&` and `|`. What durable-rules cannot do shapes the rest: it has no
negation of one message's expressions, so negation is pushed down to the tests; it cannot tell a
missing field from a false test, so every fact must be known; it refuses very large and very deep
rules, so they are split; names of its rulesets are global to the process, so each is fresh; the
same fact asserted twice clashes, so each is asserted and retracted; a rule with `|` may fire once
for each branch.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import reduce
from itertools import count
from operator import and_, eq, ge, lt, ne, or_
from typing import Any

from durable.engine import MessageNotHandledException
from durable.lang import assert_fact, m, retract_fact, ruleset, when_all

from regkit.conditions import (
    All,
    Among,
    AnyOf,
    ByDate,
    Condition,
    Holds,
    NoneOf,
    NoRule,
    Open,
    Test,
)
from regkit.judge.law import Law
from regkit.model.case import Case
from regkit.model.values import Value

SCALE = 10**7
"""Numbers are compared as whole multiples of the smallest step a cut can have."""

LARGEST = 60
"""Comparisons in one rule; a hundred alternatives are refused."""

DEEPEST = 4
"""Levels of `&` and `|` in one rule; some with five are refused (error 113)."""

_fresh = count()


class Unsettled(Exception):
    """The law itself leaves the condition open, which this engine cannot say."""


@dataclass(frozen=True)
class Comparison:
    """One comparison of a field of the message."""

    operator: Callable[[Any, Any], Any]
    field: str
    value: int | str


@dataclass(frozen=True)
class Joined:
    """Several expressions of which every one, or one, must hold."""

    every: bool
    parts: tuple[Expression, ...]


Expression = Comparison | Joined


def joined(every: bool, parts: Iterable[Expression]) -> Expression:
    """Join expressions; groups of the same sort become one."""
    flat: list[Expression] = []
    for part in parts:
        same = isinstance(part, Joined) and part.every == every
        flat += part.parts if same and isinstance(part, Joined) else [part]
    return flat[0] if len(flat) == 1 else Joined(every, tuple(dict.fromkeys(flat)))


ALWAYS, NEVER = Joined(True, ()), Joined(False, ())


class SecondEngine:
    """Decides the requirements of one law for fully known cases.

    Attributes:
        decides: the requirements it can decide: those that rest on no open question.
    """

    def __init__(self, law: Law) -> None:
        self.law = law
        self.tests: dict[str, Test] = {}
        self.fired: set[str] = set()
        self.decides: set[str] = set()
        self.name = f"law {next(_fresh)}"
        with ruleset(self.name):
            when_all(m.kind == "case")(lambda context: None)
            for requirement, condition in law.requirements.items():
                self._rules(requirement, condition)

    def _rules(self, requirement: str, condition: Condition | None) -> None:
        try:
            whole = NEVER if condition is None else self._express(condition, True)
        except Unsettled:
            return
        self.decides.add(requirement)
        for piece in pieces(whole):
            when_all(_durable(piece))(self._fire(requirement))

    def _fire(self, requirement: str) -> Callable[[Any], None]:
        return lambda context: self.fired.add(requirement)

    def required(self, case: Case) -> dict[str, bool]:
        """Return whether each requirement it decides applies to a fully known case."""
        fired = self.decide(self.message(case))
        return {name: name in fired for name in self.decides}

    def decide(self, message: dict[str, Any]) -> set[str]:
        """Return the requirements whose rules fire on a message."""
        self.fired.clear()
        try:
            assert_fact(self.name, message)
            retract_fact(self.name, message)
        except MessageNotHandledException:
            pass
        return self.fired

    def message(self, case: Case) -> dict[str, Any]:
        """Return a fully known case as one flat message."""
        message: dict[str, Any] = {"kind": "case"}
        for at, test in enumerate(self.tests.values()):
            message[f"n{at}"], message[f"w{at}"] = _told(test.value(case, self.law.day))
        return message

    def _express(self, condition: Condition, wanted: bool) -> Expression:
        """Return that a condition holds, or, where it is not wanted, that it does not."""
        match condition:
            case All() | AnyOf():
                return joined(isinstance(condition, All) == wanted,
                              (self._express(part, wanted) for part in condition.parts))
            case NoneOf():
                return joined(wanted, (self._express(part, not wanted)
                                       for part in condition.parts))
            case Holds():
                named = self.law.definitions[condition.definition].condition
                return self._express(NoRule() if named is None else named, wanted)
            case ByDate():
                return joined(False, (
                    joined(True, (self._express(when, True), self._express(rule, wanted)))
                    for when, rule in condition.spans
                ))
            case NoRule():
                return NEVER if wanted else ALWAYS
            case Open():
                raise Unsettled
            case Test():
                return self._test(condition, wanted)
        raise TypeError(condition)

    def _test(self, test: Test, wanted: bool) -> Expression:
        self.tests.setdefault(test.key, test)
        at = list(self.tests).index(test.key)
        cut = test.cut(self.law.day)
        if isinstance(cut, Among):
            inside = cut.wanted == wanted
            return joined(not inside, (Comparison(eq if inside else ne, f"w{at}", word)
                                       for word in sorted(cut.words)))
        bounds = [Comparison(eq if wanted else ne, f"w{at}", "told")]
        if cut.low is not None:
            bounds.append(Comparison(ge if wanted else lt, f"n{at}", _whole(cut.low)))
        if cut.high is not None:
            bounds.append(Comparison(lt if wanted else ge, f"n{at}", _whole(cut.high)))
        return joined(wanted, bounds)


def pieces(whole: Expression) -> Iterator[Expression]:
    """Split an expression into some small enough, one of which holds exactly if the whole does."""
    small = _size(whole) <= LARGEST and _depth(whole) <= DEEPEST
    if isinstance(whole, Comparison) or small or not _choices(whole):
        simple = _simplified(whole)
        if simple not in (ALWAYS, NEVER):
            yield simple
        elif simple == ALWAYS:
            yield Comparison(eq, "kind", "case")
        return
    if not whole.every:
        for part in whole.parts:
            yield from pieces(part)
        return
    choice = max(_choices(whole), key=lambda part: (_depth(part), _size(part)))
    rest = tuple(part for part in whole.parts if part is not choice)
    for part in choice.parts:
        yield from pieces(joined(True, (*rest, part)))


def _choices(whole: Joined) -> list[Joined]:
    """Return the parts that can be split: any of the parts of 'one of', else the 'one of' parts."""
    return [part for part in whole.parts if isinstance(part, Joined)] or (
        [] if whole.every else [whole])


def _size(whole: Expression) -> int:
    return sum(map(_size, whole.parts)) if isinstance(whole, Joined) else 1


def _depth(whole: Expression) -> int:
    return 1 + max(map(_depth, whole.parts), default=0) if isinstance(whole, Joined) else 0


def _simplified(whole: Expression) -> Expression:
    """Return the same without parts that always or never hold."""
    if isinstance(whole, Comparison):
        return whole
    parts = [_simplified(part) for part in whole.parts]
    if (NEVER if whole.every else ALWAYS) in parts:
        return NEVER if whole.every else ALWAYS
    return joined(whole.every, [p for p in parts if p not in (ALWAYS, NEVER)])


def _durable(whole: Expression) -> Any:
    if isinstance(whole, Comparison):
        return whole.operator(getattr(m, whole.field), whole.value)
    return reduce(and_ if whole.every else or_, map(_durable, whole.parts))


def _whole(bound: Any) -> int:
    return int(Decimal(bound) * SCALE)


def _told(value: Value) -> tuple[int, str]:
    """Return number and word of a value that is exact."""
    assert value.exact, value
    if isinstance(value.answer, str) and value.answer:
        return 0, value.answer
    return _whole(value.low), "told"
