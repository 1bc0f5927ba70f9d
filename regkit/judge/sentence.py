"""The one plain sentence that comes before the tree: the verdict and what it rests on most."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Argument, Phrase, joined, phrase
from regkit.model.assessment import Outcome, Reason, Verdict
from regkit.model.facts import Vocabulary

SHOWN = 2


def sentence(verdict: Verdict, reason: Reason, vocabulary: Vocabulary, event: str = "") -> Phrase:
    """Return the verdict on a requirement in one sentence.

    Args:
        event: the event a standing duty waits for, if it does.
    """
    if event:
        return phrase("Not yet: applies once this has happened: '{event}'",
                      event=vocabulary[event].label)
    if verdict == Verdict.UNDECIDED:
        return phrase("Cannot be told yet: {open}", open=_open(reason, vocabulary))
    template = "Required" if verdict == Verdict.REQUIRED else "Not required"
    return _with(template, reason, vocabulary, "in every case")


def class_sentence(reason: Reason, vocabulary: Vocabulary) -> Phrase:
    """Return whether a case belongs to a class, in one sentence."""
    if reason.outcome == Outcome.UNDECIDED:
        return phrase("Cannot be told yet: {open}", open=_open(reason, vocabulary))
    template = "Yes" if reason.outcome == Outcome.YES else "No"
    return _with(template, reason, vocabulary, "always")


def _with(template: str, reason: Reason, vocabulary: Vocabulary, always: str) -> Phrase:
    leaves = [leaf for _, leaf in sorted(_leaves(reason, vocabulary), key=lambda item: item[0])]
    said: dict[Phrase, None] = dict.fromkeys(leaf.says for leaf in leaves)
    if not said:
        return phrase(template + ": {always}", always=phrase(always))
    first = list(said)[:SHOWN]
    parts = phrase("; ".join("{" + "ab"[at] + "}" for at in range(len(first))),
                   **dict(zip("ab", first, strict=False)))
    left = len(said) - len(first)
    if left:
        return phrase(template + ": {parts} (and {count} more)", parts=parts, count=left)
    return phrase(template + ": {parts}", parts=parts)


def _leaves(
    reason: Reason, vocabulary: Vocabulary, weight: int = 0
) -> Iterator[tuple[int, Reason]]:
    """Yield the deciding leaves with a weight: dates first, absent exceptions last."""
    deciding = [child for child in reason.children if child.decisive]
    if not deciding:
        if reason.kind in ("test", "definition", "rule", "either way"):
            yield weight + _rank(reason, vocabulary), reason
        return
    added = 10 if reason.kind == "none" and reason.outcome == Outcome.YES else 0
    for child in deciding:
        yield from _leaves(child, vocabulary, weight + added)


def _rank(reason: Reason, vocabulary: Vocabulary) -> int:
    fact = vocabulary.get(reason.fact)
    if fact is None:
        return 3
    if reason.minor:
        return 20
    return {"date": 0, "quantity": 1, "money": 1}.get(fact.type, 2)


def _open(reason: Reason, vocabulary: Vocabulary) -> Phrase:
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
            shown = (*shown[:-left], phrase("{count} more", count=left))
        others = {phrase("it depends on {labels}", labels=shown): None, **others}
    return joined(*list(others)[: SHOWN + 1])
