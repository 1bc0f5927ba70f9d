"""Deciding exactly: is an undecided answer truly open?

Kleene's logic says 'undecided' for `x or not x`. Here what is open is drawn as a decision diagram
over all that the unknown facts may be: if it is true, or false, of every possible vehicle that fits
the case, the answer is settled *either way*. Only what Kleene leaves undecided is looked at, so the
exact answer refines his and never contradicts it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from regkit.conditions.cells import Cells
from regkit.conditions.cut import Among
from regkit.conditions.diagram import FALSE, TRUE, Diagrams, Node, TooLarge, asked_by
from regkit.conditions.tree import Condition, Holds, Open, Test
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.conditions.view import LawDay, Named, View
from regkit.judge.possible import Possible
from regkit.judge.possible_numbers import NUMBERS
from regkit.model.facts import Vocabulary


@dataclass
class Exact:
    """Decides the conditions of one law for one case.

    Attributes:
        diagrams: where it draws; may be shared by all that look at the same facts of a case.
    """

    view: View
    diagrams: Diagrams = field(default_factory=Diagrams)
    _drawn: dict[Condition, Node | None] = field(default_factory=dict)

    @cached_property
    def cells(self) -> Cells:
        return Cells(self.view, self.diagrams)

    @cached_property
    def possible(self) -> Possible:
        return Possible(self.cells)

    def seeing(self, view: View) -> Exact:
        """Return the same for another view of the same case; what was drawn serves both."""
        return Exact(view, self.diagrams)

    def truth(self, condition: Condition) -> Truth:
        """Return whether a condition holds; undecided only if both can still come true."""
        found = condition.truth(self.view)
        return self.beyond_kleene(condition) if found == UNDECIDED else found

    def beyond_kleene(self, condition: Condition) -> Truth:
        """Return the exact truth of a condition that Kleene's logic leaves undecided."""
        drawn = self.open_part(condition)
        if drawn is None:
            return UNDECIDED
        return YES if drawn is TRUE else NO if drawn is FALSE else UNDECIDED

    def open_part(self, condition: Condition) -> Node | None:
        """Return the diagram of what is open, `TRUE` or `FALSE` if nothing is.

        None if it grew too large to tell.
        """
        if condition not in self._drawn:
            try:
                self._drawn[condition] = self._settled(self.cells.draw(condition))
            except TooLarge:
                self._drawn[condition] = None
        return self._drawn[condition]

    def _settled(self, drawn: Node) -> Node:
        """Return `TRUE` or `FALSE` where the other cannot come true of any possible vehicle."""
        if drawn is TRUE or drawn is FALSE or not self._related(drawn):
            return drawn
        if self.possible.world(drawn) is None:
            return FALSE
        if self.possible.world(self.cells.diagrams.negate(drawn)) is None:
            return TRUE
        return drawn

    def _related(self, drawn: Node) -> bool:
        """Return whether facts that are open here can contradict each other, or what is told."""
        variables = [self.cells.diagrams.variables[key] for key in asked_by(drawn)]
        if any(len(variable.facts) > 1 for variable in variables):
            return True
        facts = [fact for variable in variables for fact in variable.facts
                 if fact.type == "date" and variable.about == "value"]
        bounded = bounded_dates(self.view.case.vocabulary)
        return len(facts) > 1 or any(fact.name in bounded for fact in facts)

    def open_cuts(self, condition: Condition) -> Mapping[str, list[object]]:
        """Return the variables an undecided condition truly depends on, and their cuts."""
        drawn = self.open_part(condition)
        return {} if drawn is None else asked_by(drawn)

    def unsettled(self, key: str) -> frozenset[str]:
        """Return the facts of a variable that the case does not tell exactly.

        If it tells all exactly, all of them: an amount in another currency leaves its test open.
        """
        facts = self.cells.diagrams.variables[key].facts
        inexact = frozenset(f.name for f in facts if not self.view.case.value(f.name).exact)
        return inexact or frozenset(f.name for f in facts)


def may_hide_an_answer(
    condition: Condition, definitions: Mapping[str, Named], day: LawDay, vocabulary: Vocabulary
) -> bool:
    """Return whether Kleene's logic may call a condition undecided though it is settled.

    It cannot where every fact is tested once, by a test that divides its values, every open
    question is asked once, and no two facts bound each other.
    """
    met: set[str] = set()
    bounded = bounded_dates(vocabulary)
    for part in _asked(condition, definitions):
        if isinstance(part, Test) and (
            len(part.facts) > 1 or part.fact.name in bounded or not _divides(part, day)
        ):
            return True
        key = part.key if isinstance(part, Test) else f"question {part.question}"
        if key in met:
            return True
        met.add(key)
    return False


def bounded_dates(vocabulary: Vocabulary) -> frozenset[str]:
    """Return the date facts that bound each other."""
    return frozenset(
        name for fact in vocabulary.bounded for name in (fact.name, *fact.no_later_than)
    )


def _divides(test: Test, day: LawDay) -> bool:
    """Return whether some values a fact may have pass a test that cuts it, and some do not."""
    cut, fact = test.cut(day), test.fact
    if isinstance(cut, Among):
        return fact.allowed is None or not cut.words.issuperset(fact.allowed)
    return fact.type not in NUMBERS or all(
        bound is None or bound > 0 for bound in (cut.low, cut.high))


def _asked(condition: Condition, definitions: Mapping[str, Named]) -> Iterator[Test | Open]:
    """Yield every test and open question a condition leads to, each as often as it is met."""
    for part in condition.walk():
        if isinstance(part, (Test, Open)):
            yield part
        elif isinstance(part, Holds):
            inner = definitions[part.definition].condition
            yield from _asked(inner, definitions) if inner is not None else ()
