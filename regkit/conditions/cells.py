"""Drawing the conditions of one law for one case: from the cuts of tests to cells to diagrams.

Between two cuts nothing can change, so one cell stands for all values in it. What the case tells
already decides its tests; only what is open is drawn. A case that tells nothing draws everything.

A case may say expressly that a fact is unknown. That it says so, and what the fact really is, are
two things: the first is a variable of its own wherever a test asks for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from regkit.conditions.cut import Among, Between, Cut
from regkit.conditions.diagram import (
    BEGINNING,
    FALSE,
    NEVER_DAY,
    TRUE,
    Diagrams,
    Line,
    Node,
    WordSet,
)
from regkit.conditions.tree import Condition, Test
from regkit.conditions.truth import UNDECIDED, YES
from regkit.conditions.view import View
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.values import NEVER, UNKNOWN

YES_NO = ("yes", "no")
NO_YES = ("no", "yes")
"""The order in which witnesses are looked for: rather a vehicle whose facts are known."""


@dataclass(frozen=True)
class Cells:
    """Draws conditions as one case sees them on one day; each definition and cut once.

    Attributes:
        kept_whole: definitions that are not looked into, each with the variable to draw for it.
        tests: for each variable that tests ask for, one of them.
    """

    view: View
    diagrams: Diagrams = field(default_factory=Diagrams)
    kept_whole: Mapping[str, str] = field(default_factory=dict)
    tests: dict[str, Test] = field(default_factory=dict)
    _holds: dict[str, Node] = field(default_factory=dict)
    _cuts: dict[Cut, Node] = field(default_factory=dict)

    def draw(self, condition: Condition | None) -> Node:
        """Return the diagram of a condition; of no rule, nowhere true.

        Raises:
            TooLarge: it grew past the limit.
        """
        return FALSE if condition is None else condition.diagram(self)

    def holds(self, definition: str) -> Node:
        if definition in self.kept_whole:
            return self._yes(self.kept_whole[definition], "definition")
        found = self._holds.get(definition)
        if found is None:
            known = self.view.known_truths.get(definition, UNDECIDED)
            if known != UNDECIDED:
                return TRUE if known == YES else FALSE
            found = self._holds[definition] = self.draw(self.view.definitions[definition].condition)
        return found

    def question(self, question: str) -> Node:
        return self._yes(f"question {question}", "question")

    def _yes(self, key: str, about: str) -> Node:
        return self.diagrams.where(WordSet(key, (), about, YES_NO), ["yes"])

    def test(self, test: Test) -> Node:
        return self.cut(test, test.cut(self.view.day))

    def cut(self, test: Test, cut: Cut) -> Node:
        """Return the diagram of a cut of what a test asks for."""
        found = self._cuts.get(cut)
        if found is None:
            truth = cut.truth(test.value(self.view.case, self.view.day))
            if truth == UNDECIDED:
                self.tests.setdefault(test.key, test)
                found = cut.read(_Brush(self, test))
            else:
                found = TRUE if truth == YES else FALSE
            self._cuts[cut] = found
        return found


@dataclass(frozen=True, slots=True)
class _Brush:
    """Draws one undecided cut: the parts that pass."""

    cells: Cells
    test: Test

    def between(self, cut: Between) -> Node:
        high = cut.high
        if high is None and _may_be_never(self.test, self.cells.view.case):
            high = NEVER_DAY
        low = BEGINNING if cut.low is None else cut.low
        if self.test.fact.type in ("quantity", "money") and len(self.test.facts) == 1:
            # These are 0 or more.
            if high is not None and high <= 0:
                return FALSE
            low = BEGINNING if low <= 0 else low
            if low == BEGINNING and high is None:
                return TRUE
        return self.cells.diagrams.where(Line(cut.key, self.test.facts), [(low, high)])

    def among(self, cut: Among) -> Node:
        diagrams = self.cells.diagrams
        drawn = self._words(cut.words - {UNKNOWN})
        if UNKNOWN in cut.words and not self.cells.view.case.value(cut.key).told:
            said = WordSet(f"{cut.key} said to be unknown", self.test.facts, UNKNOWN, NO_YES)
            drawn = diagrams.either(drawn, diagrams.where(said, ["yes"]))
        return drawn if cut.wanted else diagrams.negate(drawn)

    def _words(self, words: frozenset[str]) -> Node:
        fact, case = self.test.fact, self.cells.view.case
        where = self.cells.diagrams.where
        if not words:
            return FALSE
        if fact.type == "date":
            never = NEVER in words and _may_be_never(self.test, case)
            return where(Line(fact.name, (fact,)), [(NEVER_DAY, None)]) if never else FALSE
        return where(WordSet(fact.name, (fact,), "value", _domain(fact, case)), words)


def _domain(fact: Fact, case: Case) -> tuple[str, ...] | None:
    """Return the words a fact may be in a case; None where they cannot be listed."""
    options, allowed = case.value(fact.name).options, case.vocabulary.get(fact.name, fact).allowed
    if allowed is None:
        return None if options is None else tuple(sorted(options))
    return allowed if options is None else tuple(word for word in allowed if word in options)


def _may_be_never(test: Test, case: Case) -> bool:
    """Return whether what is tested may have no day, since an event it needs never happened."""
    return test.fact.type == "date" and not all(
        case.value(fact.name).happened for fact in test.facts
    )
