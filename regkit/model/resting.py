"""What each fact rests on: the word of the case, the papers it names, or both.

Where all of these agree, the fact is what fits them all: a paper narrows an inexact date. Where two
disagree, nobody can say which is right, so the fact may be any of them; it becomes inexact with
every value kept, and answers that hang on it become undecided. The order of papers never matters.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from regkit.model.facts import Fact, Vocabulary
from regkit.model.likeness import Likeness, furthest
from regkit.model.values import MISSING, NEVER, UNKNOWN, Value

if TYPE_CHECKING:
    from regkit.model.case import Paper


@dataclass(frozen=True)
class Witness:
    """One who says what a fact is: a paper, or the case itself where `paper` is None."""

    value: Value
    paper: Paper | None = None


@dataclass(frozen=True)
class Rest:
    """What a fact may be, and on whose word.

    Attributes:
        likeness: how far apart those are who say what it is.
    """

    value: Value
    witnesses: tuple[Witness, ...]
    likeness: Likeness = Likeness.SAME


def paper_order(paper: Paper) -> tuple[str, ...]:
    """Return the key that puts papers in an order of their own, whatever order they came in."""
    shows = (f"{name}={value.written}" for name, value in sorted(paper.shows.items()))
    return (paper.evidence, paper.dated.written, paper.reference, paper.form, paper.named, *shows)


def rest_of_facts(
    facts: Mapping[str, Value], papers: Iterable[Paper], vocabulary: Vocabulary
) -> dict[str, Rest]:
    """Return what every fact that a paper shows rests on, and what dates bound by it become."""
    ordered = sorted(papers, key=paper_order)
    shown = dict.fromkeys(sorted(name for paper in ordered for name in paper.shows))
    found = {name: _rest(vocabulary[name], tuple(_witnesses(name, facts, ordered)))
             for name in shown}
    _widen_where_order_is_broken(found, facts, vocabulary)
    return found


def _witnesses(
    name: str, facts: Mapping[str, Value], papers: Iterable[Paper]
) -> Iterator[Witness]:
    if name in facts and facts[name].word != UNKNOWN:
        yield Witness(facts[name])
    for paper in papers:
        if name in paper.shows and paper.shows[name].word != UNKNOWN:
            yield Witness(paper.shows[name], paper)


def _rest(fact: Fact, witnesses: tuple[Witness, ...]) -> Rest:
    told = [witness.value for witness in witnesses if witness.paper is None]
    shown = [witness.value for witness in witnesses if witness.paper is not None]
    values = [*told, *sorted(shown, key=lambda value: value.written)]
    if not values:
        return Rest(MISSING, ())
    apart = furthest((fact, value) for value in values)
    if apart.contradicts:
        return Rest(any_of(values), witnesses, apart)
    return Rest(_what_fits_all(values), witnesses, apart)


def _what_fits_all(values: list[Value]) -> Value:
    """Return what fits every one of agreeing values; the case's own wording comes first."""
    first = values[0]
    if first.options is not None:
        common = frozenset.intersection(*(v.options for v in values if v.options is not None))
        # Numbers and names may be spelt in several ways: the case's own, else the first by letter.
        return replace(first, options=common or first.options)
    same_unit = [value for value in values if value.unit == first.unit]
    low, high = max(v.low for v in same_unit), min(v.high for v in same_unit)
    exact = [value for value in same_unit if (value.low, value.high) == (low, high)]
    if exact:
        return exact[0]
    written = " and ".join(sorted({value.written for value in same_unit}))
    return replace(first, low=low, high=high, written=written)


def any_of(values: list[Value]) -> Value:
    """Return a value that may be any of several; it keeps them to be said."""
    each = [part for value in values for part in value.either or (value,)]
    told = sorted({(v.written, v.unit): v for v in each}.values(), key=lambda v: v.written)
    if len(told) == 1:
        return told[0]
    written = " or ".join(value.written for value in told)
    if all(value.options is not None for value in told):
        options = frozenset(option for value in told for option in value.options or ())
        return Value(options=options, written=written)
    if any(value.word == NEVER for value in told) or len({value.unit for value in told}) > 1:
        # Neither a day nor 'never' for certain, or two currencies: anything is possible.
        return replace(MISSING, either=tuple(told))
    return Value(low=min(v.low for v in told), high=max(v.high for v in told), written=written,
                 unit=told[0].unit, either=tuple(told))


def _widen_where_order_is_broken(
    found: dict[str, Rest], facts: Mapping[str, Value], vocabulary: Vocabulary
) -> None:
    """Where a date lies after one it cannot be later than, either may be wrong: keep both open."""

    def value_of(name: str) -> Value:
        return found[name].value if name in found else facts.get(name, MISSING)

    for _ in vocabulary.bounded:
        before = dict(found)
        for fact in vocabulary.bounded:
            for other in fact.no_later_than:
                if fact.name not in found and other not in found:
                    continue
                value, bound = value_of(fact.name), value_of(other)
                if NEVER in (value.word, bound.word) or not value.low > bound.high:
                    continue
                open_value = any_of([value, bound])
                for name in (fact.name, other):
                    told = found.get(name) or Rest(MISSING, (Witness(facts[name]),))
                    found[name] = Rest(open_value, told.witnesses, Likeness.DIFFERENT)
        if found == before:
            return
