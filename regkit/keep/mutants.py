"""A ruleset with one small mistake in it: what worked examples ought to notice.

Every threshold is moved by a day and by a year, or by a unit, both ways; every test is turned
round; every word is taken out of a short list; every window and amount is changed by one; every
edition is dropped. Conditions are changed where they cut, so a new kind of test needs nothing here.

A list of countries is only turned round, unless it is very short: it is copied from a treaty as a
whole, and an example a country would copy it once more and prove nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from regkit.conditions import All, AnyOf, Condition, Holds, NoneOf, Test, View
from regkit.conditions.cut import Among, Between, Cut
from regkit.conditions.truth import Truth
from regkit.conditions.view import LawDay
from regkit.language import Phrase, phrase, speaker
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.ruleset import Edition, History, Ruleset
from regkit.model.values import Bound, Value

KINDS = ("definitions", "requirements", "charges")
DAY_MOVES = {"a day earlier": -1, "a day later": 1, "a year earlier": -365, "a year later": 365}
LONGEST_LIST = 12
LONGEST_LIST_OF_COUNTRIES = 3
"""A list of more words is only turned round: no one would try each."""

_SOME_DAY = date(2000, 1, 1)
NUMBER_MOVES = {"1 less": Decimal(-1), "1 more": Decimal(1)}


@dataclass(frozen=True)
class Mutant:
    """One changed edition.

    Attributes:
        kind: `definitions`, `requirements` or `charges`.
        says: what was changed.
        at: which edition of the entry.
        edition: the changed one; None if it was dropped.
    """

    original: Ruleset
    kind: str
    entry: str
    says: str
    at: int
    edition: Edition | None

    @property
    def name(self) -> str:
        """Entry and change: no other mutant's, and the same as long as the rule is."""
        return f"{self.entry}: {self.says}"

    @property
    def was(self) -> Edition:
        """The edition as it is written."""
        before: History[Any] = getattr(self.original, self.kind)[self.entry]
        return before.editions[self.at]  # type: ignore[no-any-return]

    @property
    def changes_condition(self) -> bool:
        """Whether it changes when a definition holds or a requirement applies, and nothing else."""
        if self.kind == "charges":
            return False
        changed: Any = self.edition
        before: Any = self.was
        return changed is None or changed.when != before.when

    @cached_property
    def history(self) -> History[Any]:
        """The entry with the change."""
        before: History[Any] = getattr(self.original, self.kind)[self.entry]
        # A dropped edition never counts, but keeps its words for whoever asks for them.
        changed = self.edition or replace(self.was, state="withdrawn")
        editions = (*before.editions[: self.at], changed, *before.editions[self.at + 1:])
        return replace(before, editions=editions)

    @cached_property
    def ruleset(self) -> Ruleset:
        """The whole ruleset with the change, under a digest of its own."""
        entries: Mapping[str, Any] = getattr(self.original, self.kind)
        digest = f"{self.original.digest} {self.kind} {self.at} {self.name}"
        changed: dict[str, Any] = {self.kind: {**entries, self.entry: self.history}}
        return replace(self.original, digest=digest, **changed)


def mutants(ruleset: Ruleset) -> Iterator[Mutant]:
    """Yield every mutant of a ruleset's own enacted entries."""
    for kind in KINDS:
        entries: Mapping[str, History[Any]] = getattr(ruleset, kind)
        for name, history in entries.items():
            for at, edition in enumerate(history.editions):
                if edition.state != "enacted" or edition.layer != ruleset.jurisdiction:
                    continue
                met: Counter[str] = Counter()
                for says, changed in _changes(kind, edition):
                    met[says] += 1
                    again = f" (no. {met[says]})" if met[says] > 1 else ""
                    yield Mutant(ruleset, kind, name, f"{says}{again}{_period(history, at)}", at,
                                 changed)


