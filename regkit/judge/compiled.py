"""The compiled reading: all conditions of one day as one Python function of a case.

Walking the tree costs a call for each node. Here every test becomes one line that compares a
fact's bounds with a number, or looks its answer up in a table, and every node a few `&` and `|`
of small integers (see `Truth`). Equal tests are computed once. The source is written from
integers and names made here alone; no text of a ruleset ever enters it.

Whatever this returns, walking the trees returns too: a property test compares them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from regkit.conditions.cut import Among, Between, Cut
from regkit.conditions.tree import Condition, Test
from regkit.conditions.truth import OPPOSITE, Truth, agreed
from regkit.conditions.view import LawDay, Named
from regkit.model.case import Case
from regkit.model.values import MISSING

LARGEST_TABLE = 256


class Program:
    """The truth of every requirement of a day, in their order, as a function of a case."""

    def __init__(
        self,
        definitions: Mapping[str, Named],
        requirements: Mapping[str, Condition | None],
        day: LawDay,
    ) -> None:
        writer = _Writer(definitions, day)
        results = [
            "0" if condition is None else condition.code(writer)
            for condition in requirements.values()
        ]
        self.source = writer.source(results)
        space: dict[str, Any] = {**writer.constants, "N": OPPOSITE, "G": _agreed}
        exec(compile(self.source, "<conditions of a day>", "exec"), space)
        self._run: Callable[..., tuple[int, ...]] = space["run"]
        self._day = day

    def run(self, case: Case) -> tuple[int, ...]:
        """Return the number of the truth of each requirement."""
        return self._run(case.known.get, case, self._day)


class _Table(dict[Any, Truth]):
    """The truth of a test for each answer, filled in as answers are met."""

    def __init__(self, cut: Among) -> None:
        super().__init__()
        self.cut = cut

    def __missing__(self, answer: Any) -> Truth:
        truth = self.cut.of(answer)
        if len(self) < LARGEST_TABLE:
            self[answer] = truth
        return truth


class _Writer:
    """Collects lines of code; equal tests and definitions share a line."""

    def __init__(self, definitions: Mapping[str, Named], day: LawDay) -> None:
        self.definitions = definitions
        self.day = day
        self.lines: list[str] = []
        self.constants: dict[str, Any] = {"M": MISSING}
        self.tests: dict[Cut, str] = {}
        self.values: dict[str, str] = {}
        self.parts: dict[str, str] = {}
        self.named: dict[str, str] = {}

    def source(self, results: list[str]) -> str:
        body = "\n    ".join([*self.lines, f"return ({''.join(f'{r}, ' for r in results)})"])
        return f"def run(get, case, day):\n    {body}\n"

    def _line(self, prefix: str, code: str) -> str:
        name = f"{prefix}{len(self.lines)}"
        self.lines.append(f"{name} = {code}")
        return name

    def _constant(self, value: Any) -> str:
        if isinstance(value, int):
            return str(int(value))
        name = f"K{len(self.constants)}"
        self.constants[name] = value
        return name

    def _value(self, test: Test) -> str:
        if test.key not in self.values:
            if type(test).value is Test.value:
                code = f"get({self._constant(test.key)}, M)"
            else:
                code = f"{self._constant(test.value)}(case, day)"
            self.values[test.key] = self._line("v", code)
        return self.values[test.key]

    def _part(self, value: str, name: str) -> str:
        key = f"{value}.{name}"
        if key not in self.parts:
            self.parts[key] = self._line(name[0], key)
        return self.parts[key]

    def test(self, test: Test) -> str:
        cut = test.cut(self.day)
        if cut not in self.tests:
            value = self._value(test)
            self.tests[cut] = self._line("t", self._cut(cut, value))
        return self.tests[cut]

    def _cut(self, cut: Cut, value: str) -> str:
        if isinstance(cut, Among):
            return f"{self._constant(_Table(cut))}[{self._part(value, 'answer')}]"
        return self._between(cut, self._part(value, "low"), self._part(value, "high"))

    def _between(self, cut: Between, low: str, high: str) -> str:
        outside, inside = [], []
        if cut.high is not None:
            bound = self._constant(cut.high)
            outside.append(f"{low} >= {bound}")
            inside.append(f"{high} < {bound}")
        if cut.low is not None:
            bound = self._constant(cut.low)
            outside.append(f"{high} < {bound}")
            inside.append(f"{low} >= {bound}")
        if not outside:
            return "3"
        return f"0 if {' or '.join(outside)} else 3 if {' and '.join(inside)} else 1"

    def holds(self, definition: str) -> str:
        if definition not in self.named:
            condition = self.definitions[definition].condition
            code = "0" if condition is None else condition.code(self)
            self.named[definition] = self._line("d", code)
        return self.named[definition]

    def negate(self, expression: str) -> str:
        return f"N[{expression}]"

    def by_date(self, parts: tuple[tuple[str, str], ...]) -> str:
        return f"G({', '.join(f'{when}, {rule}' for when, rule in parts)})"


def _agreed(*pairs: int) -> int:
    """Return the truth of `ByDate` from the truths of its spans and rules, in turn."""
    return agreed(Truth(rule) for when, rule in zip(pairs[::2], pairs[1::2], strict=True) if when)
