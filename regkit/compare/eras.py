"""Eras: stretches of days on which one diagram serves, since nothing that it rests on changes.

The law changes on the first and after the last day of editions. Between, cut-offs move with the
day, but what matters is only their order on each fact, and of facts that bound each other; it
changes on a few days. No bound ever moves back, so one that is the same at both ends of a stretch
is the same throughout.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import chain, combinations_with_replacement, pairwise
from typing import Any

from regkit.conditions import Condition, Holds, Test
from regkit.conditions.cut import Among, Between
from regkit.conditions.kinds.age import Age
from regkit.conditions.view import LawDay
from regkit.judge.exact import bounded_dates
from regkit.judge.law import Law
from regkit.model.calendar import LeapDay, Period
from regkit.model.facts import Vocabulary
from regkit.model.ruleset import Edition, History, Ruleset
from regkit.model.values import Bound

Span = tuple[date, date]
ONE_DAY = timedelta(days=1)


def stretches(
    histories: Iterable[History[Any]], first: date, last: date
) -> Iterator[Span]:
    """Yield the spans of days on which the same editions count; they cover all from first to last.
    """
    starts = {first}
    for history in histories:
        if not history.governed_by:
            for edition in history.editions:
                starts.update(day for day in _turns(edition) if first < day <= last)
    for start, following in pairwise([*sorted(starts), last + ONE_DAY]):
        yield start, following - ONE_DAY


def _turns(edition: Edition) -> Iterator[date]:
    if edition.first is not None:
        yield edition.first
    if edition.last is not None and edition.last < date.max:
        yield edition.last + ONE_DAY


def reached(ruleset: Ruleset, conditions: Iterable[Condition]) -> dict[str, History[Any]]:
    """Return every definition that conditions lead to in any of its editions, by name."""
    found: dict[str, History[Any]] = {}
    waiting = list(conditions)
    while waiting:
        for part in waiting.pop().walk():
            if isinstance(part, Holds) and part.definition not in found:
                history = found[part.definition] = ruleset.definitions[part.definition]
                waiting.extend(edition.when for edition in history.editions)
    return found


def reached_on(law: Law, condition: Condition) -> set[str]:
    """Return every definition a condition leads to under the law of a day."""
    found: set[str] = set()
    waiting = [condition]
    while waiting:
        for part in waiting.pop().walk():
            if isinstance(part, Holds) and part.definition not in found:
                found.add(part.definition)
                inner = law.definitions[part.definition].condition
                waiting += [inner] if inner is not None else []
    return found


def law_tests(
    law: Law, conditions: Iterable[Condition], kept_whole: Iterable[str] = ()
) -> Iterator[Test]:
    """Yield every test that conditions lead to under a law, each definition's once.

    Args:
        kept_whole: definitions that are not looked into.
    """
    seen = set(kept_whole)
    waiting = list(conditions)
    while waiting:
        for part in waiting.pop().walk():
            if isinstance(part, Test):
                yield part
            elif isinstance(part, Holds) and part.definition not in seen:
                seen.add(part.definition)
                inner = law.definitions[part.definition].condition
                waiting += [inner] if inner is not None else []


def events(ruleset: Ruleset, requirement: str) -> Iterator[Test]:
    """Yield, for a standing duty, the moving test that its event has happened by the day."""
    history = ruleset.requirements.get(requirement)
    for edition in history.editions if history else ():
        if edition.on_event:
            yield Age(ruleset.vocabulary[edition.on_event], (("at least", Period(0, "days")),))


class _Bounds:
    """Reads the bounds of a cut."""

    def between(self, cut: Between) -> tuple[Bound, ...]:
        return tuple(bound for bound in (cut.low, cut.high) if bound is not None)

    def among(self, cut: Among) -> tuple[Bound, ...]:
        return ()


_BOUNDS = _Bounds()


@dataclass
class Eras:
    """Divides stretches into eras; remembers where each test cuts on each day.

    Attributes:
        horizon: the first and the last day of all stretches.
    """

    vocabulary: Vocabulary
    leap_day: LeapDay
    horizon: Span
    _bounds: dict[tuple[Test, date, LeapDay], tuple[Bound, ...]] = field(default_factory=dict)
    _numbers: dict[Test, int] = field(default_factory=dict)
    _meetings: dict[tuple[int, int], list[date]] = field(default_factory=dict)

    def bounds(self, test: Test, on: date, rule: LeapDay | None = None) -> tuple[Bound, ...]:
        """Return where a test cuts its fact on a day, by another rule for 29 February if named."""
        asked = (test, on, rule or self.leap_day)
        found = self._bounds.get(asked)
        if found is None:
            cut = test.cut(LawDay(on, asked[2]))
            found = self._bounds[asked] = cut.read(_BOUNDS)
        return found

    def of(self, tests: Iterable[Test], span: Span) -> Iterator[Span]:
        """Yield the eras of a span in which no edition changes."""
        start, last = span
        for turn in sorted({day for group in self._groups(tests)
                            for day in self._turns(group, span)}):
            yield start, turn - ONE_DAY
            start = turn
        yield start, last

    def _turns(self, group: list[Test], span: Span) -> Iterator[date]:
        """Yield the days after the first on which the order of some cuts is not that of the eve.

        That order is the order of every two; where these meet is found once for the horizon.
        """
        numbered = [(self._numbers.setdefault(test, len(self._numbers)), test) for test in group]
        for (number, one), (second, other) in combinations_with_replacement(numbered, 2):
            days = self._meetings.get((number, second))
            if days is None:
                days = self._meetings[number, second] = self._meetings[second, number] = (
                    list(self._met(one, other)))
            yield from days[bisect_right(days, span[0]):bisect_right(days, span[1])]

    def _met(self, one: Test, other: Test) -> Iterator[date]:
        """Yield the days of the horizon on which the order of the cuts of two tests changes."""
        if one is other:
            # A lone cut has nothing to meet.
            return iter(()) if len(self.bounds(one, self.horizon[0])) < 2 else (
                self._halved([one], *self.horizon))
        rule: Any = one
        if len(one.facts) == 1 and replace(rule, fact=other.fact) == other:
            # The same rule on another fact always cuts at the same places.
            return iter(())
        return self._halved([one, other], *self.horizon)

    def _halved(self, tests: list[Test], first: date, last: date) -> Iterator[date]:
        """Yield the days of a span on which the order of some cuts changes."""
        if first == last or self._apart(tests, first, last):
            return
        if first + ONE_DAY == last:
            if self._order(tests, first) != self._order(tests, last):
                yield last
            return
        middle = first + (last - first) // 2
        yield from self._halved(tests, first, middle)
        yield from self._halved(tests, middle, last)

    def _apart(self, tests: list[Test], first: date, last: date) -> bool:
        """Return whether no two cuts can meet: each ends before the next one begins, or rests."""
        spans = sorted(
            (begin, end)
            for test in tests
            for begin, end in zip(self.bounds(test, first), self.bounds(test, last), strict=True)
        )
        return all(
            end < later or (begin == end and later == later_end)
            for (begin, end), (later, later_end) in pairwise(spans)
        )

    def _groups(self, tests: Iterable[Test]) -> list[list[Test]]:
        """Return the tests whose cuts must be seen together: on one fact, or on related dates."""
        bounded = bounded_dates(self.vocabulary)
        groups: dict[str, dict[Test, None]] = {}
        for test in tests:
            related = test.key in bounded and len(test.facts) == 1
            groups.setdefault("" if related else test.key, {})[test] = None
        return [list(group) for group in groups.values()]

    def _order(self, tests: list[Test], on: date) -> tuple[int, ...]:
        bounds = list(chain.from_iterable(self.bounds(test, on) for test in tests))
        rank = {bound: at for at, bound in enumerate(sorted(set(bounds)))}
        return tuple(rank[bound] for bound in bounds)
