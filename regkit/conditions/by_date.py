"""Rules governed by the day of an event, such as arrival, instead of the day of assessment."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.conditions.diagram import FALSE, Node
from regkit.conditions.tools import Emitter, Pen
from regkit.conditions.tree import OUTCOMES, Condition, Test
from regkit.conditions.truth import NO, Truth, agreed
from regkit.conditions.view import View
from regkit.language import Phrase, phrase
from regkit.model.assessment import Outcome, Reason

NOT_IN_FORCE = phrase("no such rule was in force on the day that counts")
NO_SUCH_DAY = phrase("there is no day that counts")


@dataclass(frozen=True, slots=True)
class NoRule(Condition):
    """Never holds: there is no day that counts, or on that day no such rule was in force."""

    because: Phrase = NOT_IN_FORCE

    def truth(self, view: View) -> Truth:
        return NO

    def reason(self, view: View) -> Reason:
        return Reason("rule", Outcome.NO, self.because)

    def rule(self) -> Phrase:
        return phrase("never")

    def code(self, emit: Emitter) -> str:
        return "0"

    def diagram(self, pen: Pen) -> Node:
        return FALSE


@dataclass(frozen=True, slots=True)
class ByDate(Condition):
    """The edition in force on the day of an event, not on the day of assessment.

    `spans` divide all answers between them without gap or overlap: every day, and `never`. Each
    names the test that the answer lies in it and the rule that then counts. Where the day is not
    exact enough, all that is possible must agree.
    """

    spans: tuple[tuple[Test, Condition], ...]

    @property
    def parts(self) -> tuple[Condition, ...]:
        return tuple(part for pair in self.spans for part in pair)

    def _possible(self, view: View) -> list[tuple[Test, Condition]]:
        return [(when, rule) for when, rule in self.spans if when.truth(view) != NO]

    def truth(self, view: View) -> Truth:
        return agreed(rule.truth(view) for _, rule in self._possible(view))

    def reason(self, view: View) -> Reason:
        possible = self._possible(view)
        outcome = OUTCOMES[self.truth(view)]
        # Where editions disagree the day is open, and what each leaves open, not what each settles.
        open_here = outcome == Outcome.UNDECIDED
        children = [
            reason.decisive_if(not open_here or reason.outcome == Outcome.UNDECIDED)
            for reason in (rule.reason(view) for _, rule in possible)
        ]
        if len(possible) > 1:
            children.insert(0, possible[0][0].reason(view).decisive_if(open_here))
        fact = self.spans[0][0].fact
        says = phrase("the rule of the day of '{label}' counts", label=fact.label)
        return Reason("by date", outcome, says, children=tuple(children))

    def rule(self) -> Phrase:
        rules = tuple(
            phrase("if {when}: {rule}", when=when.rule(), rule=rule.rule())
            for when, rule in self.spans
        )
        return phrase("{rules}", rules=rules)

    def code(self, emit: Emitter) -> str:
        return emit.by_date(tuple((when.code(emit), rule.code(emit)) for when, rule in self.spans))

    def diagram(self, pen: Pen) -> Node:
        join = pen.diagrams
        return join.some(
            join.both(when.diagram(pen), rule.diagram(pen)) for when, rule in self.spans
        )
