"""A vocabulary so small that every possible vehicle can be tried, with an evaluator of its own.

The evaluator reads conditions as they are written and knows nothing of cuts, cells or diagrams.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import chain, combinations, product
from typing import Any

from hypothesis import strategies as st

from regkit.conditions.tree import Condition
from regkit.conditions.view import LawDay, View
from regkit.language import Text
from regkit.model.case import Case
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import NEVER, UNKNOWN
from regkit.read.conditions import ConditionReader
from regkit.read.facts import read_value
from regkit.read.text import Document

ON = date(2020, 3, 1)
FIRST = date(2020, 1, 1)
WORDS = ("red", "green", "blue")


def _fact(name: str, kind: Any, **more: Any) -> Fact:
    return Fact(name, kind, Text.of(name), Text.of(name), **more)


VOCABULARY = Vocabulary((fact.name, fact) for fact in (
    _fact("v.built", "date", no_later_than=("v.sold",)),
    _fact("v.sold", "date"),
    _fact("v.seen", "date"),
    _fact("v.hue", "choice", values=tuple((word, Text.of(word)) for word in WORDS)),
    _fact("v.old", "yes_no"),
    _fact("v.size", "quantity", unit="cc"),
    _fact("v.load", "quantity", unit="cc"),
))


def day(number: int) -> date:
    """Return a day of the small world by its number."""
    return FIRST + timedelta(days=number)


# Days between and just outside all cuts, and far away on both sides, where only order counts.
_DAYS: tuple[Any, ...] = (-94, -90, -88, *range(-1, 8), 90, 92, 96, NEVER)
# On each cut and, between two and beyond the last, two of a kind: their order is all that counts.
# Numbers that are told, and one more on either side of each: whatever is told, there is one between
# it and every cut.
_NUMBERS = tuple(map(Decimal, ("0", "0.5", "1", "1.5", "2", "2.5")))
_BETWEEN = tuple(number + Decimal("0.25") for number in _NUMBERS)
_REALITIES: Mapping[str, tuple[Any, ...]] = {
    "v.built": _DAYS, "v.sold": _DAYS, "v.seen": _DAYS, "v.hue": WORDS, "v.old": ("yes", "no"),
    **dict.fromkeys(("v.size", "v.load"), (*_NUMBERS, *_BETWEEN)),
}


@dataclass(frozen=True)
class World:
    """One possible vehicle: what its facts are, and which of them its keeper calls unknown."""

    real: Mapping[str, Any]
    unknown: frozenset[str]


def worlds(told: Mapping[str, Any], facts: frozenset[str]) -> Iterator[World]:
    """Yield every vehicle that fits what is told, over the facts that matter."""
    names = sorted(facts)
    choices = [[r for r in _REALITIES[name] if _fits(told.get(name, UNKNOWN), r)]
               for name in names]
    open_ = [name for name in names if name not in told]
    said = frozenset(name for name in names if told.get(name) == UNKNOWN)
    for reals in product(*choices):
        real = dict(zip(names, reals, strict=True))
        if _in_order(real.get("v.built", NEVER), real.get("v.sold", NEVER)):
            for more in chain.from_iterable(
                    combinations(open_, count) for count in range(len(open_) + 1)):
                yield World(real, said | frozenset(more))


def _in_order(built: Any, sold: Any) -> bool:
    if sold == NEVER:
        return True
    return built != NEVER and built <= sold


def _fits(told: Any, real: Any) -> bool:
    if told == UNKNOWN:
        return True
    if isinstance(told, tuple):
        return real != NEVER and told[0] <= real <= told[1]
    return bool(told == real)


def holds(written: Any, world: World) -> bool:
    """Return whether a written condition holds for a vehicle."""
    (key, inner), = written.items()
    if key in ("all", "any", "none"):
        found = [holds(part, world) for part in inner]
        return {"all": all(found), "any": any(found), "none": not any(found)}[key]
    return _test(key, inner, world)


def _test(name: str, test: Any, world: World) -> bool:
    real = world.real[name]
    if isinstance(test, dict) and "not" in test:
        return not _test(name, test["not"], world)
    if isinstance(test, list):
        return real in test
    if not isinstance(test, dict):
        return name in world.unknown if test == UNKNOWN else real == test
    (comparison, bound), = test.items()
    if name in ("v.size", "v.load"):
        other = world.real[bound] if bound in world.real else Decimal(bound.removesuffix(" cc"))
        return _compare(comparison, real, other)
    if real == NEVER:
        return False
    if comparison in ("before", "on or after"):
        return (day(real) < date.fromisoformat(bound)) == (comparison == "before")
    number, _, side, *other = bound.split()
    if side == "ago":
        return _compare(comparison, (ON - day(real)).days, int(number))
    there = world.real[other[0]]
    earlier, later = (real, there) if side == "before" else (there, real)
    return there != NEVER and _compare(comparison, later - earlier, int(number))


def _compare(comparison: str, value: Any, bound: Any) -> bool:
    return {"at least": value >= bound, "more than": value > bound,
            "less than": value < bound, "at most": value <= bound}[comparison]


_days = st.integers(0, 6).map(lambda number: day(number).isoformat())
_comparisons = st.sampled_from(["at least", "more than", "less than", "at most"])
_date_tests = st.one_of(
    st.tuples(st.sampled_from(["before", "on or after"]), _days).map(lambda t: {t[0]: t[1]}),
    st.tuples(_comparisons, st.integers(54, 59)).map(lambda t: {t[0]: f"{t[1]} days ago"}),
    st.sampled_from([NEVER, UNKNOWN, {"not": NEVER}, {"not": UNKNOWN}]),
)
_between = st.tuples(_comparisons, st.integers(0, 3), st.sampled_from(["before", "after"]),
                     st.permutations(["v.built", "v.sold"])).map(
    lambda t: {t[3][0]: {t[0]: f"{t[1]} days {t[2]} {t[3][1]}"}})
_words = st.one_of(
    st.sampled_from(WORDS), st.lists(st.sampled_from(WORDS), min_size=1, max_size=2, unique=True),
    st.sampled_from([{"not": "red"}, UNKNOWN]),
)
tests = st.one_of(
    _between,
    _date_tests.map(lambda t: {"v.built": t}),
    _date_tests.map(lambda t: {"v.sold": t}),
    _words.map(lambda t: {"v.hue": t}),
    st.sampled_from([{"v.old": "yes"}, {"v.old": "no"}]),
)


def _grouped(tests: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.recursive(
        tests,
        lambda inner: st.tuples(
            st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)
        ).map(lambda t: {t[0]: t[1]}),
        max_leaves=7,
    )


written_conditions = _grouped(tests)
_number_tests = st.tuples(
    st.sampled_from(["v.size", "v.load"]), _comparisons, st.sampled_from(["1 cc", "2 cc"]),
).map(lambda t: {t[0]: {t[1]: t[2]}})
_compared = st.tuples(st.permutations(["v.size", "v.load"]), _comparisons).map(
    lambda t: {t[0][0]: {t[1]: t[0][1]}})
number_conditions = _grouped(st.one_of(
    _number_tests, _compared, st.sampled_from([{"v.old": "yes"}, {"v.old": "no"}])))
_told_days = st.one_of(
    st.integers(-1, 7), st.just(UNKNOWN), st.just(NEVER),
    st.tuples(st.integers(-1, 6), st.integers(0, 3)).map(lambda t: (t[0], min(t[0] + t[1], 7))),
)
told = st.fixed_dictionaries({}, optional={
    "v.built": _told_days, "v.sold": _told_days, "v.hue": st.sampled_from([*WORDS, UNKNOWN]),
    "v.old": st.sampled_from(["yes", "no", UNKNOWN]),
})


told_numbers = st.fixed_dictionaries({}, optional={
    "v.size": st.sampled_from([*_NUMBERS, UNKNOWN]),
    "v.load": st.sampled_from([*_NUMBERS, UNKNOWN]),
    "v.old": st.sampled_from(["yes", "no", UNKNOWN]),
})


def facts_of(written: Any) -> frozenset[str]:
    """Return the facts a written condition looks at, and those that bound them."""
    text = str(written)
    found = frozenset(name for name in VOCABULARY if name in text)
    return found | {"v.built", "v.sold"} if found & {"v.built", "v.sold"} else found


def read(written: Any) -> Condition:
    """Read a written condition with the real reader."""
    problems: list[Any] = []
    condition = ConditionReader(VOCABULARY, {}, frozenset(), problems).read(
        Document("small", {}, {}), (), written)
    assert not problems, problems
    return condition


def view(told: Mapping[str, Any]) -> View:
    """Return the case of what is told, seen on the one day of the small world."""
    values = {name: read_value(VOCABULARY[name], _written(value)) for name, value in told.items()}
    return View(Case("QA", values, vocabulary=VOCABULARY), LawDay(ON), {}, {})


def _written(value: Any) -> Any:
    if isinstance(value, tuple):
        return f"{day(value[0])}/{day(value[1])}"
    if isinstance(value, Decimal):
        return f"{value} cc"
    return day(value).isoformat() if isinstance(value, int) else value
