"""Days, costs and names of a plan in words: what text, calendar and timeline share."""

from __future__ import annotations

from regkit.language import Money, Phrase, Text, phrase
from regkit.model.assessment import Assessment
from regkit.model.plan import Cost, Days, Plan, Step
from regkit.model.ruleset import Ruleset


def say_when(step: Step) -> Phrase:
    """Say when a step can start and when it is finished."""
    if step.start is None or step.finish is None:
        return phrase("never")
    if not step.duration_kind:
        return phrase("from {start}", start=say_days(step.start))
    return phrase("start {start}, finished {finish}", start=say_days(step.start),
                  finish=say_days(step.finish))


def say_days(days: Days) -> Phrase:
    """Say a day that is known as a range."""
    says = phrase("{day}", day=days.first) if days.first == days.last else phrase(
        "{first} to {last}", first=days.first, last=days.last)
    return phrase("{days} or later", days=says) if days.or_later else says


def say_cost(cost: Cost, ruleset: Ruleset) -> Phrase:
    """Say what something costs, and which charges cannot be told yet."""
    least, most = Money(cost.least, cost.currency), Money(cost.most, cost.currency)
    says = phrase("{most}", most=most) if cost.least == cost.most else phrase(
        "{least} to {most}", least=least, most=most)
    if not cost.unknown:
        return says
    unknown = tuple(ruleset.charges[name].latest.title for name in cost.unknown)
    return phrase("{known} and what cannot be told yet: {unknown}", known=says, unknown=unknown)


def say_end(plan: Plan, ruleset: Ruleset) -> Phrase:
    """Say when all of a plan is done, as far as anybody states, and what its steps cost."""
    cost, end = say_cost(plan.cost, ruleset), plan.end
    if end is None:
        return phrase("How long all of it takes cannot be told; charges of the steps still to "
                      "take: {cost}.", cost=cost)
    return phrase("All of it is done at the earliest: {days}; charges of the steps still to take: "
                  "{cost}.", days=say_days(end), cost=cost)


def title_of(assessment: Assessment, name: str) -> Text:
    """Return the title of a step or, by its identifier, of a paper."""
    if name in assessment.ruleset.requirements:
        return assessment.finding(name).requirement.title
    return assessment.ruleset.evidence[name].latest.title
