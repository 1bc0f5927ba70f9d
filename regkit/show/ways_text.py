"""The ways a plan can choose between, side by side: days, cost, papers, risk."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Phrase, joined, phrase, speaker
from regkit.model.assessment import Assessment
from regkit.model.plan import Choice, Way
from regkit.show.lines import hanging, heading, wrapped
from regkit.show.plan_words import say_cost, say_days, title_of


def way_lines(assessment: Assessment, language: str = "en") -> Iterator[str]:
    """Yield the choices of a plan; nothing where there is none."""
    say, plan = speaker(language).say, assessment.plan
    if not plan.choices:
        return
    yield from heading(say(phrase("Where you can choose")))
    for choice in plan.choices:
        title = assessment.finding(choice.requirement).requirement.title
        yield from wrapped(say(phrase("For: {step}", step=title)), "")
        told = [dict(_about(way, assessment)) for way in choice.ways]
        alike = [key for key in told[0] if all(one.get(key) == told[0][key] for one in told)]
        for at, way in enumerate(choice.ways):
            yield from hanging("  -", 4, say(_way(choice, at, way, assessment)))
            says = joined(*(told[at][key] for key in told[at] if key not in alike))
            if says.template:
                yield from wrapped(say(says), "    ")
        if alike:
            parts = joined(*(told[0][key] for key in alike))
            yield from wrapped(say(phrase("either way: {parts}", parts=parts)), "  ")
    if not plan.exact:
        yield from wrapped(say(phrase(
            "There are too many combinations to try them all: the fastest is exact, the "
            "cheapest is the best of each choice by itself.")), "")


def _way(choice: Choice, at: int, way: Way, assessment: Assessment) -> Phrase:
    # Where all ways are alike in days or cost, none is the fastest or the cheapest.
    days_differ = len({one.finish for one in choice.ways}) > 1
    costs_differ = len({one.cost for one in choice.ways}) > 1
    marks = [phrase(word) for word, best in (
        ("taken here", choice.chosen == at),
        ("fastest", days_differ and choice.fastest == at),
        ("cheapest", costs_differ and choice.cheapest == at),
    ) if best]
    says = phrase("{parts}", parts=tuple(
        title_of(assessment, name) for name in (*way.papers, *way.steps)))
    return phrase("{says} ({marks})", says=says, marks=tuple(marks)) if marks else says


def _about(way: Way, assessment: Assessment) -> Iterator[tuple[str, Phrase]]:
    if way.finish is None or way.cost is None:
        yield "end", phrase("leads nowhere")
        return
    yield "days", phrase("this step done {days}", days=say_days(way.finish))
    if way.untimed:
        yield "untimed", phrase("nobody states how long its papers take to get")
    yield "cost", phrase("charges in all {cost}", cost=say_cost(way.cost, assessment.ruleset))
    yield "papers", phrase("papers to get in all: {count}", count=way.papers_to_get)
    yield "kind", phrase("rests on {kind}", kind=phrase(way.weakest))
    if way.undecided:
        yield "undecided", phrase("needs that are not settled: {count}", count=way.undecided)
    if way.open_questions:
        yield "questions", phrase("open questions on the way: {count}", count=way.open_questions)
