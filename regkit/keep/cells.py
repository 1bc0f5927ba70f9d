"""The cells of a rule's facts that no worked example visits.

Two values of a fact lie in one cell of a rule if all its tests on that fact answer them alike.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from regkit.conditions import Among, Between, Test
from regkit.conditions.truth import UNDECIDED, Truth
from regkit.conditions.view import LawDay
from regkit.keep.coverage import Tried, leaves, tests_of
from regkit.language import Phrase, joined, phrase
from regkit.model.ruleset import Edition, Ruleset
from regkit.model.values import NEVER, UNKNOWN, Value, choice, never, unknown

Tests = tuple[Test, ...]
Answers = tuple[Truth, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell that no example visits: how it answers each test of the rule on its fact."""

    entry: str
    edition: Edition
    tests: Tests
    answers: Answers

    @property
    def says(self) -> Phrase:
        """The cell in words."""
        return joined(*(phrase("{rule}: {answer}", rule=test.rule(), answer=answer.word)
                        for test, answer in zip(self.tests, self.answers, strict=True)))


def unvisited(ruleset: Ruleset, tries: tuple[Tried, ...], today: date) -> Iterator[Cell]:
    """Yield every cell that exists on a day of an edition and that no example visits."""
    visited = _visited(ruleset, tries)
    for (entry, _), (edition, tests) in _groups(ruleset).items():
        day = min(max(today, edition.first or today), edition.last or today)
        seen = visited.get((entry, tests), set())
        for answers in _possible(tests, LawDay(day, ruleset.leap_day)):
            if answers not in seen:
                seen.add(answers)
                yield Cell(entry, edition, tests, answers)


def _groups(ruleset: Ruleset) -> Mapping[tuple[str, Tests], tuple[Edition, Tests]]:
    """Return the tests of each edition on one fact, together; equal ones of two editions once."""
    by_key: dict[tuple[str, str, str], list[Test]] = defaultdict(list)
    editions: dict[tuple[str, str, str], Edition] = {}
    for entry, edition, test in tests_of(ruleset):
        where = (entry, edition.line, test.key)
        editions[where] = edition
        if test not in by_key[where]:
            by_key[where].append(test)
    found: dict[tuple[str, Tests], tuple[Edition, Tests]] = {}
    for where, tests in by_key.items():
        found.setdefault((where[0], tuple(tests)), (editions[where], tuple(tests)))
    return found


def _visited(
    ruleset: Ruleset, tries: tuple[Tried, ...]
) -> Mapping[tuple[str, Tests], set[Answers]]:
    groups: dict[str, list[Tests]] = defaultdict(list)
    for entry, tests in _groups(ruleset):
        groups[entry].append(tests)
    found: dict[tuple[str, Tests], set[Answers]] = defaultdict(set)
    for one in tries:
        met = {entry for entry, _ in leaves(one.reason, one.entry, decisive=False)}
        for entry in met & set(groups):
            for tests in groups[entry]:
                answers = tuple(test.truth(one.view) for test in tests)
                if UNDECIDED not in answers:
                    found[entry, tests].add(answers)
    return found


def _possible(tests: Tests, day: LawDay) -> Iterator[Answers]:
    """Yield how each cell answers the tests, each way once."""
    done: set[Answers] = set()
    for value in _values(tests, day):
        answers = tuple(test.cut(day).truth(value) for test in tests)
        if UNDECIDED not in answers and answers not in done:
            done.add(answers)
            yield answers


def _values(tests: Tests, day: LawDay) -> Iterator[Value]:
    """Yield a value of every cell of a fact."""
    fact = tests[0].fact
    cuts = [test.cut(day) for test in tests]
    bounds = sorted({b for cut in cuts if isinstance(cut, Between)
                     for b in (cut.low, cut.high) if b is not None})
    step = Decimal("0.0000001") if fact.type in ("quantity", "money") else 1
    for bound in bounds:
        if not isinstance(bound, Decimal) or bound > 0:
            yield Value(low=bound - step, high=bound - step, written="below")
        yield Value(low=bound, high=bound, written="from")
    words = {word for cut in cuts if isinstance(cut, Among) for word in cut.words}
    if fact.type == "date" and not bounds:
        yield Value(low=0, high=0, written="a day")
    yield from (never() for _ in words & {NEVER})
    yield from (unknown() for _ in words & {UNKNOWN})
    named = words - {NEVER, UNKNOWN}
    if named:
        others = set(fact.allowed or ("another",)) - named
        yield from (choice(word) for word in (*sorted(named), *sorted(others)[:1]))
