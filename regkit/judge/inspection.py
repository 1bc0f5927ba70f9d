"""What an inspector looks at, with the answer the case gives now.

A list from the ruleset, not a verdict: nobody passes or fails here. That a vehicle does not run and
that it is incomplete are different facts; each is asked only where the ruleset says so.
"""

from __future__ import annotations

from collections.abc import Iterable

from regkit.judge.crosscheck import comparisons
from regkit.judge.law import Law
from regkit.language import Phrase, phrase
from regkit.model.case import Case
from regkit.model.comparison import Comparison
from regkit.model.likeness import Likeness
from regkit.model.packet import InspectionItem, ItemState
from regkit.model.ruleset import Inspected, Requirement
from regkit.model.values import UNKNOWN


def inspection(law: Law, case: Case, requirement: Requirement) -> tuple[InspectionItem, ...]:
    """Return what is looked at for one requirement; each item keeps its own sources."""
    if not requirement.inspects:
        return ()
    apart = [one for one in comparisons(law, case) if one.likeness != Likeness.SAME]
    return tuple(_item(law, case, requirement, item, apart) for item in requirement.inspects)


def _item(
    law: Law, case: Case, requirement: Requirement, item: Inspected,
    apart: Iterable[Comparison],
) -> InspectionItem:
    names = item.sources or requirement.sources
    sources = tuple(law.ruleset.sources[name] for name in names)
    state, answer = _answer(law, case, item, apart)
    return InspectionItem(item.looks_at, state, answer, item.fact, sources)


def _answer(
    law: Law, case: Case, item: Inspected, apart: Iterable[Comparison]
) -> tuple[ItemState, Phrase]:
    if not item.fact:
        return ItemState.OPEN, phrase("nothing in the case tells; look before you go")
    fact, value = law.ruleset.vocabulary[item.fact], case.value(item.fact)
    if not (value.told or value.either) or value.word == UNKNOWN:
        return ItemState.OPEN, phrase("{label}: not told", label=fact.label)
    said = phrase("{label}: {value}", label=fact.label, value=fact.say(value))
    if fact.type == "yes_no":
        if not value.exact:
            return ItemState.OPEN, said
        right = value.options == frozenset({item.right})
        return (ItemState.RIGHT if right else ItemState.WRONG), said
    checks = _checks_of(law, item.fact)
    wrong = next((one for one in apart if one.about in checks), None)
    if wrong is not None:
        return ItemState.WRONG, phrase("{said}; {likeness}: {others}", said=said,
                                       likeness=phrase(wrong.likeness.value), others=_others(wrong))
    compared = {name for check in checks for name in _agreeing(law, check)} - {item.fact}
    told = [name for name in compared
            if name in case.facts or any(name in paper.shows for paper in case.papers)]
    if compared and not told:
        return ItemState.OPEN, phrase("{said}; the papers' own is not told", said=said)
    return ItemState.RIGHT, phrase("{said}, as in the papers", said=said) if told else said


def _checks_of(law: Law, fact: str) -> set[str]:
    return {
        name for name in law.ruleset.crosschecks if fact in _agreeing(law, name)
    } or {fact}


def _agreeing(law: Law, check: str) -> tuple[str, ...]:
    history = law.ruleset.crosschecks.get(check)
    edition = history.on(law.day.on) if history is not None else None
    return edition.agree if edition is not None else ()


def _others(wrong: Comparison) -> tuple[Phrase, ...]:
    return tuple(phrase("{value} by {by}", value=said.value, by=said.by) for said in wrong.said)
