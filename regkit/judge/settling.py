"""What would settle an answer that is open: the smallest sets of facts, and how exactly dates.

A set of facts settles an answer if some answers to them do, whatever the other facts are. Found are
the sets that do so by themselves; and where dates bound each other every single date that does, for
a day of one may leave no day to another.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from regkit.conditions import Condition
from regkit.conditions.diagram import FALSE, NEVER_DAY, TRUE, Node, TooLarge, asked_by
from regkit.judge.exact import Exact, bounded_dates
from regkit.judge.possible import Choice
from regkit.model.assessment import Exactness, WaysToSettle
from regkit.model.facts import Fact
from regkit.model.values import Bound, day_of

MOST_FACTS = 4
"""The largest sets of facts that are looked for."""

MOST_SETS = 12

Facts = frozenset[str]


def ways_to_settle(exact: Exact, condition: Condition) -> WaysToSettle:
    """Return what would settle a condition that is undecided."""
    try:
        sets = _Sets(exact).smallest(condition)
    except TooLarge:
        sets = ()
    return WaysToSettle(sets, _exactness_of(exact, condition))


@dataclass
class _Sets:
    """Finds small sets of facts that can settle a diagram."""

    exact: Exact
    again: Facts = frozenset()
    known: dict[tuple[Node, int, Facts], frozenset[Facts]] = field(default_factory=dict)
    on_any_days: dict[Node, bool] = field(default_factory=dict)

    def smallest(self, condition: Condition) -> tuple[tuple[str, ...], ...]:
        """Return the smallest sets, at most so many."""
        drawn = self.exact.open_part(condition)
        if drawn is None:
            return ()
        ways = (drawn, self.exact.cells.diagrams.negate(drawn))
        asked = Counter(name for key in asked_by(drawn) for name in self.exact.unsettled(key))
        self.again = frozenset(name for name, times in asked.items() if times > 1)
        for size in range(1, MOST_FACTS + 1):
            found = {facts for node in ways for facts in self.of(node, size)
                     if self._settle(node, facts)}
            if size == 1:
                others = self._dates(drawn) - frozenset().union(*found)
                found |= {frozenset({name}) for name in others if self._by_a_day(ways, name)}
            if found:
                return tuple(sorted(tuple(sorted(facts)) for facts in found))[:MOST_SETS]
        return ()

    def of(self, node: Node, budget: int, known: Facts = frozenset()) -> frozenset[Facts]:
        """Return the smallest sets of at most so many facts that lead to true.

        Args:
            known: facts that count no more, of those that a diagram asks for more than once.
        """
        if node is TRUE:
            return frozenset({frozenset()})
        if node is FALSE or (budget == 0 and not known):
            return frozenset()
        asked = (node, budget, known)
        if asked not in self.known:
            self.known[asked] = _least(self._found(node, budget, known))
        return self.known[asked]

    def _found(self, node: Node, budget: int, known: Facts) -> Iterator[Facts]:
        yield from self.of(self.exact.cells.diagrams.every(node.children), budget, known)
        facts = self.exact.unsettled(node.variable.key)
        more = facts - known
        if facts and len(more) <= budget:
            for child in set(node.children):
                for others in self.of(child, budget - len(more), known | facts & self.again):
                    yield others | more

    def _settle(self, drawn: Node, facts: Facts) -> bool:
        """Return whether some possible answers to these facts make a diagram true."""
        for key in asked_by(drawn):
            if not self.exact.unsettled(key) <= facts or not self.exact.unsettled(key):
                drawn = self.exact.cells.diagrams.for_every(drawn, key)
        return self.exact.possible.world(drawn) is not None

    def _dates(self, drawn: Node) -> Facts:
        """Return the dates not told exactly that others of a diagram bound, or are bounded by."""
        case, variables = self.exact.view.case, self.exact.cells.diagrams.variables
        facts = [variables[key].facts for key in asked_by(drawn)]
        found = {fact.name for several in facts if len(several) > 1 for fact in several
                 if fact.type == "date"}
        bounded = bounded_dates(case.vocabulary)
        if any(fact.name in bounded for several in facts for fact in several):
            found |= bounded
        return frozenset(name for name in found if not case.value(name).exact)

    def _by_a_day(self, ways: tuple[Node, Node], name: str) -> bool:
        """Return whether telling a date can settle a diagram, one way or the other."""
        fact, diagrams = self.exact.view.case.vocabulary[name], self.exact.cells.diagrams
        said = f"{name} said to be unknown"
        for answer in ("no", "yes") if said in asked_by(ways[0]) else ("no",):
            one, other = (diagrams.fixed(node, said, answer) for node in ways)
            if self._some_day(one, other, fact) or self._some_day(other, one, fact):
                return True
        return False

    def _some_day(self, wanted: Node, unwanted: Node, fact: Fact) -> bool:
        """Return whether there is a day of an event on which only what is wanted is possible.

        A day on which something else is possible as well rules out all on which that is; what is
        possible whatever the days of all events are rules out every day.
        """
        if self._on_any_days(unwanted):
            return False
        left = self.exact.possible.days_of(fact)
        while left:
            first, last = left.pop()
            world = self.exact.possible.with_days(fact, first, last).world(wanted)
            if world is None:
                continue
            day = world[1].get(fact.name, first)
            other = self.exact.possible.with_days(fact, day, day).world(unwanted)
            if other is None:
                return True
            if day == NEVER_DAY:
                continue

            def still(one: Bound, another: Bound, choice: Choice = other[0]) -> bool:
                return self.exact.possible.with_days(fact, one, another).days(choice) is not None

            from_ = first + bisect_left(
                range(first, day), True, key=lambda end: still(first, end))
            until = day + bisect_right(
                range(day + 1, last + 1), False, key=lambda start: not still(start, last))
            left += [(start, end) for start, end in ((first, from_ - 1), (until + 1, last))
                     if start <= end]
        return False

    def _on_any_days(self, node: Node) -> bool:
        """Return whether a diagram can be true on whatever days events were."""
        if node not in self.on_any_days:
            diagrams, left = self.exact.cells.diagrams, node
            for key in asked_by(node):
                if any(fact.type == "date" for fact in diagrams.variables[key].facts):
                    left = diagrams.for_every(left, key)
            self.on_any_days[node] = self.exact.possible.world(left) is not None
        return self.on_any_days[node]


def _least(sets: Iterator[Facts]) -> frozenset[Facts]:
    found = frozenset(sets)
    size = min(map(len, found), default=0)
    return frozenset(facts for facts in found if len(facts) == size)


def _exactness_of(exact: Exact, condition: Condition) -> tuple[Exactness, ...]:
    needed: dict[str, set[int]] = {}
    for key, cuts in exact.open_cuts(condition).items():
        facts = exact.cells.diagrams.variables[key].facts
        if len(facts) == 1 and facts[0].type == "date":
            days = {cut for cut in cuts if isinstance(cut, int)}
            needed.setdefault(facts[0].name, set()).update(days)
    return tuple(_exactness(name, days) for name, days in sorted(needed.items()) if days)


def _exactness(fact: str, days: set[int]) -> Exactness:
    """Return the coarsest unit all of whose spans lie on one side of every cut."""
    dates = [found for day in sorted(days) if (found := day_of(day)) is not None]
    inside_month = [day for day in dates if day.day != 1]
    inside_year = [day for day in dates if (day.month, day.day) != (1, 1)]
    if not inside_year:
        return Exactness(fact, "year")
    unit = "day" if inside_month else "month"
    years = tuple(sorted({day.year for day in inside_year}))
    return Exactness(fact, unit, years)
