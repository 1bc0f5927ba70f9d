"""Drawing cases for hypothesis: any facts of a ruleset, any of the ways to tell them.

Values are drawn around the places where the ruleset's own tests cut a fact, since nothing changes
between two cuts. Written values are kept, so that every drawn case goes through the real reader.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal
from functools import lru_cache
from typing import Any

from hypothesis import strategies as st

import regkit
from regkit.conditions import Among, Condition, Holds, Test
from regkit.conditions.view import Named
from regkit.judge.law import law_on
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.model.values import Value

COUNTRIES = ("DE", "FR", "GB", "JP", "US")
DAYS = (date(1985, 3, 31), date(2000, 6, 30), date(2016, 2, 29), date(2024, 6, 30),
        date(2026, 3, 31), date(2026, 4, 1), date(2030, 1, 1))
"""Days of assessment on both sides of editions and steps, one of them 29 February."""

days_of_assessment = st.sampled_from(DAYS)


def conditions(ruleset: Ruleset, on: date) -> Iterator[Condition]:
    """Yield every condition that counts on a day."""
    law = law_on(ruleset, on)
    yield from (condition for condition in law.requirements.values() if condition is not None)
    yield from (named.condition for named in law.definitions.values() if named.condition)


@lru_cache(maxsize=64)
def _cuts(ruleset: Ruleset, on: date) -> Mapping[str, tuple[Any, ...]]:
    """Return for each fact the bounds and words its tests cut it at."""
    law = law_on(ruleset, on)
    found: dict[str, dict[Any, None]] = {}
    for condition in conditions(ruleset, on):
        for test in (node for node in condition.walk() if isinstance(node, Test)):
            cut = test.cut(law.day)
            if isinstance(cut, Among):
                found.setdefault(test.fact.name, {}).update(dict.fromkeys(sorted(cut.words)))
            elif len(test.facts) == 1:  # a quantity derived from two has no place on either's line
                bounds = [bound for bound in (cut.low, cut.high) if bound is not None]
                found.setdefault(test.fact.name, {}).update(dict.fromkeys(bounds))
    return {name: tuple(places) for name, places in found.items()}


@lru_cache(maxsize=4096)
def written_values(
    ruleset: Ruleset, fact: Fact, on: date, exact: bool = False
) -> st.SearchStrategy[Any]:
    """Draw one way to tell a fact.

    Args:
        exact: only values that leave nothing open.
    """
    cuts = _cuts(ruleset, on).get(fact.name, ())
    drawn = _DRAWERS[fact.type](ruleset, fact, cuts, exact)
    return drawn if exact else st.one_of(drawn, drawn, drawn, st.just("unknown"))


@lru_cache(maxsize=64)
def cases(ruleset: Ruleset, on: date) -> st.SearchStrategy[dict[str, Any]]:
    """Draw the facts of a case: any of those that one requirement leads to."""
    law = law_on(ruleset, on)
    return st.sampled_from([
        st.fixed_dictionaries({}, optional={
            fact.name: written_values(ruleset, fact, on) for fact in facts
        })
        for condition in law.requirements.values()
        if (facts := _facts(condition, law.definitions))
    ]).flatmap(lambda facts: facts)


def _facts(
    condition: Condition | None, definitions: Mapping[str, Named]
) -> tuple[Fact, ...]:
    """Return the facts a condition leads to, through the definitions it names."""
    found: dict[Fact, None] = {}
    seen: set[str] = set()
    waiting = [condition]
    while waiting:
        current = waiting.pop()
        for node in current.walk() if current is not None else ():
            found.update(dict.fromkeys(node.facts))
            if isinstance(node, Holds) and node.definition not in seen:
                seen.add(node.definition)
                waiting.append(definitions[node.definition].condition)
    return tuple(found)


def read(ruleset: Ruleset, facts: Mapping[str, Any]) -> Case | None:
    """Return the case, or None where its facts contradict each other."""
    try:
        return regkit.read_case({"jurisdiction": ruleset.jurisdiction, "facts": facts}, ruleset)
    except regkit.Unreadable as wrong:
        assert all("cannot be" in problem.text for problem in wrong.problems), wrong
        return None


def sample_values(ruleset: Ruleset, fact: Fact, on: date) -> list[str]:
    """Return exact ways to tell a fact: around every cut, and some beyond."""
    cuts = _cuts(ruleset, on).get(fact.name, ())
    if fact.type == "date":
        return [*(day.isoformat() for day in _near(cuts)), "never"]
    if fact.type == "money":
        return [f"{number} {ruleset.currency}" for number in _amounts(cuts)]
    if fact.type == "quantity":
        return [str(number) for number in _amounts(cuts)]
    return list(fact.allowed or (COUNTRIES if fact.type == "country" else ("A 1", "B 2")))


def _near(cuts: tuple[Any, ...]) -> list[date]:
    near = [date.fromordinal(cut + step) for cut in cuts if isinstance(cut, int)
            for step in (-1, 0, 1)]
    return [*near, date(1904, 2, 29), date(1949, 12, 31), date(1962, 5, 17), date(2012, 7, 1)]


def _days(ruleset: Ruleset, fact: Fact, cuts: tuple[Any, ...], exact: bool) -> Any:
    one = st.sampled_from(_near(cuts))
    if exact:
        return st.one_of(one.map(date.isoformat), st.just("never"))
    year = one.map(lambda day: f"{day.year:04}")
    month = one.map(lambda day: f"{day:%Y-%m}")
    return st.one_of(
        one.map(date.isoformat), year, month, year.map(lambda text: text + "~"),
        month.map(lambda text: text + "~"), year.map(lambda text: text[:3] + "X"),
        year.map(lambda text: "../" + text), one.map(lambda day: f"{day}/.."),
        st.tuples(one, st.integers(1, 2000)).map(
            lambda drawn: f"{drawn[0]}/{drawn[0] + timedelta(days=drawn[1])}"),
        st.just("never"),
    )


def _amounts(cuts: tuple[Any, ...]) -> list[Decimal]:
    near = [cut + step for cut in cuts if isinstance(cut, Decimal) for step in (-1, 0, 1)]
    return [number.quantize(Decimal("1")) for number in (*near, Decimal(0), Decimal(400))
            if number >= 0]


def _money(ruleset: Ruleset, fact: Fact, cuts: tuple[Any, ...], exact: bool) -> Any:
    currencies = [ruleset.currency] if exact else [ruleset.currency, "CHF"]
    return st.tuples(st.sampled_from(_amounts(cuts)), st.sampled_from(currencies)).map(
        lambda drawn: f"{drawn[0]} {drawn[1]}")


_DRAWERS: Mapping[str, Any] = {
    "yes_no": lambda *_: st.sampled_from(["yes", "no"]),
    "choice": lambda ruleset, fact, *_: st.sampled_from(fact.allowed or ()),
    "country": lambda *_: st.sampled_from(COUNTRIES),
    "date": _days,
    "quantity": lambda ruleset, fact, cuts, exact: st.sampled_from(_amounts(cuts)).map(str),
    "money": _money,
    "identifier": lambda *_: st.sampled_from(["A 1", "B 2"]),
    "text": lambda *_: st.sampled_from(["red", "blue"]),
}


def narrowings(value: Value) -> list[str]:
    """Return exact days that an inexact date may be: its ends, and one between them."""
    if value.word is not None or value.options is not None or value.unit:
        return []
    low = max(value.low, date(1850, 1, 1).toordinal())
    high = min(value.high, date(2090, 1, 1).toordinal())
    if low > high:
        return []
    return [date.fromordinal(int(day)).isoformat() for day in (low, (low + high) // 2, high)]
