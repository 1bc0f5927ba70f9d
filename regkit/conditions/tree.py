"""The condition tree: all, any, none, a definition, an open question, editions by date, tests.

The tree knows no kind of test. Each node answers for itself in every reading, so that nothing
above the tree ever looks inside it:

- `truth(view)`: yes, no or undecided for a case (Kleene's three values);
- `reason(view)`: the same with its explanation;
- `rule()`: the sentence of the rule, without a case;
- `code(emit)`: a Python expression of integers for the compiled reading;
- `diagram(pen)`: the cases for which it holds, as an exact decision diagram.

Column expressions are one more such method; like these two it rests on `Test.cut`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from regkit.conditions.cut import Cut
from regkit.conditions.diagram import Node
from regkit.conditions.tools import Emitter, Pen
from regkit.conditions.truth import UNDECIDED, Truth, every, opposite, some
from regkit.conditions.view import LawDay, View
from regkit.language import Either, Phrase, Text, phrase
from regkit.model.assessment import Outcome, Reason
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.values import Bound, Value

MANY = 100
OUTCOMES = {truth: Outcome(truth.word) for truth in Truth}
TRUTHS = {outcome: truth for truth, outcome in OUTCOMES.items()}


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

    @abstractmethod
    def diagram(self, pen: Pen) -> Node:
        """Return the diagram of the cases for which it holds."""

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
        truth = self.combine(TRUTHS[reason.outcome] for reason in reasons)
        deciding = OUTCOMES[opposite(truth) if flips else truth]
        children = tuple(reason.decisive_if(reason.outcome == deciding) for reason in reasons)
        return Reason(kind, OUTCOMES[truth], says, children=children)


class All(_Group):
    """Holds if every part holds. Of no parts: holds."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return every(truths)

    def reason(self, view: View) -> Reason:
        return self._reason(view, "all", phrase("all of these"))

    def rule(self) -> Phrase:
        return phrase("{parts}", parts=_rules(self.conditions))

    def code(self, emit: Emitter) -> str:
        return _operator(" & ", self.conditions, emit, "3")

    def diagram(self, pen: Pen) -> Node:
        return pen.diagrams.every(part.diagram(pen) for part in self.conditions)


class AnyOf(_Group):
    """Holds if one part holds. Of no parts: does not hold."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return some(truths)

    def reason(self, view: View) -> Reason:
        return self._reason(view, "any", phrase("one of these"))

    def rule(self) -> Phrase:
        return phrase("one of: {parts}", parts=Either(_rules(self.conditions)))

    def code(self, emit: Emitter) -> str:
        return _operator(" | ", self.conditions, emit, "0")

    def diagram(self, pen: Pen) -> Node:
        return pen.diagrams.some(part.diagram(pen) for part in self.conditions)


class NoneOf(_Group):
    """Holds if no part holds. Of no parts: holds."""

    __slots__ = ()

    def combine(self, truths: Iterable[Truth]) -> Truth:
        return opposite(some(truths))

    def reason(self, view: View) -> Reason:
        return self._reason(view, "none", phrase("none of these"), flips=True)

    def rule(self) -> Phrase:
        return phrase("none of: {parts}", parts=Either(_rules(self.conditions)))

    def code(self, emit: Emitter) -> str:
        return emit.negate(_operator(" | ", self.conditions, emit, "0"))

    def diagram(self, pen: Pen) -> Node:
        return pen.diagrams.negate(
            pen.diagrams.some(part.diagram(pen) for part in self.conditions)
        )


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
        outcome = OUTCOMES[view.holds(self.definition)]
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

    def diagram(self, pen: Pen) -> Node:
        return pen.holds(self.definition)


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

    def diagram(self, pen: Pen) -> Node:
        return pen.question(self.question)


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
        """Return where the test cuts its fact's domain on a day; no bound ever moves back."""

    def value(self, case: Case, day: LawDay) -> Value:
        """Return what the tested quantity may be."""
        return case.value(self.fact.name)

    def earliest(
        self, lows: Mapping[str, Bound], inside: tuple[Bound, Bound], day: LawDay
    ) -> Mapping[str, Bound]:
        """Return for its facts the earliest days at which a derived quantity can lie inside bounds.

        Args:
            lows: the earliest day known so far for each fact, by name.
            inside: the least and the most the quantity may be.
        """
        return {}

    def apart(
        self, inside: tuple[Bound, Bound], day: LawDay
    ) -> Iterable[tuple[str, str, Bound]]:
        """Return by how many days one event must at least follow another, wherever in time.

        Each as the one, the other, which follows it, and the days; with them below 0, by how many
        it may come before. Events are those of its facts, by name, and what is counted from them.
        So that what can never be is known without trying day after day.

        Args:
            inside: the least and the most the quantity derived from them may be.
        """
        return ()

    @abstractmethod
    def relation(self, view: View, outcome: Truth) -> Phrase:
        """Return how the value stands to the cut, to follow the fact and its value.

        For undecided: how it would stand if the test held.
        """

    def truth(self, view: View) -> Truth:
        found = view.known_tests.get(self)
        if found is None:
            found = view.known_tests[self] = view.cut(self).truth(self.value(view.case, view.day))
        return found

    def reason(self, view: View) -> Reason:
        outcome = self.truth(view)
        unsettled = tuple(
            fact.name for fact in self.facts if not view.case.value(fact.name).exact
        ) or tuple(fact.name for fact in self.facts)
        return Reason(
            "test",
            OUTCOMES[outcome],
            partial(self.words, view, outcome),
            fact=self.fact.name,
            value_said=partial(self.fact.say, view.case.value(self.fact.name)),
            cut_said=self.rule,
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
            if value.bounded_by and (value.word is not None or not value.told):
                other = view.case.vocabulary[value.bounded_by].label
                return phrase("{label} {value} (the date of '{other}'), {relation}",
                              label=label, value=said, other=other, relation=relation)
            return phrase("{label} {value}, {relation}", label=label, value=said, relation=relation)
        if value.told and value.word is None and value.exact:
            return phrase("{label} {value}: it matters whether {relation}",
                          label=label, value=said, relation=relation)
        if value.told and value.word is None:
            return phrase("{label} {value}: not exact enough to tell whether {relation}",
                          label=label, value=said, relation=relation)
        return phrase("{label}: not known; it matters whether {relation}",
                      label=label, relation=relation)

    def code(self, emit: Emitter) -> str:
        return emit.test(self)

    def diagram(self, pen: Pen) -> Node:
        return pen.test(self)



def _rules(conditions: tuple[Condition, ...]) -> tuple[Phrase, ...]:
    return tuple(part.rule() for part in conditions)


def _operator(sign: str, parts: tuple[Condition, ...], emit: Emitter, empty: str) -> str:
    codes = [part.code(emit) for part in parts]
    return _balanced(sign, codes) if codes else empty


def _balanced(sign: str, codes: list[str]) -> str:
    """Join codes so that many parts do not nest as deeply as they are many."""
    if len(codes) <= MANY:
        return f"({sign.join(codes)})"
    half = len(codes) // 2
    return f"({_balanced(sign, codes[:half])}{sign}{_balanced(sign, codes[half:])})"
