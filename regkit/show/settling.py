"""What would settle an answer, in words: which facts, and how exactly a date must be known."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Phrase, phrase
from regkit.model.assessment import Assessment, Exactness, Finding
from regkit.model.facts import Vocabulary

SHOWN_YEARS = 3


def settling_most(assessment: Assessment) -> dict[str, tuple[str, ...]]:
    """Return the facts still open, each with the findings it might settle, most of them first."""
    found: dict[str, tuple[str, ...]] = {}
    for finding in assessment.findings:
        for name in finding.settles if not finding.waits_for else ():
            found[name] = (*found.get(name, ()), finding.id)
    return {name: found[name] for name in sorted(found, key=lambda n: (-len(found[n]), n))}


def settling_lines(finding: Finding, vocabulary: Vocabulary) -> Iterator[Phrase]:
    """Yield what could settle an undecided finding by itself, and how exact its dates must be."""
    ways = finding.ways_to_settle
    for facts in ways.smallest:
        labels = tuple(vocabulary[name].label for name in facts)
        template = "could settle it alone: {labels}" if len(labels) == 1 else (
            "could settle it together: {labels}")
        yield phrase(template, labels=labels)
    for exact in ways.exactness:
        yield exactness_phrase(exact, vocabulary)


def exactness_phrase(exact: Exactness, vocabulary: Vocabulary) -> Phrase:
    """Return how exact a date is enough."""
    label = vocabulary[exact.fact].label
    if exact.unit == "year":
        return phrase("{label}: the year is enough", label=label)
    if len(exact.years) > SHOWN_YEARS:
        return phrase("{label}: the month is needed" if exact.unit == "month"
                      else "{label}: the day is needed", label=label)
    years = tuple(str(year) for year in exact.years)
    return phrase(
        "{label}: if it was in {years}, the year is not enough, the month is; else the year is "
        "enough" if exact.unit == "month" else
        "{label}: if it was in {years}, the year is not enough, the day is; else the year is "
        "enough", label=label, years=years)
