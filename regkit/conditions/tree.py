"""The condition tree: all, any, none, a definition, an open question, editions by date, tests.

The tree knows no kind of test. Each node answers for itself in every reading, so that nothing
above the tree ever looks inside it:

- `truth(view)`: yes, no or undecided for a case (Kleene's three values);
- `reason(view)`: the same with its explanation;
- `rule()`: the sentence of the rule, without a case;
- `code(emit)`: a Python expression of integers for the compiled reading.

Exact cells and column expressions are two more such methods; both rest on `Test.cut`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Protocol

from regkit.conditions.cut import Cut
from regkit.conditions.truth import NO, UNDECIDED, Truth, agreed, every, opposite, some
from regkit.language import Phrase, Text, phrase
from regkit.model.assessment import Outcome, Reason
from regkit.model.calendar import LeapDay
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.values import Value

_OUTCOMES = {truth: Outcome(truth.word) for truth in Truth}
_TRUTHS = {outcome: truth for truth, outcome in _OUTCOMES.items()}


@dataclass(frozen=True, slots=True)
class LawDay:
    """The day the law is asked about, and how that law counts anniversaries of 29 February."""

    on: date
    leap_day: LeapDay = "1 March"


@dataclass(frozen=True, slots=True)
class Named:
    """A definition as it stands on a day; `condition` is None where no rule is in force."""

    title: Text
    condition: Condition | None
    sources: tuple[str, ...] = ()
    layer: str = ""


@dataclass(frozen=True)
class View:
    """One case seen on one day under one law; remembers the truth of definitions it has met."""

    case: Case
    day: LawDay
    definitions: Mapping[str, Named]
    questions: Mapping[str, Text]
    known_truths: dict[str, Truth] = field(default_factory=dict)
    known_reasons: dict[str, Reason] = field(default_factory=dict)

    def holds(self, definition: str) -> Truth:
        """Return whether a definition is fulfilled; no where none is in force."""
        found = self.known_truths.get(definition)
        if found is None:
            condition = self.definitions[definition].condition
            found = NO if condition is None else condition.truth(self)
            self.known_truths[definition] = found
        return found


class Emitter(Protocol):
    """Collects the parts of compiled code; returns for each the name of a variable or a number."""

    def test(self, test: Test) -> str: ...
    def holds(self, definition: str) -> str: ...
    def negate(self, expression: str) -> str: ...
    def by_date(self, parts: tuple[tuple[str, str], ...]) -> str: ...


class Condition(ABC):
    """A node of the tree. Nodes are frozen and compare by content."""

    __slots__ = ()

    @property
    def parts(self) -> tuple[Condition, ...]:
        """The conditions this one is made of."""
        return ()

    @abstractmethod
    def truth(self, view: View) -> Truth:
        """Return whether the condition holds for the case."""

    @abstractmethod
    def reason(self, view: View) -> Reason:
        """Return whether it holds, and why."""

    @abstractmethod
    def rule(self) -> Phrase:
        """Return the sentence of the rule."""

    @abstractmethod
    def code(self, emit: Emitter) -> str:
        """Return a Python expression whose value is the number of the truth."""

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The facts this node itself looks at; those of its parts not included."""
        return ()

    def walk(self) -> Iterator[Condition]:
        """Yield this node and every node below it, in the order of writing."""
        yield self
        for part in self.parts:
            yield from part.walk()


@dataclass(frozen=True, slots=True)
class _Group(Condition):
    conditions: tuple[Condition, ...]

    @property
    def parts(self) -> tuple[Condition, ...]:
        return self.conditions

    @abstractmethod
    def combine(self, truths: Iterable[Truth]) -> Truth:
        """Return the truth of the group from those of its parts."""

    def truth(self, view: View) -> Truth:
        return self.combine(part.truth(view) for part in self.conditions)

    def _reason(self, view: View, kind: str, says: Phrase, flips: bool = False) -> Reason:
        reasons = [part.reason(view) for part in self.conditions]
        truth = self.combine(_TRUTHS[reason.outcome] for reason in reasons)
        deciding = _OUTCOMES[opposite(truth) if flips else truth]
        children = tuple(reason.decisive_if(reason.outcome == deciding) for reason in reasons)
        return Reason(kind, _OUTCOMES[truth], says, children=children)


