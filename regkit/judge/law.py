"""The law as it stands on one day: for every entry the rule that counts, as a condition tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, lru_cache

from regkit.conditions import All, ByDate, Condition, Cut, Holds, NoRule, Test, View
from regkit.conditions.by_date import NO_SUCH_DAY
from regkit.conditions.kinds.choice import Choice
from regkit.conditions.kinds.moment import CutOff, Moment
from regkit.conditions.view import LawDay, Named
from regkit.judge.compiled import Program
from regkit.judge.exact import may_hide_an_answer
from regkit.language import Text
from regkit.model.case import Case
from regkit.model.facts import Fact, Vocabulary
from regkit.model.ruleset import Definition, History, Requirement, Ruleset
from regkit.model.values import NEVER, day_of


@dataclass(frozen=True)
class Law:
    """One ruleset on one day.

    Attributes:
        definitions: each definition as it counts that day.
        requirements: for each requirement, the condition under which it applies that day; None
            where it is not in force.
    """

    ruleset: Ruleset
    day: LawDay
    definitions: Mapping[str, Named]
    requirements: Mapping[str, Condition | None]
    questions: Mapping[str, Text]

    def view(self, case: Case) -> View:
        """Return a case as this law sees it."""
        return View(case, self.day, self.definitions, self.questions, cuts=self._cuts)

    @cached_property
    def _cuts(self) -> dict[Test, Cut]:
        """Where the tests of this law cut, worked out as they are met."""
        return {}

    @cached_property
    def program(self) -> Program:
        """All requirements of the day as one compiled function."""
        return Program(self.definitions, self.requirements, self.day)

    @cached_property
    def may_hide(self) -> frozenset[str]:
        """The requirements whose undecided verdict may be settled after all, see `exact`."""
        return frozenset(name for name, c in self.requirements.items() if self._may_hide(c))

    @cached_property
    def definitions_that_may_hide(self) -> tuple[str, ...]:
        """The same for definitions, in the order of writing."""
        return tuple(n for n, d in self.definitions.items() if self._may_hide(d.condition))

    def _may_hide(self, condition: Condition | None) -> bool:
        return condition is not None and may_hide_an_answer(
            condition, self.definitions, self.day, self.ruleset.vocabulary)

    @cached_property
    def contested(self) -> Mapping[str, tuple[str, ...]]:
        """For each requirement, the definitions it leads to that other readings speak about."""
        return {
            name: self._contested(condition) for name, condition in self.requirements.items()
        }

    @cached_property
    def contested_classes(self) -> Mapping[str, tuple[str, ...]]:
        """The same for each definition, apart from itself."""
        return {
            name: self._contested(named.condition) for name, named in self.definitions.items()
        }

    @cached_property
    def _spoken_about(self) -> frozenset[str]:
        return frozenset(
            name
            for name, history in self.ruleset.definitions.items()
            if any(e.dissents or e.state == "announced" for e in history.editions)
        )

    def _contested(self, condition: Condition | None) -> tuple[str, ...]:
        return tuple(name for name in self._reached(condition) if name in self._spoken_about)

    def _reached(self, condition: Condition | None) -> Iterator[str]:
        """Yield every definition a condition leads to, each once."""
        seen: set[str] = set()
        waiting = [condition]
        while waiting:
            current = waiting.pop()
            for part in current.walk() if current is not None else ():
                if isinstance(part, Holds) and part.definition not in seen:
                    seen.add(part.definition)
                    yield part.definition
                    waiting.append(self.definitions[part.definition].condition)

    def edition(self, history: History[Requirement], case: Case) -> Requirement:
        """Return the edition of a requirement to show: the one that counts, else the nearest."""
        on = self.day.on
        if history.governed_by:
            value = case.value(history.governed_by)
            event = day_of(value.low) if value.low == value.high else None
            governing = history.on(event) if event else None
            if governing is not None:
                return governing
        current = history.on(on)
        if current is not None:
            return current
        enacted = [edition for edition in history.editions if edition.state == "enacted"]
        past = [edition for edition in enacted if edition.first is None or edition.first <= on]
        return past[-1] if past else (enacted or list(history.editions))[0]


@lru_cache(maxsize=512)
def law_on(ruleset: Ruleset, on: date) -> Law:
    """Return the law of a ruleset on a day."""
    day = LawDay(on, ruleset.leap_day)
    return Law(
        ruleset,
        day,
        {name: _named(history, ruleset.vocabulary, on)
         for name, history in ruleset.definitions.items()},
        {name: _requirement(history, ruleset.vocabulary, on)
         for name, history in ruleset.requirements.items()},
        {name: question.asks for name, question in ruleset.questions.items()},
    )


def law_with(law: Law, changed: Ruleset, kind: str, name: str) -> Law:
    """Return a law with one entry as a ruleset has it that differs in nothing else.

    Args:
        kind: such as `definitions`.
    """
    definitions, requirements = law.definitions, law.requirements
    if kind == "definitions":
        history = changed.definitions[name]
        definitions = {**definitions, name: _named(history, changed.vocabulary, law.day.on)}
    elif kind == "requirements":
        condition = _requirement(changed.requirements[name], changed.vocabulary, law.day.on)
        requirements = {**requirements, name: condition}
    return Law(changed, law.day, definitions, requirements, law.questions)


def _named(history: History[Definition], vocabulary: Vocabulary, on: date) -> Named:
    edition = history.on(on)
    if history.governed_by:
        sources = tuple(dict.fromkeys(s for e in history.editions for s in e.sources))
        shown = edition or history.latest
        return Named(shown.title, by_date(history, vocabulary), sources, shown.layer)
    if edition is None:
        return Named(history.latest.title, None, (), history.latest.layer)
    return Named(edition.title, edition.when, edition.sources, edition.layer)


def _requirement(
    history: History[Requirement], vocabulary: Vocabulary, on: date
) -> Condition | None:
    if history.governed_by:
        condition: Condition | None = by_date(history, vocabulary)
    else:
        edition = history.on(on)
        condition = edition.when if edition else None
    event = (history.on(on) or history.latest).on_event
    if event and condition is not None:
        happened = Moment(vocabulary[event], (("on or before", on),))
        return All((happened, condition))
    return condition


def by_date(
    history: History[Definition] | History[Requirement], vocabulary: Vocabulary
) -> Condition:
    """Return the condition that picks the edition by the day of its governing date fact."""
    fact = vocabulary[history.governed_by]
    spans: list[tuple[date | None, date | None, Condition]] = []
    free: date | None = None
    enacted = [edition for edition in history.editions if edition.state == "enacted"]
    for edition in enacted:
        if edition.first is not None and edition.first != free:
            spans.append((free, edition.first - timedelta(days=1), NoRule()))
        spans.append((edition.first, edition.last, edition.when))
        free = None if edition.last is None else edition.last + timedelta(days=1)
    if not spans or spans[-1][1] is not None:
        spans.append((free, None, NoRule()))
    parts = [(_within(fact, first, last), rule) for first, last, rule in spans]
    return ByDate((*parts, (Choice(fact, frozenset({NEVER})), NoRule(NO_SUCH_DAY))))


def _within(fact: Fact, first: date | None, last: date | None) -> Test:
    """Return the test that an event happened between two days; None leaves that end open."""
    if first is None and last is None:
        return Choice(fact, frozenset({NEVER}), wanted=False)
    bounds: list[tuple[str, CutOff]] = []
    if first is not None:
        bounds.append(("on or after", first))
    if last is not None:
        bounds.append(("on or before", last))
    return Moment(fact, tuple(bounds))
