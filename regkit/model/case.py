"""A case: what is told about one vehicle and its keeper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType

from regkit.model.facts import Vocabulary
from regkit.model.resting import Rest, rest_of_facts
from regkit.model.values import MISSING, Value, no_later


@dataclass(frozen=True)
class Paper:
    """A paper the keeper has, and what it shows.

    Attributes:
        evidence: identifier of the ruleset's evidence type.
        form: `original`, `certified copy` or `copy`.
        shows: values the paper gives for facts.
        dated: the day it was issued.
        named: who is named on it.
        reference: its number or mark, for the cover sheet.
        language: the language it is written in, ISO 639-1.
        translated: the form of the translation that lies with it; empty for none.
    """

    evidence: str
    form: str = "original"
    shows: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    dated: Value = MISSING
    named: str = ""
    reference: str = ""
    language: str = ""
    translated: str = ""


@dataclass(frozen=True, slots=True)
class ExchangeRate:
    """What one unit of a currency is in another, as the keeper found it; regkit knows no rates.

    Attributes:
        one, to: ISO 4217 codes.
        rate: units of `to` for one unit of `one`.
        on: the day it is for.
        source: where the keeper found it.
    """

    one: str
    to: str
    rate: Decimal
    on: date
    source: str


@dataclass(frozen=True)
class Done:
    """A step that has been taken: which requirement, when, under which reference."""

    requirement: str
    on: date
    reference: str = ""


@dataclass(frozen=True)
class Case:
    """What is told about one vehicle and its keeper, read against a vocabulary.

    Facts that are not told are absent from `facts`; ask `value` for any fact.

    Attributes:
        elsewhere: facts told for other jurisdictions, by their codes: what is different there, or
            is asked there alone. They count only when the case is carried over.
    """

    jurisdiction: str
    facts: Mapping[str, Value]
    on: date | None = None
    title: str = ""
    papers: tuple[Paper, ...] = ()
    done: tuple[Done, ...] = ()
    rates: tuple[ExchangeRate, ...] = ()
    elsewhere: Mapping[str, Mapping[str, Value]] = field(
        default_factory=lambda: MappingProxyType({}))
    vocabulary: Vocabulary = field(default_factory=Vocabulary, repr=False)

    def value(self, name: str) -> Value:
        """Return what a fact may be, narrowed by facts it can never be later than."""
        return self.known.get(name, MISSING)

    @cached_property
    def known(self) -> Mapping[str, Value]:
        """The facts told or shown by papers, and dates that such dates bound, by name."""
        known = dict(self.facts)
        if self.papers:
            known.update((name, rest.value) for name, rest in self.resting.items())
        for _ in self.vocabulary.bounded:
            before = dict(known)
            for fact in self.vocabulary.bounded:
                value = known.get(fact.name, MISSING)
                for other in fact.no_later_than:
                    if other in known:
                        value = no_later(value, known[other], other)
                if value is not MISSING:
                    known[fact.name] = value
            if known == before:
                break
        return known

    @cached_property
    def resting(self) -> Mapping[str, Rest]:
        """What the facts that papers show rest on, by name."""
        return rest_of_facts(self.facts, self.papers, self.vocabulary) if self.papers else {}

    def with_facts(self, facts: Mapping[str, Value]) -> Case:
        """Return a copy in which these facts are told as well, or instead, whatever papers show."""
        papers = tuple(
            replace(paper, shows={n: v for n, v in paper.shows.items() if n not in facts})
            for paper in self.papers
        )
        return replace(self, facts=MappingProxyType({**self.facts, **facts}), papers=papers)