class All(_Group):
    """Holds if every part holds. Of no parts: holds."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return every(truths)

    def reason(self, view: View) -> Reason:
        return self._reason(view, "all", phrase("all of these"))

    def rule(self) -> Phrase:
        return _listed("{parts}", self.conditions)

    def code(self, emit: Emitter) -> str:
        return _operator(" & ", self.conditions, emit, "3")


class AnyOf(_Group):
    """Holds if one part holds. Of no parts: does not hold."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return some(truths)

    def reason(self, view: View) -> Reason:
        return self._reason(view, "any", phrase("one of these"))

    def rule(self) -> Phrase:
        return _listed("one of: {parts}", self.conditions)

    def code(self, emit: Emitter) -> str:
        return _operator(" | ", self.conditions, emit, "0")


class NoneOf(_Group):
    """Holds if no part holds. Of no parts: holds."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return opposite(some(truths))

    def reason(self, view: View) -> Reason:
        return self._reason(view, "none", phrase("none of these"), flips=True)

    def rule(self) -> Phrase:
        return _listed("none of: {parts}", self.conditions)

    def code(self, emit: Emitter) -> str:
        return emit.negate(_operator(" | ", self.conditions, emit, "0"))


@dataclass(frozen=True, slots=True)
class Holds(Condition):
    """Holds if a definition of the ruleset is fulfilled."""

    definition: str
    title: Text

    def truth(self, view: View) -> Truth:
        return view.holds(self.definition)

    def reason(self, view: View) -> Reason:
        known = view.known_reasons.get(self.definition)
        if known is None:
            known = view.known_reasons[self.definition] = self._reason(view)
        return known

    def _reason(self, view: View) -> Reason:
        named = view.definitions[self.definition]
        outcome = _OUTCOMES[view.holds(self.definition)]
        if named.condition is None:
            says = phrase("{title}: no such rule is in force on {day}", title=named.title,
                          day=view.day.on)
            return Reason("definition", outcome, says, name=self.definition, layer=named.layer)
        return Reason(
            "definition",
            outcome,
            phrase("{title}", title=named.title),
            name=self.definition,
            sources=named.sources,
            layer=named.layer,
            children=(named.condition.reason(view).decisive_if(True),),
        )

    def rule(self) -> Phrase:
        return phrase("{title}", title=self.title)

    def code(self, emit: Emitter) -> str:
        return emit.holds(self.definition)


@dataclass(frozen=True, slots=True)
class Open(Condition):
    """Undecided for every case: the rule itself is an open question of the ruleset."""

    question: str

    def truth(self, view: View) -> Truth:
        return UNDECIDED

    def reason(self, view: View) -> Reason:
        says = phrase("the rule is not settled: {asks}", asks=view.questions[self.question])
        return Reason("question", Outcome.UNDECIDED, says, name=self.question)

    def rule(self) -> Phrase:
        return phrase("an open question of this ruleset ({name})", name=self.question)

    def code(self, emit: Emitter) -> str:
        return "1"


@dataclass(frozen=True, slots=True)
class NoRule(Condition):
    """Never holds: on the day of the event no such rule was in force."""

    def truth(self, view: View) -> Truth:
        return NO

    def reason(self, view: View) -> Reason:
        says = phrase("no such rule was in force on the day that counts")
        return Reason("rule", Outcome.NO, says)

    def rule(self) -> Phrase:
        return phrase("never")

    def code(self, emit: Emitter) -> str:
        return "0"


@dataclass(frozen=True, slots=True)
class ByDate(Condition):
    """The edition in force on the day of an event, not on the day of assessment.

    `spans` divide all days between them without gap or overlap; each names the test that the event
    lies in it and the rule that then counts. Where the day is not exact enough, the possible
    editions must agree. If the event never happened, the condition does not hold.
    """

    spans: tuple[tuple[Test, Condition], ...]

    @property
    def parts(self) -> tuple[Condition, ...]:
        return tuple(part for pair in self.spans for part in pair)

    def truth(self, view: View) -> Truth:
        possible = [rule.truth(view) for when, rule in self.spans if when.truth(view) != NO]
        return agreed(possible) if possible else NO

    def reason(self, view: View) -> Reason:
        outcome = self.truth(view)
        possible = [(when, rule) for when, rule in self.spans if when.truth(view) != NO]
        children = [rule.reason(view).decisive_if(True) for _, rule in possible]
        if len(possible) > 1:
            children = [possible[0][0].reason(view).decisive_if(outcome == UNDECIDED), *children]
        fact = self.spans[0][0].fact
        says = phrase("the rule of the day of '{label}' counts", label=fact.label)
        return Reason("by date", _OUTCOMES[outcome], says, children=tuple(children))

    def rule(self) -> Phrase:
        rules = tuple(
            phrase("if {when}: {rule}", when=when.rule(), rule=rule.rule())
            for when, rule in self.spans
        )
        return phrase("{rules}", rules=rules)

    def code(self, emit: Emitter) -> str:
        return emit.by_date(tuple((when.code(emit), rule.code(emit)) for when, rule in self.spans))


class Test(Condition):
    """A test on one fact. Each kind is one class in one file of `conditions/kinds`.

    A kind supplies its cut, its words and how it is read; every other reading follows from these.
    """

    __slots__ = ()

    fact: Fact

    @property
    def key(self) -> str:
        """The fact, or the quantity derived from facts, that this test cuts."""
        return self.fact.name

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The facts this test looks at."""
        return (self.fact,)

    @abstractmethod
    def cut(self, day: LawDay) -> Cut:
        """Return where the test cuts its fact's domain on a day."""

    def value(self, case: Case, day: LawDay) -> Value:
        """Return what the tested quantity may be."""
        return case.value(self.fact.name)

    @abstractmethod
    def relation(self, view: View, outcome: Truth) -> Phrase:
        """Return how the value stands to the cut, to follow the fact and its value.

        For undecided: how it would stand if the test held.
        """

    def truth(self, view: View) -> Truth:
        return self.cut(view.day).truth(self.value(view.case, view.day))

    def reason(self, view: View) -> Reason:
        outcome = self.truth(view)
        unsettled = tuple(fact.name for fact in self.facts if not view.case.value(fact.name).exact)
        return Reason(
            "test",
            _OUTCOMES[outcome],
            self.words(view, outcome),
            fact=self.fact.name,
            value=self.fact.say(view.case.value(self.fact.name)),
            cut=self.rule(),
            settles=unsettled if outcome == UNDECIDED else (),
            told=all(view.case.value(fact.name).word is None and view.case.value(fact.name).told
                     for fact in self.facts),
        )

    def words(self, view: View, outcome: Truth) -> Phrase:
        """Return one sentence part that says fact, value and how it stands to the cut."""
        value = view.case.value(self.fact.name)
        said, relation = self.fact.say(value), self.relation(view, outcome)
        label = self.fact.label
        if outcome != UNDECIDED:
            if value.bounded_by and not value.told:
                other = view.case.vocabulary[value.bounded_by].label
                return phrase("{label} {value} (the date of '{other}'), {relation}",
                              label=label, value=said, other=other, relation=relation)
            return phrase("{label} {value}, {relation}", label=label, value=said, relation=relation)
        if value.told and value.word is None:
            return phrase("{label} {value}: not exact enough to tell whether {relation}",
                          label=label, value=said, relation=relation)
        return phrase("{label}: not known; it matters whether {relation}",
                      label=label, relation=relation)

    def code(self, emit: Emitter) -> str:
        return emit.test(self)


Reader = Callable[[Fact, object, Mapping[str, Fact]], "Test | None"]


def _listed(template: str, conditions: tuple[Condition, ...]) -> Phrase:
    return phrase(template, parts=tuple(part.rule() for part in conditions))


def _operator(sign: str, parts: tuple[Condition, ...], emit: Emitter, empty: str) -> str:
    codes = [part.code(emit) for part in parts]
    return f"({sign.join(codes)})" if codes else empty
