"""Saying what was decided exactly: settled either way, and what would settle what is still open."""

from __future__ import annotations

from collections import Counter

from regkit.conditions import Condition, Holds
from regkit.conditions.diagram import asked_by
from regkit.conditions.tree import OUTCOMES
from regkit.conditions.truth import UNDECIDED, Truth
from regkit.judge import settling
from regkit.judge.exact import Exact
from regkit.judge.law import Law
from regkit.language import phrase
from regkit.model.assessment import Outcome, Reason, Verdict, WaysToSettle
from regkit.model.case import Case
from regkit.model.facts import Vocabulary


def settled_view(law: Law, case: Case, like: Exact | None = None) -> Exact:
    """Return a case as a law sees it, its definitions decided exactly beforehand.

    So a definition that is settled either way counts, and is explained, as settled wherever it is
    used.

    Args:
        like: the same of a case that tells the same, but for facts that only this one tells
            exactly; what was drawn there serves here too.
    """
    view = law.view(case)
    exact = Exact(view) if like is None else like.seeing(view)
    found: dict[str, Truth] = {}
    for name in law.definitions_that_may_hide:
        if view.holds(name) == UNDECIDED:
            holds = Holds(name, view.definitions[name].title)
            truth = exact.beyond_kleene(holds)
            if truth != UNDECIDED:
                found[name] = truth
    if not found:
        return exact
    settled = law.view(case)
    for name, truth in found.items():
        named = view.definitions[name]
        assert named.condition is not None
        settled.known_truths[name] = truth
        inner = either_way(named.condition.reason(view), truth, case.vocabulary)
        settled.known_reasons[name] = Reason(
            "definition", OUTCOMES[truth], phrase("{title}", title=named.title), name=name,
            sources=named.sources, layer=named.layer, children=(inner.decisive_if(True),),
        )
    return exact.seeing(settled)


def either_way(reason: Reason, truth: Truth, vocabulary: Vocabulary) -> Reason:
    """Return the reason for an exact answer, which may settle what the tree leaves open."""
    outcome = OUTCOMES[truth]
    if reason.outcome == outcome:
        return reason
    labels = tuple(vocabulary[name].label for name in _settles(reason))
    return Reason(
        "either way",
        outcome,
        phrase("it comes out the same either way, whatever is found out about: {labels}",
               labels=labels),
        sources=tuple(dict.fromkeys(s for node in reason.deciding() for s in node.sources)),
        children=(reason.decisive_if(False),),
    )


def open_facts(exact: Exact, condition: Condition | None, reason: Reason) -> tuple[str, ...]:
    """Return the facts an undecided answer truly hangs on; those of most open tests first."""
    if condition is None or reason.outcome != Outcome.UNDECIDED:
        return ()
    drawn = exact.open_part(condition)
    named = _settles(reason)
    if drawn is None:
        return named
    asked = {name for key in asked_by(drawn) for name in exact.unsettled(key)}
    return (*(n for n in named if n in asked), *sorted(asked - set(named)))


def ways_to_settle(exact: Exact, condition: Condition | None, verdict: Verdict) -> WaysToSettle:
    """Return what would settle a verdict; nothing for one that is settled."""
    if condition is None or verdict != Verdict.UNDECIDED:
        return WaysToSettle()
    return settling.ways_to_settle(exact, condition)


def _settles(reason: Reason) -> tuple[str, ...]:
    """Return the facts still open in undecided tests, those of most tests first, then by name."""
    counted = Counter(fact for node in reason.deciding() for fact in node.settles)
    return tuple(sorted(counted, key=lambda fact: (-counted[fact], fact)))