def _period(history: History[Any], at: int) -> str:
    """Say which edition of several it is."""
    if len(history.editions) == 1:
        return ""
    first, last = history.editions[at].first, history.editions[at].last
    return f", from {first}" if first else f", until {last}"


def _changes(kind: str, edition: Any) -> Iterator[tuple[str, Edition | None]]:
    yield "dropped", None
    if edition.when is not None:
        for says, condition in _conditions(edition.when):
            yield says, replace(edition, when=condition)
    if kind == "requirements" and edition.window is not None and edition.window.within is not None:
        for says, more in (("window 1 shorter", -1), ("window 1 longer", 1)):
            within = edition.window.within
            within = replace(within, count=within.count + more)
            yield says, replace(edition, window=replace(edition.window, within=within))
    for at, figure in enumerate(edition.figures if kind == "charges" else ()):
        if figure.form in ("amount", "rate", "per day") and not figure.rate_fact:
            for says, by in NUMBER_MOVES.items():
                changed = replace(figure, number=figure.number + by)
                figures = (*edition.figures[:at], changed, *edition.figures[at + 1:])
                yield f"{figure.form} {figure.number.normalize():f} {says}", replace(
                    edition, figures=figures)


def _conditions(condition: Condition) -> Iterator[tuple[str, Condition]]:
    """Yield the condition with one test changed in it, and what was changed."""
    if isinstance(condition, Test):
        words = speaker().say(condition.rule())
        yield f"'{words}' turned round", NoneOf((condition,))
        yield from ((f"'{words}', {says}", Moved(condition, says, moved))
                    for says, moved in _moves(condition))
        return
    if isinstance(condition, (All, AnyOf, NoneOf)):
        make = type(condition)
        for at, part in enumerate(condition.conditions):
            for says, changed in _conditions(part):
                parts = (*condition.conditions[:at], changed, *condition.conditions[at + 1:])
                yield says, make(parts)
        return
    if isinstance(condition, Holds):
        yield f"'{speaker().say(condition.rule())}' turned round", NoneOf((condition,))


def _moves(test: Test) -> Iterator[tuple[str, tuple[str, Any]]]:
    """Yield how a test's cut can be moved: a side and by how much, or a word to leave out."""
    cut = test.cut(LawDay(_SOME_DAY))
    if isinstance(cut, Among):
        longest = LONGEST_LIST_OF_COUNTRIES if test.fact.type == "country" else LONGEST_LIST
        for word in sorted(cut.words) if 1 < len(cut.words) <= longest else ():
            yield f"without {word}", ("without", word)
        return
    number = test.fact.type in ("quantity", "money")
    for side in ("low", "high"):
        if getattr(cut, side) is not None:
            named = "" if None in (cut.low, cut.high) else f"{side} "
            for says, by in (NUMBER_MOVES if number else DAY_MOVES).items():
                yield f"{named}{says}", (side, by)


@dataclass(frozen=True)
class Moved(Test):
    """A test whose cut lies a little elsewhere."""

    inner: Test
    how: str
    moved: tuple[str, Any]

    @property
    def fact(self) -> Fact:  # type: ignore[override]
        """The fact of the test."""
        return self.inner.fact

    @property
    def key(self) -> str:
        return self.inner.key

    @property
    def facts(self) -> tuple[Fact, ...]:
        return self.inner.facts

    def cut(self, day: LawDay) -> Cut:
        cut, (side, by) = self.inner.cut(day), self.moved
        if isinstance(cut, Among):
            return replace(cut, words=cut.words - {by})
        bound = getattr(cut, side)
        low, high = ((bound + by, cut.high) if side == "low" else (cut.low, bound + by))
        return Between(cut.key, low, high)

    def value(self, case: Case, day: LawDay) -> Value:
        return self.inner.value(case, day)

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        return self.inner.earliest(lows, inside, day)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        return self.inner.relation(view, outcome)

    def rule(self) -> Phrase:
        return phrase("{rule}, {how}", rule=self.inner.rule(), how=self.how)
