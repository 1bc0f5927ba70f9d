"""What bears the outcome of a condition, and what an open one hangs on, in words."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.conditions import Condition, View
from regkit.judge.law import Law
from regkit.language import Phrase, phrase


def deciding_words(condition: Condition, view: View) -> Phrase:
    """Return the tests that bear a condition's outcome, the first two of them."""
    leaves = dict.fromkeys(
        node.says for node in condition.reason(view).deciding()
        if not any(child.decisive for child in node.children)
    )
    return phrase("{parts}", parts=tuple(leaves)[:2])


def hangs_on(condition: Condition, law: Law, view: View) -> Iterator[Phrase]:
    """Yield what would settle an undecided condition: facts by their labels, open questions."""
    for node in condition.reason(view).deciding():
        for name in node.settles:
            yield phrase("{label}", label=law.ruleset.vocabulary[name].label)
        if node.kind == "question":
            yield phrase("an answer to an open question of the ruleset [{name}]", name=node.name)
