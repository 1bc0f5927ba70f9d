"""What hangs on an open question of a ruleset: undecided, whatever its answer would bring.

An open question is a variable of the diagrams, but none that a case can tell. So answers are told
apart for every answer to it at once.
"""

from __future__ import annotations

from collections.abc import Mapping

from regkit.compare.eras import reached_on
from regkit.conditions import Condition, Open
from regkit.conditions.diagram import Diagrams, Node, asked_by
from regkit.judge.law import Law


def answers(drawn: Node, diagrams: Diagrams) -> Mapping[str, Node]:
    """Return where the answer is yes, where no, and where it hangs on an open question."""
    always, ever = (diagrams.negate(possibly(diagrams.negate(drawn), diagrams)),
                    possibly(drawn, diagrams))
    return {"yes": always, "no": diagrams.negate(ever),
            "undecided": diagrams.both(ever, diagrams.negate(always))}


def possibly(drawn: Node, diagrams: Diagrams) -> Node:
    """Return where something may be true, by some answers to the open questions."""
    against = diagrams.negate(drawn)
    for question in questions_of(drawn, diagrams):
        against = diagrams.for_every(against, f"question {question}")
    return diagrams.negate(against)


def questions_of(drawn: Node, diagrams: Diagrams) -> list[str]:
    """Return the open questions a diagram depends on."""
    return [key.removeprefix("question ") for key in asked_by(drawn)
            if diagrams.variables[key].about == "question"]


def asks_a_question(law: Law, condition: Condition) -> bool:
    """Return whether a condition leads to an open question under the law of a day."""
    inner = (law.definitions[name].condition for name in reached_on(law, condition))
    return any(isinstance(part, Open) for found in (condition, *inner) if found is not None
               for part in found.walk())
