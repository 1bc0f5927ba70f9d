"""The next question: which fact, told, decides most of what is still open.

Only facts on which an open finding truly depends are asked for; a fact that can change no finding
any more is not in its diagram. What is told already, but not exactly enough, is asked last, and no
question comes before one that leads up to it. Among the rest, the one that removes most of the
doubt: taking every cell of an unknown fact as equally likely, each fact takes away a share of the
variance of a finding's answer, and the shares are added up over all findings.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from regkit.conditions.diagram import FALSE, TRUE, Node, WordSet, asked_by, nodes_of
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.law import Law, law_on
from regkit.model.case import Case
from regkit.model.facts import Fact, Vocabulary
from regkit.model.ruleset import Ruleset

OPEN_WORDS = 6
"""How many words stand for all those that cannot be listed."""


@dataclass(frozen=True, slots=True)
class Question:
    """A fact to ask for.

    Attributes:
        bears_on: the requirements still open that depend on it, those it decides most first.
        left: how many facts may still have to be asked for, this one included.
        again: whether it is told already, and only not exactly enough.
    """

    fact: Fact
    bears_on: tuple[str, ...]
    left: int
    again: bool


def law_to_ask_about(ruleset: Ruleset, day: date) -> Law:
    """Return the law whose open findings the questions are about."""
    return law_on(ruleset, day)


def next_question(law: Law, case: Case, skip: Collection[str] = ()) -> Question | None:
    """Return the fact to ask for next; None if no answer can change a finding any more.

    Args:
        skip: facts that are not asked for, since the answer is not known.
    """
    exact = settled_view(law, case)
    shares: dict[str, dict[str, float]] = {}
    for requirement, drawn in open_findings(law, exact):
        for fact, share in _shares(exact, drawn).items():
            if fact not in skip:
                shares.setdefault(fact, {})[requirement] = share
    if not shares:
        return None
    order = list(law.ruleset.vocabulary)
    told = case.facts
    best = max(_now(law.ruleset.vocabulary, shares, told), key=lambda name: (
        name not in told, sum(shares[name].values()), -order.index(name)))
    bears = sorted(shares[best], key=lambda name: -shares[best][name])
    return Question(law.ruleset.vocabulary[best], tuple(bears), len(shares), best in told)


def _now(
    vocabulary: Vocabulary, open_: Collection[str], told: Collection[str]
) -> Collection[str]:
    """Return the facts whose question no other open one leads up to; all, if they go in a circle.
    """
    ready = [name for name in open_ if not any(
        earlier in open_ and earlier not in told for earlier in vocabulary[name].asked_after)]
    return ready or open_


def open_findings(law: Law, exact: Exact) -> Iterator[tuple[str, Node]]:
    """Yield the requirements that are open, each with the diagram of what is open.

    Standing duties whose event has not happened wait, and are left out.
    """
    for name, condition in law.requirements.items():
        if condition is None:
            continue
        event = law.edition(law.ruleset.requirements[name], exact.view.case).on_event
        if event and not exact.view.case.value(event).told:
            continue
        drawn = exact.open_part(condition)
        if drawn is not None and drawn is not TRUE and drawn is not FALSE:
            yield name, drawn


def _shares(exact: Exact, drawn: Node) -> Mapping[str, float]:
    """Return for each fact the share of a finding's doubt that knowing it takes away."""
    likely = _likelihoods(drawn)
    doubt = likely[drawn] * (1 - likely[drawn])
    reached = {drawn: 1.0}
    found: dict[str, float] = {}
    for node in sorted(nodes_of(drawn), key=lambda node: node.level):
        weights = _weights(node)
        spread = sum(w * (likely[child] - likely[node]) ** 2
                     for w, child in zip(weights, node.children, strict=True))
        for fact in exact.unsettled(node.variable.key):
            told = exact.view.case.value(fact)
            if told.word is None:
                found[fact] = found.get(fact, 0.0) + reached[node] * spread / doubt
        for weight, child in zip(weights, node.children, strict=True):
            reached[child] = reached.get(child, 0.0) + reached[node] * weight
    return found


def _likelihoods(drawn: Node) -> dict[Node, float]:
    likely = {TRUE: 1.0, FALSE: 0.0}
    for node in sorted(nodes_of(drawn), key=lambda node: -node.level):
        likely[node] = sum(w * likely[child]
                           for w, child in zip(_weights(node), node.children, strict=True))
    return likely


def _weights(node: Node) -> list[float]:
    """Return how likely each child is, every cell alike; the rest of the words counts as many."""
    count = len(node.children)
    if not isinstance(node.variable, WordSet):
        return [1 / count] * count
    words = node.variable.words
    rest = OPEN_WORDS if words is None else len(words) - count + 1
    return [*([1 / (count - 1 + rest)] * (count - 1)), rest / (count - 1 + rest)]


def still_asked(law: Law, case: Case) -> frozenset[str]:
    """Return every fact that can still change a finding."""
    exact = settled_view(law, case)
    return frozenset(
        fact for _, drawn in open_findings(law, exact)
        for key in asked_by(drawn) for fact in exact.unsettled(key)
    )
