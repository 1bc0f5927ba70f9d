"""What other sources say, and what is announced, where it would change this very answer."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from regkit.conditions import Condition, View
from regkit.conditions.truth import Truth
from regkit.judge.exact import Exact
from regkit.judge.law import Law
from regkit.model.assessment import VERDICT_OF, Announced, OtherReading, Outcome, Verdict
from regkit.model.ruleset import Definition, Dissent, History, Requirement
from regkit.model.values import day_of

Answer = Callable[[Truth], Verdict | Outcome]


def other_readings(
    law: Law, exact: Exact, edition: Requirement, condition: Condition | None
) -> tuple[OtherReading, ...]:
    """Return what other sources say of a requirement, or of a definition it leads to."""
    if condition is None:
        return ()
    names = law.contested[edition.id]
    return tuple(_readings(law, exact, condition, (edition.id, edition.dissents), names, _verdict))


def other_class_readings(law: Law, exact: Exact, name: str) -> tuple[OtherReading, ...]:
    """Return what other sources say of a class, or of a definition it leads to."""
    condition = law.definitions[name].condition
    current = _counting(law, exact.view, law.ruleset.definitions[name])
    if condition is None or current is None:
        return ()
    names = law.contested_classes[name]
    return tuple(_readings(law, exact, condition, (name, current.dissents), names, _outcome))


def announced(
    law: Law, exact: Exact, history: History[Requirement], condition: Condition | None
) -> tuple[Announced, ...]:
    """Return announced editions that begin later, with the verdict they would give this case."""
    found = [
        Announced(edition.first, _verdict(exact.truth(edition.when)), edition.title,
                  edition.sources)
        for edition in history.editions if _lies_ahead(edition, law)
    ]
    if condition is not None:
        for name in law.contested[history.id]:
            for edition in law.ruleset.definitions[name].editions:
                if _lies_ahead(edition, law):
                    truth = _instead(exact, name, edition.when, condition)
                    found.append(
                        Announced(edition.first, _verdict(truth), edition.title, edition.sources))
    return tuple(found)


def _readings(
    law: Law,
    exact: Exact,
    condition: Condition,
    own: tuple[str, tuple[Dissent, ...]],
    names: Iterable[str],
    answer: Answer,
) -> Iterator[OtherReading]:
    current = answer(exact.truth(condition))
    for dissent in _speaking(own[1], law):
        other = answer(exact.truth(dissent.when))
        if other != current:
            yield OtherReading(dissent.says, other, dissent.sources, own[0])
    for name in names:
        edition = _counting(law, exact.view, law.ruleset.definitions[name])
        for dissent in _speaking(edition.dissents if edition else (), law):
            other = answer(_instead(exact, name, dissent.when, condition))
            if other != current:
                yield OtherReading(dissent.says, other, dissent.sources, name)


def _verdict(truth: Truth) -> Verdict:
    return VERDICT_OF[_outcome(truth)]


def _outcome(truth: Truth) -> Outcome:
    return Outcome(truth.word)


def _instead(exact: Exact, definition: str, when: Condition, condition: Condition) -> Truth:
    """Return the truth of a condition if a definition had another condition."""
    view = exact.view
    changed = replace(view.definitions[definition], condition=when)
    definitions = {**view.definitions, definition: changed}
    return exact.seeing(View(view.case, view.day, definitions, view.questions)).truth(condition)


def _speaking(dissents: Iterable[Dissent], law: Law) -> Iterator[Dissent]:
    return (dissent for dissent in dissents if dissent.in_force(law.day.on))


def _lies_ahead(edition: Requirement | Definition, law: Law) -> bool:
    return edition.state == "announced" and (
        edition.first is None or edition.first > law.day.on
    )


def _counting(law: Law, view: View, history: History[Definition]) -> Definition | None:
    """Return the edition of a definition that counts for the case."""
    if history.governed_by:
        value = view.case.value(history.governed_by)
        event = day_of(value.low) if value.low == value.high else None
        return history.on(event) if event else None
    return history.on(law.day.on)
