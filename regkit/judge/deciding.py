"""What bears the outcome of a condition, and what an open one hangs on, in words."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.conditions import Condition, View
from regkit.judge.law import Law
from regkit.judge.sentence import LEAVES, open_words, telling
from regkit.language import Phrase, phrase
from regkit.model.assessment import Outcome


def deciding_words(condition: Condition, view: View) -> Phrase | None:
    """Return the first two tests that bear a condition's outcome, or what an open one needs.

    None where nothing in the case decides: the condition always holds, or never.
    """
    reason = condition.reason(view)
    if reason.outcome == Outcome.UNDECIDED:
        return open_words(reason, view.case.vocabulary)
    leaves = [node for node in reason.deciding() if node.kind in LEAVES
              and not any(child.decisive for child in node.children)]
    said = dict.fromkeys(leaf.says for leaf in telling(leaves))
    return phrase("{parts}", parts=tuple(said)[:2]) if said else None


def hangs_on(condition: Condition, law: Law, view: View) -> Iterator[Phrase]:
    """Yield what would settle an undecided condition: facts by their labels, open questions."""
    for node in condition.reason(view).deciding():
        for name in node.settles:
            yield phrase("{label}", label=law.ruleset.vocabulary[name].label)
        if node.kind == "question":
            yield phrase("an answer to an open question of the ruleset [{name}]", name=node.name)
