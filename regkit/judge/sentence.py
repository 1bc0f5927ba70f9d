"""The one plain sentence that comes before the tree: the verdict and what it rests on most."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from regkit.language import Argument, Phrase, joined, phrase, plural
from regkit.model.assessment import Outcome, Reason, Verdict
from regkit.model.facts import Vocabulary

SHOWN = 2
LEAVES = ("test", "definition", "rule", "either way")
"""Kinds of reasons that say something of the case; what joins them says nothing by itself."""

ALWAYS = {
    Verdict.REQUIRED: "Required: in every case",
    Verdict.NOT_REQUIRED: "Not required: in every case",
    Outcome.YES: "Yes: always",
    Outcome.NO: "No: always",
}
"""What is said where nothing in the case decides the answer."""

DECIDED = {
    Verdict.REQUIRED: "Required: {parts}",
    Verdict.NOT_REQUIRED: "Not required: {parts}",
    Outcome.YES: "Yes: {parts}",
    Outcome.NO: "No: {parts}",
}
SOME = {
    Verdict.REQUIRED: "Required: {parts} (and {count} more)",
    Verdict.NOT_REQUIRED: "Not required: {parts} (and {count} more)",
    Outcome.YES: "Yes: {parts} (and {count} more)",
    Outcome.NO: "No: {parts} (and {count} more)",
}
"""What is said where more decides it than is named."""


def sentence(verdict: Verdict, reason: Reason, vocabulary: Vocabulary, event: str = "") -> Phrase:
    """Return the verdict on a requirement in one sentence.

    Args:
        event: the event a standing duty waits for, if it does.
    """
    if event:
        return phrase("Not yet: applies once this has happened: '{event}'",
                      event=vocabulary[event].label)
    if verdict == Verdict.UNDECIDED:
        return phrase("Cannot be told yet: {open}", open=open_words(reason, vocabulary))
    return _with(verdict, reason, vocabulary)


def class_sentence(reason: Reason, vocabulary: Vocabulary) -> Phrase:
    """Return whether a case belongs to a class, in one sentence."""
    if reason.outcome == Outcome.UNDECIDED:
        return phrase("Cannot be told yet: {open}", open=open_words(reason, vocabulary))
    return _with(reason.outcome, reason, vocabulary)


def _with(answer: Verdict | Outcome, reason: Reason, vocabulary: Vocabulary) -> Phrase:
    leaves = [leaf for _, leaf in sorted(_leaves(reason, vocabulary), key=lambda item: item[0])]
    said: dict[Phrase, None] = dict.fromkeys(leaf.says for leaf in telling(leaves))
    if not said:
        return phrase(ALWAYS[answer])
    parts = joined(*list(said)[:SHOWN])
    left = len(said) - SHOWN
    if left > 0:
        return plural(SOME[answer], SOME[answer], count=left, parts=parts)
    return phrase(DECIDED[answer], parts=parts)


def telling(leaves: Iterable[Reason]) -> list[Reason]:
    """Return the leaves worth saying: that a fact is told, or that there is no rule, if alone."""
    said = list(leaves)
    return [leaf for leaf in said if not leaf.minor and leaf.kind != "rule"] or said


def _leaves(
    reason: Reason, vocabulary: Vocabulary, weight: int = 0
) -> Iterator[tuple[int, Reason]]:
    """Yield the deciding leaves with a weight: dates first, absent exceptions last."""
    deciding = [child for child in reason.children if child.decisive]
    if not deciding:
        if reason.kind in LEAVES:
            yield weight + _rank(reason, vocabulary), reason
        return
    added = 10 if reason.kind == "none" and reason.outcome == Outcome.YES else 0
    for child in deciding:
        yield from _leaves(child, vocabulary, weight + added)


def _rank(reason: Reason, vocabulary: Vocabulary) -> int:
    fact = vocabulary.get(reason.fact)
    if fact is None:
        return 3
    return {"date": 0, "quantity": 1, "money": 1}.get(fact.type, 2)


def open_words(reason: Reason, vocabulary: Vocabulary) -> Phrase:
    """Return what an undecided answer hangs on: facts not known, or not known exactly enough."""
    untold: dict[str, None] = {}
    others: dict[Phrase, None] = {}
    for node in reason.deciding():
        if any(child.decisive for child in node.children):
            continue
        if node.fact and not node.told:
            untold.update(dict.fromkeys(node.settles))
        else:
            others[node.says] = None
    if untold:
        shown: tuple[Argument, ...] = tuple(vocabulary[name].label for name in untold)
        left = len(shown) - 2 * SHOWN + 1
        if left > 1:
            shown = (*shown[:-left], plural("{count} more", "{count} more", count=left))
        others = {phrase("it depends on {labels}", labels=shown): None, **others}
    return joined(*list(others)[: SHOWN + 1])
