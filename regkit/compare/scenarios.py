"""Scenarios side by side: cases of one vehicle that were decided or done differently.

Nothing here knows any strategy. Whether to register first and change the engine later, or the
other way about, comes out of the two cases and the rules alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from regkit.language import Phrase, Text, phrase
from regkit.model.assessment import Assessment, Finding, Verdict
from regkit.model.bill import Amount
from regkit.model.plan import Cost, Days, StepState
from regkit.model.scenarios import NONE, Row, Scenarios


def scenarios(names: Sequence[str], assessments: Sequence[Assessment]) -> Scenarios:
    """Return cases side by side.

    Args:
        names: what to call each case, in the order of the assessments.

    Raises:
        ValueError: there are fewer than two, or the numbers of names and cases differ.
    """
    if len(assessments) < 2 or len(names) != len(assessments):
        raise ValueError("compare at least two cases, each with a name of its own")
    found = tuple(assessments)
    rows = [row for row in (*_facts(found), *class_rows(found), *requirement_rows(found),
                            *charge_rows(found)) if row.differs]
    return Scenarios(tuple(names), found, (*rows, *plan_rows(found)))


def _facts(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    told = dict.fromkeys(name for one in cases for name in sorted(one.case.facts))
    for name in told:
        fact = next(v[name] for one in cases if name in (v := one.ruleset.vocabulary))
        yield Row("fact", name, fact.label, tuple(
            fact.say(one.case.facts[name]) if name in one.case.facts else phrase("not told")
            for one in cases))


def class_rows(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield a row for each class that any of the cases knows."""
    by_name = [{found.id: found for found in one.classes} for one in cases]
    for name in dict.fromkeys(name for classes in by_name for name in classes):
        title = next(classes[name].title for classes in by_name if name in classes)
        yield Row(
            "class", name, title,
            tuple(phrase(c[name].outcome.value) if name in c else NONE for c in by_name),
            tuple(c[name].sentence if name in c else phrase("") for c in by_name),
        )


def requirement_rows(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield a row for each requirement that any of the cases knows."""
    by_name = [{found.id: found for found in one.findings} for one in cases]
    for name in dict.fromkeys(name for findings in by_name for name in findings):
        title = next(f[name].requirement.title for f in by_name if name in f)
        yield Row(
            "requirement", name, title,
            tuple(_answer(f[name]) if name in f else NONE for f in by_name),
            tuple(f[name].sentence if name in f else phrase("") for f in by_name),
        )


def _answer(finding: Finding) -> Phrase:
    if finding.waits_for:
        return phrase("waits for its event")
    if finding.met is not None:
        return phrase(finding.progress.value)
    verdict = phrase(finding.verdict.value)
    deadline = finding.deadline
    if finding.verdict == Verdict.NOT_REQUIRED or deadline is None or deadline.first is None:
        return verdict
    return phrase("{verdict}, by {day}", verdict=verdict, day=deadline.first)


def charge_rows(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield a row for each charge on any of the bills, of the routes the cases tell."""
    bills = [one.bills[0] for one in cases]
    for name in dict.fromkeys(line.charge for bill in bills for line in bill.lines if line.payable):
        lines = [bill.line(name) for bill in bills]
        title: Text = next(line.title for line in lines if line is not None)
        yield Row("charge", name, title, tuple(
            NONE if line is None else phrase(
                "{amount}" if line.certain else "{amount}, if it is due", amount=line.amount)
            for line in lines))


def plan_rows(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield what the plans come to, also where they do not differ."""
    yield Row("plan", "finish", phrase("done by"),
              tuple(_when(one.plan.end) for one in cases))
    yield Row("plan", "cost", phrase("charges of the steps still to take"),
              tuple(_cost(one.plan.cost) for one in cases))
    yield Row("plan", "total", phrase("charges of all that the law demands, lateness included"),
              tuple(_amounts(one.bills[0].totals) for one in cases))
    yield Row("plan", "steps", phrase("steps to take"), tuple(
        phrase("{count}", count=len([s for s in one.plan.steps if s.state != StepState.DONE]))
        for one in cases))
    yield Row("plan", "papers", phrase("papers to get"), tuple(
        phrase("{count}", count=len(one.plan.to_get)) for one in cases))
    yield Row("plan", "unsettled", phrase("steps that may not apply"), tuple(
        phrase("{count}", count=sum(step.perhaps for step in one.plan.steps)) for one in cases))
    yield Row("plan", "for papers", phrase("steps taken only for a paper that they give"), tuple(
        phrase("{count}", count=sum(not step.demanded for step in one.plan.steps))
        for one in cases))
    yield Row("plan", "questions", phrase("open questions of the rules on the way"), tuple(
        phrase("{count}", count=len(_questions(one))) for one in cases))
    yield Row("plan", "dead ends", phrase("dead ends"), tuple(
        phrase("{count}", count=len(one.plan.dead_ends) + len(one.plan.circles)) for one in cases))
    yield Row("plan", "path", phrase("what decides the end"), tuple(
        phrase("{steps}", steps=tuple(_title(one, name) for name in one.plan.path))
        for one in cases))


def _questions(one: Assessment) -> set[str]:
    steps = {step.requirement for step in one.plan.steps if step.state != StepState.DONE}
    return {name for finding in one.findings if finding.id in steps
            for name in finding.open_questions}


def _title(one: Assessment, name: str) -> Text:
    if name in one.ruleset.requirements:
        return one.finding(name).requirement.title
    return one.ruleset.evidence[name].latest.title


def _when(days: Days | None) -> Phrase:
    if days is None:
        return phrase("cannot be told")
    says = phrase("{day}", day=days.first) if days.first == days.last else phrase(
        "{first} to {last}", first=days.first, last=days.last)
    return phrase("{days} or later", days=says) if days.or_later else says


def _cost(cost: Cost) -> Phrase:
    known = Amount(cost.least, cost.most, cost.currency)
    if not cost.unknown:
        return phrase("{amount}", amount=known)
    return phrase("{amount}, and what cannot be told yet", amount=known)


def _amounts(totals: tuple[Amount, ...]) -> Phrase:
    return phrase("{totals}", totals=totals) if totals else phrase("nothing")
