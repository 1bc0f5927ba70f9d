"""A case: what is told about one vehicle and its keeper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from types import MappingProxyType

from regkit.model.facts import Vocabulary
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
    """

    evidence: str
    form: str = "original"
    shows: Mapping[str, Value] = field(default_factory=lambda: MappingProxyType({}))
    dated: Value = MISSING
    named: str = ""
    reference: str = ""


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
    """

    jurisdiction: str
    facts: Mapping[str, Value]
    on: date | None = None
    title: str = ""
    papers: tuple[Paper, ...] = ()
    done: tuple[Done, ...] = ()
    vocabulary: Vocabulary = field(default_factory=Vocabulary, repr=False)

    def value(self, name: str) -> Value:
        """Return what a fact may be, narrowed by facts it can never be later than."""
        return self.known.get(name, MISSING)

    @cached_property
    def known(self) -> Mapping[str, Value]:
        """The told facts, and dates that other told dates bound, by name."""
        known = dict(self.facts)
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

    def with_facts(self, facts: Mapping[str, Value]) -> Case:
        """Return a copy in which these facts are told as well, or instead."""
        return replace(self, facts=MappingProxyType({**self.facts, **facts}))
