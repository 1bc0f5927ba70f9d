"""What to get before paying: papers the seller has to hand over, what to read off the vehicle.

Only what the steps of this case and route ask for, or may ask for, is wanted. What has already been
done or is held is left in: the sheet is for the day of the purchase, before anything is in hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from regkit.conditions.truth import NO, YES, Truth
from regkit.judge.bill import bills
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.freshness import evidence_on
from regkit.judge.law import Law
from regkit.language import Phrase, Text, phrase
from regkit.model.bill import Bill
from regkit.model.facts import Fact
from regkit.model.handover import Handover, Wanted
from regkit.model.ruleset import Need, Requirement


def handover(law: Law, exact: Exact, route: str) -> Handover:
    """Return what to have in hand before paying.

    Args:
        exact: the case, its definitions settled.
        route: the identifier of a route; empty for the case as it is told.

    Raises:
        KeyError: there is no such route in force.
    """
    bill = _bill_of(bills(law, exact), route)
    if bill.route and not bill.as_told:
        edition = law.ruleset.routes[bill.route].on(law.day.on)
        assert edition is not None
        exact = settled_view(law, exact.view.case.with_facts(edition.facts))
    steps = list(_steps(law, exact))
    wanted = list(_wanted(law, exact, steps))
    first_stage = next(iter(law.ruleset.stages))
    early = {name for step, _ in steps if step.stage == first_stage
             for need in step.needs for name in _names(need)}
    return Handover(
        bill=bill,
        from_seller=tuple(one for one in wanted if one.evidence.from_seller),
        to_settle=tuple(one for one in wanted
                        if one.evidence.id in early and one.evidence.from_outside
                        and not one.evidence.from_seller),
        to_read=tuple(_to_read(law)),
        to_look_at=tuple(_to_look_at(law, steps)),
        cautions=tuple(_cautions(step for step, _ in steps if step.stage == first_stage)),
    )


def _bill_of(found: tuple[Bill, ...], route: str) -> Bill:
    for bill in found:
        if not route or bill.route == route:
            return bill
    raise KeyError(route)


def _steps(law: Law, exact: Exact) -> Iterator[tuple[Requirement, Truth]]:
    """Yield the requirements that apply or may, without those that wait for an event."""
    for name, condition in law.requirements.items():
        edition = law.edition(law.ruleset.requirements[name], exact.view.case)
        truth = NO if condition is None else exact.truth(condition)
        if truth != NO and not (edition.on_event and truth != YES):
            yield edition, truth


def _wanted(
    law: Law, exact: Exact, steps: list[tuple[Requirement, Truth]]
) -> Iterator[Wanted]:
    found: dict[str, Wanted] = {}
    for step, truth in steps:
        for need in step.needs:
            for leaf, certain in _leaves(need, exact, truth == YES):
                made = _one(law, leaf, step, certain)
                earlier = found.get(leaf.evidence)
                found[leaf.evidence] = made if earlier is None else replace(
                    earlier, form=earlier.form or made.form,
                    certain=earlier.certain or certain,
                    for_steps=tuple(dict.fromkeys((*earlier.for_steps, *made.for_steps))))
    yield from found.values()


def _leaves(need: Need, exact: Exact, certain: bool) -> Iterator[tuple[Need, bool]]:
    """Yield needs for single papers that apply or may; of alternatives none is certain."""
    truth = YES if need.when is None else exact.truth(need.when)
    if truth == NO:
        return
    certain = certain and truth == YES
    if need.evidence:
        yield need, certain
    for part in need.parts:
        yield from _leaves(part, exact, certain and need.count == len(need.parts))


def _one(law: Law, need: Need, step: Requirement, certain: bool) -> Wanted:
    evidence = evidence_on(law.ruleset, need.evidence, law.day.on)
    shows = tuple(law.ruleset.vocabulary[name] for name in evidence.shows)
    return Wanted(evidence, need.form or evidence.form, shows, (step.title,), certain)


def _names(need: Need) -> Iterator[str]:
    return (part.evidence for part in need.walk() if part.evidence)


def _to_read(law: Law) -> Iterator[Fact]:
    """Yield facts of cross-checks that no paper shows, so only the vehicle tells them."""
    shown = {name for history in law.ruleset.evidence.values() for name in history.latest.shows}
    for history in law.ruleset.crosschecks.values():
        check = history.on(law.day.on)
        yield from (law.ruleset.vocabulary[name] for name in (check.agree if check else ())
                    if name not in shown)


def _to_look_at(
    law: Law, steps: list[tuple[Requirement, Truth]]
) -> Iterator[tuple[Text, Fact | None]]:
    seen: set[Text] = set()
    for step, _ in steps:
        for item in step.inspects:
            if item.looks_at not in seen:
                seen.add(item.looks_at)
                yield item.looks_at, law.ruleset.vocabulary.get(item.fact)


def _cautions(steps: Iterable[Requirement]) -> Iterator[Phrase]:
    """Yield the cautions of steps that come before the vehicle is bought, each once."""
    said = dict.fromkeys(caution for step in steps for caution in step.cautions)
    yield from (phrase("{caution}", caution=caution) for caution in said)
