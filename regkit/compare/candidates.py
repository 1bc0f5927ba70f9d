"""The days on which an answer may change by itself, derived from the cuts of the rules.

Between two of these days nothing can change: no bound of a cut passes a value of the case, no two
bounds pass each other where that could matter, no edition begins or ends, no deadline passes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import pairwise, product

from regkit.compare.moving import BoundOn, bounds, crossing_days, ends, moves, passing_days, shifted
from regkit.conditions import Condition, Holds, Test
from regkit.conditions.truth import UNDECIDED
from regkit.conditions.view import LawDay
from regkit.judge.assess import LATEST
from regkit.judge.freshness import last_good_day
from regkit.judge.law import Law, law_on
from regkit.judge.windows import deadline_of
from regkit.model.case import Case
from regkit.model.ruleset import Charge, Ruleset
from regkit.model.values import Bound, day_of

ONE_DAY = timedelta(days=1)


def candidate_days(case: Case, ruleset: Ruleset, on: date, until: date) -> list[date]:
    """Return, in order, every day after `on`, up to `until`, on which an answer may change.

    Raises:
        ValueError: `until` lies before `on`, or after the last day that can be assessed.
    """
    if not on <= until <= LATEST:
        raise ValueError(f"{until} is no day to look ahead to; it must lie from {on} to {LATEST}")
    found = set(_days(case, ruleset, on, until))
    found |= set(_hidden(case, ruleset, [on, *sorted(found), until + ONE_DAY]))
    return sorted(found)


def _days(case: Case, ruleset: Ruleset, on: date, until: date) -> Iterator[date]:
    plain = {day for day in _plain(case, ruleset, on, until) if on < day <= until}
    yield from plain
    windows = set()
    for day in (on, *plain):
        law = law_on(ruleset, day)
        for history in ruleset.requirements.values():
            edition = law.edition(history, case)
            if edition.window is not None:
                due = deadline_of(edition.window, ruleset, case, day)
                windows.add((due.first, due.last, edition.late))
    for first, last, late in windows:
        for end in (first, last):
            if end is not None:
                yield from (d for d in _after(end, late, ruleset, case) if on < d <= until)


def _after(end: date, late: Iterable[str], ruleset: Ruleset, case: Case) -> Iterator[date]:
    """Yield the days after a last day on which lateness begins, ends or costs another amount."""
    yield end + ONE_DAY
    for figure in (f for name in late for e in ruleset.charges[name].editions for f in e.figures):
        events = ends(case.value(figure.since)) if figure.since else [end.toordinal()]
        for start in filter(None, map(day_of, events)):
            if figure.most_days is not None:
                yield start + timedelta(days=figure.most_days)
            yield from (up_to.after(start) + ONE_DAY for up_to, _ in figure.steps if up_to)


def _plain(case: Case, ruleset: Ruleset, on: date, until: date) -> Iterator[date]:
    yield from _boundaries(ruleset)
    yield from (done.on for done in case.done)
    yield from (day for paper in case.papers if (day := day_of(paper.dated.high)))
    yield from _grown_old(case, ruleset)
    for history in ruleset.requirements.values():
        if history.latest.on_event:
            value = case.value(history.latest.on_event)
            yield from (day for end in ends(value) if (day := day_of(end)))
    first, last = on.toordinal(), until.toordinal()
    for test in dict.fromkeys(_tests(ruleset)):
        value = test.value(case, LawDay(on, ruleset.leap_day))
        for bound in bounds(test, ruleset.leap_day):
            if moves(bound, first, last):
                yield from map(date.fromordinal, passing_days(bound, ends(value), first, last))


def _grown_old(case: Case, ruleset: Ruleset) -> Iterator[date]:
    """Yield each day from which on a paper, or what a step gave, is older than it may be."""
    given = [(paper.evidence, day) for paper in case.papers
             if (day := day_of(paper.dated.high)) is not None]
    given += [(name, done.on) for done in case.done
              for edition in ruleset.requirements[done.requirement].editions
              for name in edition.gives]
    for name, issued in dict.fromkeys(given):
        for fresh in (fresh for e in ruleset.evidence[name].editions for fresh in e.fresh):
            last = last_good_day(issued, fresh.period, ruleset.leap_day)
            if last < LATEST:
                yield last + ONE_DAY


def _boundaries(ruleset: Ruleset) -> Iterator[date]:
    """Yield the first day of every edition and the first day after it."""
    for kind in (ruleset.definitions, ruleset.requirements, ruleset.charges, ruleset.counting,
                 ruleset.evidence):
        for history in kind.values():
            for edition in history.editions:
                if edition.first is not None:
                    yield edition.first
                if edition.last is not None:
                    yield edition.last + ONE_DAY


def _tests(ruleset: Ruleset) -> Iterator[Test]:
    for condition in _conditions(ruleset):
        yield from (node for node in condition.walk() if isinstance(node, Test))


def _conditions(ruleset: Ruleset) -> Iterator[Condition]:
    yield from (e.when for history in ruleset.definitions.values() for e in history.editions)
    yield from (e.when for history in ruleset.requirements.values() for e in history.editions)
    for evidence in (e for history in ruleset.evidence.values() for e in history.editions):
        yield from (fresh.when for fresh in evidence.fresh if fresh.when)
    charges: Iterator[Charge] = (e for h in ruleset.charges.values() for e in h.editions)
    for charge in charges:
        yield from (when for when in (charge.when, *(f.when for f in charge.figures)) if when)


# ------------------------------------------------------------------ where logic leaves it open


def _hidden(case: Case, ruleset: Ruleset, days: list[date]) -> Iterator[date]:
    """Yield days on which an answer that looks open may come to be settled either way.

    That hangs on the order of the cuts themselves, so only there all pairs of cuts are compared.
    """
    for start, end in pairwise(days):
        law = law_on(ruleset, start)
        for tests in {frozenset(found) for found in _open_tests(law, case)}:
            yield from map(date.fromordinal, _orders(
                tests, case, ruleset, start.toordinal(), end.toordinal() - 1))


def _open_tests(law: Law, case: Case) -> Iterator[set[Test]]:
    """Yield, for each answer that logic alone leaves open, the tests that are open."""
    view = law.view(case)
    conditions = [c for c in law.requirements.values() if c is not None]
    conditions += [d.condition for d in law.definitions.values() if d.condition is not None]
    for condition in conditions:
        if condition.truth(view) == UNDECIDED:
            yield {test for test in _reached(condition, law) if test.truth(view) == UNDECIDED}


def _reached(condition: Condition, law: Law) -> Iterator[Test]:
    seen: set[str] = set()
    waiting = [condition]
    while waiting:
        for node in waiting.pop().walk():
            if isinstance(node, Test):
                yield node
            elif isinstance(node, Holds) and node.definition not in seen:
                seen.add(node.definition)
                inner = law.definitions[node.definition].condition
                if inner is not None:
                    waiting.append(inner)


def _orders(
    tests: frozenset[Test], case: Case, ruleset: Ruleset, first: int, last: int
) -> Iterator[int]:
    if first >= last:
        return
    leap_day = ruleset.leap_day
    single = [test for test in tests if len(test.facts) == 1 and test.fact.type == "date"]
    derived = [test for test in tests if len(test.facts) > 1 and test.fact.type == "date"]
    lines = [bound for test in single for bound in bounds(test, leap_day)]
    lines += [_today] if any(h.latest.on_event for h in ruleset.requirements.values()) else []
    still = {end for test in tests for fact in test.facts if fact.type == "date"
             for end in ends(case.value(fact.name))}
    lines += [_constant(end) for end in still]
    moving = [line for line in lines if moves(line, first, last)]
    if not moving:
        return
    seen_from = [lines]
    for _ in range(min(len(derived), 2)):
        seen_from.append([other for line in seen_from[-1] for test in derived
                          for other in shifted(line, test, leap_day)])
    every = [line for group in seen_from for line in group]
    for one, other in product(every, lines):
        if one is not other:
            yield from crossing_days(one, other, first, last)


def _today(day: int) -> Bound:
    """Return the bound of 'has happened by today', which standing duties ask."""
    return day + 1


def _constant(value: Bound) -> BoundOn:
    return lambda _: value
