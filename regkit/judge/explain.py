"""Explaining: findings with reasons, built from the trees when somebody reads them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache, partial

from regkit.conditions import Holds
from regkit.conditions.truth import NO
from regkit.judge.bill import bills
from regkit.judge.crosscheck import paper_trouble
from regkit.judge.either_way import either_way, open_facts, settled_view, ways_to_settle
from regkit.judge.exact import Exact
from regkit.judge.handover import handover
from regkit.judge.late_charges import late_charges
from regkit.judge.law import Law
from regkit.judge.packet import packet
from regkit.judge.plan import make_plan
from regkit.judge.progress import standing
from regkit.judge.readings import announced, other_class_readings, other_readings
from regkit.judge.sentence import class_sentence, sentence
from regkit.language import Phrase, phrase
from regkit.model.assessment import (
    VERDICT_OF,
    ClassFinding,
    Explanation,
    Finding,
    Outcome,
    Reason,
    Verdict,
)
from regkit.model.case import Case
from regkit.model.plan import Plan
from regkit.model.ruleset import Source


def explain(law: Law, case: Case) -> Explanation:
    """Return what there is to say of a case under a law; each part is made when it is read."""
    exact = settled_view(law, case)
    finding = cache(partial(finding_on, law, exact))
    return Explanation(finding, partial(_in_order, law, finding), partial(_classes, law, exact),
                       tuple(_cautions(law)), partial(_plan, law, exact, finding),
                       partial(packet, law, exact), partial(paper_trouble, law, case),
                       partial(bills, law, exact), partial(handover, law, exact))


def _in_order(law: Law, finding: Callable[[str], Finding]) -> tuple[Finding, ...]:
    """Return all findings in the order of stages."""
    stages = list(law.ruleset.stages)
    return tuple(sorted(map(finding, law.ruleset.requirements),
                        key=lambda found: stages.index(found.requirement.stage)))


def _plan(law: Law, exact: Exact, finding: Callable[[str], Finding]) -> Plan:
    return make_plan(law, exact, _in_order(law, finding))


def _classes(law: Law, exact: Exact) -> tuple[ClassFinding, ...]:
    return tuple(_class(law, exact, name)
                 for name, history in law.ruleset.definitions.items() if history.latest.is_class)


def _cautions(law: Law) -> Iterator[Phrase]:
    first = law.ruleset.known_from
    if first is not None and law.day.on < first:
        yield phrase("This ruleset states the law from {first} only; for {day} it may be wrong.",
                     first=first, day=law.day.on)
    for caution in law.ruleset.cautions:
        yield phrase("{caution}", caution=caution)


def finding_on(law: Law, exact: Exact, name: str) -> Finding:
    """Return the finding on one requirement.

    Args:
        exact: the case, its definitions settled.
    """
    view = exact.view
    history = law.ruleset.requirements[name]
    edition, condition = law.edition(history, view.case), law.requirements[name]
    if condition is None:
        truth = NO
        says = phrase("no such rule is in force on {day}", day=law.day.on)
        if edition.state == "not here":
            says = phrase("this rule does not hold here: {place}", place=law.ruleset.title)
        reason = Reason("rule", Outcome.NO, says, sources=edition.sources)
    else:
        truth = exact.truth(condition)
        reason = either_way(condition.reason(view), truth, law.ruleset.vocabulary)
    verdict = VERDICT_OF[Outcome(truth.word)]
    event = edition.on_event
    waiting = verdict == Verdict.UNDECIDED and event and not view.case.value(event).exact
    applies = verdict != Verdict.NOT_REQUIRED and not waiting
    state, met, deadline = standing(law.ruleset, edition, view, applies)
    if deadline is not None and deadline.late is not None and deadline.late.most:
        charges = tuple(late_charges(law, exact, edition, deadline.late))
        deadline = replace(deadline, charges=charges)
    return Finding(
        requirement=edition,
        verdict=verdict,
        sentence=sentence(verdict, reason, law.ruleset.vocabulary, event if waiting else ""),
        reason=reason,
        sources=_sources(law, (*edition.sources, *_reason_sources(reason))),
        settles=open_facts(exact, condition, reason),
        waits_for=event if waiting else "",
        other_readings=other_readings(law, exact, edition, condition),
        announced=announced(law, exact, history, condition),
        open_questions=tuple(dict.fromkeys(
            (*edition.questions, *(r.name for r in reason.deciding() if r.kind == "question"))
        )),
        progress=state,
        met=met,
        deadline=deadline,
        find_ways=partial(ways_to_settle, exact, condition, verdict),
    )


def _class(law: Law, exact: Exact, name: str) -> ClassFinding:
    named = law.definitions[name]
    reason = Holds(name, named.title).reason(exact.view)
    return ClassFinding(
        id=name,
        title=named.title,
        outcome=reason.outcome,
        sentence=class_sentence(reason, law.ruleset.vocabulary),
        reason=reason,
        sources=_sources(law, _reason_sources(reason)),
        other_readings=other_class_readings(law, exact, name),
    )


def _reason_sources(reason: Reason) -> Iterator[str]:
    for node in reason.deciding():
        yield from node.sources


def _sources(law: Law, names: Iterable[str]) -> tuple[Source, ...]:
    return tuple(law.ruleset.sources[name] for name in dict.fromkeys(names))
