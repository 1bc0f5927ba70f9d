"""Explaining: findings with reasons, built from the trees when somebody reads them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from regkit.conditions import Condition, Holds, View
from regkit.conditions.truth import NO, Truth
from regkit.judge.law import Law
from regkit.judge.progress import standing
from regkit.judge.sentence import class_sentence, sentence
from regkit.language import Phrase, phrase
from regkit.model.assessment import (
    VERDICT_OF,
    Announced,
    ClassFinding,
    Explanation,
    Finding,
    OtherReading,
    Outcome,
    Reason,
    Verdict,
)
from regkit.model.case import Case
from regkit.model.ruleset import Definition, Dissent, History, Requirement, Source
from regkit.model.values import day_of


def explain(law: Law, case: Case) -> Explanation:
    """Return all findings of a case under a law, in the order of stages."""
    view = law.view(case)
    ruleset = law.ruleset
    stages = list(ruleset.stages)
    findings = [_finding(law, view, name) for name in ruleset.requirements]
    findings.sort(key=lambda finding: stages.index(finding.requirement.stage))
    classes = tuple(
        _class(law, view, name)
        for name, history in ruleset.definitions.items() if history.latest.is_class
    )
    return Explanation(tuple(findings), classes, tuple(_cautions(law)))


def _cautions(law: Law) -> Iterator[Phrase]:
    first = law.ruleset.known_from
    if first is not None and law.day.on < first:
        yield phrase("This ruleset states the law from {first} only; for {day} it may be wrong.",
                     first=first, day=law.day.on)
    for caution in law.ruleset.cautions:
        yield phrase("{caution}", caution=caution)


def _finding(law: Law, view: View, name: str) -> Finding:
    history = law.ruleset.requirements[name]
    edition, condition = law.edition(history, view.case), law.requirements[name]
    if condition is None:
        truth = NO
        says = phrase("no such rule is in force on {day}", day=law.day.on)
        reason = Reason("rule", Outcome.NO, says, sources=edition.sources)
    else:
        truth = condition.truth(view)
        reason = condition.reason(view)
    verdict = VERDICT_OF[Outcome(truth.word)]
    event = edition.on_event
    waiting = verdict == Verdict.UNDECIDED and event and not view.case.value(event).exact
    applies = verdict != Verdict.NOT_REQUIRED and not waiting
    state, met, deadline = standing(law.ruleset, edition, view, applies)
    return Finding(
        requirement=edition,
        verdict=verdict,
        sentence=sentence(verdict, reason, law.ruleset.vocabulary, event if waiting else ""),
        reason=reason,
        sources=_sources(law, (*edition.sources, *_reason_sources(reason))),
        settles=_settles(reason),
        waits_for=event if waiting else "",
        other_readings=tuple(_other_readings(law, view, edition, condition, verdict)),
        announced=tuple(_announced(law, view, history, condition)),
        open_questions=tuple(dict.fromkeys(
            (*edition.questions, *(r.name for r in reason.deciding() if r.kind == "question"))
        )),
        progress=state,
        met=met,
        deadline=deadline,
    )


def _class(law: Law, view: View, name: str) -> ClassFinding:
    named = law.definitions[name]
    reason = Holds(name, named.title).reason(view)
    return ClassFinding(
        id=name,
        title=named.title,
        outcome=reason.outcome,
        sentence=class_sentence(reason, law.ruleset.vocabulary),
        reason=reason,
        sources=_sources(law, _reason_sources(reason)),
    )


def _reason_sources(reason: Reason) -> Iterator[str]:
    for node in reason.deciding():
        yield from node.sources


def _sources(law: Law, names: Iterable[str]) -> tuple[Source, ...]:
    return tuple(law.ruleset.sources[name] for name in dict.fromkeys(names))


def _settles(reason: Reason) -> tuple[str, ...]:
    """Return the facts still open in undecided tests, those of most tests first, then by name."""
    if reason.outcome != Outcome.UNDECIDED:
        return ()
    counted = Counter(fact for node in reason.deciding() for fact in node.settles)
    return tuple(sorted(counted, key=lambda fact: (-counted[fact], fact)))


def _verdict(truth: Truth) -> Verdict:
    return VERDICT_OF[Outcome(truth.word)]


def _instead(law: Law, view: View, definition: str, truth: Truth, condition: Condition) -> Verdict:
    """Return the verdict if a definition had another truth."""
    other = View(view.case, view.day, view.definitions, view.questions, {definition: truth})
    return _verdict(condition.truth(other))


def _other_readings(
    law: Law, view: View, edition: Requirement, condition: Condition | None, verdict: Verdict
) -> Iterator[OtherReading]:
    """Yield what other sources say, where it would change this very verdict."""
    if condition is None:
        return
    for dissent in _speaking(edition.dissents, law):
        other = _verdict(dissent.when.truth(view))
        if other != verdict:
            yield OtherReading(dissent.says, other, dissent.sources, edition.id)
    for name in law.contested[edition.id]:
        current = _counting(law, view, law.ruleset.definitions[name])
        for dissent in _speaking(current.dissents if current else (), law):
            other = _instead(law, view, name, dissent.when.truth(view), condition)
            if other != verdict:
                yield OtherReading(dissent.says, other, dissent.sources, name)


def _speaking(dissents: Iterable[Dissent], law: Law) -> Iterator[Dissent]:
    return (dissent for dissent in dissents if dissent.in_force(law.day.on))


def _counting(law: Law, view: View, history: History[Definition]) -> Definition | None:
    """Return the edition of a definition that counts for the case."""
    if history.governed_by:
        value = view.case.value(history.governed_by)
        event = day_of(value.low) if value.low == value.high else None
        return history.on(event) if event else None
    return history.on(law.day.on)


def _announced(
    law: Law, view: View, history: History[Requirement], condition: Condition | None
) -> Iterator[Announced]:
    """Yield announced editions that begin later, with the verdict they would give this case."""
    on = law.day.on
    for edition in history.editions:
        if edition.state == "announced" and (edition.first is None or edition.first > on):
            yield Announced(edition.first, _verdict(edition.when.truth(view)), edition.title,
                            edition.sources)
    for name in law.contested[history.id] if condition is not None else ():
        for definition in law.ruleset.definitions[name].editions:
            if definition.state == "announced" and (
                definition.first is None or definition.first > on
            ):
                assert condition is not None
                verdict = _instead(law, view, name, definition.when.truth(view), condition)
                yield Announced(definition.first, verdict, definition.title, definition.sources)

