"""What the facts behind an answer rest on: the word of the case, or a paper that shows them."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Argument, Phrase, phrase
from regkit.model.assessment import Assessment, Finding


def resting_lines(assessment: Assessment, finding: Finding) -> Iterator[Phrase]:
    """Yield, for the facts that decide a finding, who says what they are."""
    case, vocabulary = assessment.case, assessment.ruleset.vocabulary
    names = dict.fromkeys(node.fact for node in finding.reason.deciding() if node.fact)
    declared: list[Argument] = []
    for name in names:
        label, rests = vocabulary[name].label, say_rest(assessment, name)
        if rests is not None:
            yield phrase("{label}: {rests}", label=label, rests=rests)
        elif name in case.facts:
            declared.append(label)
    if declared:
        yield phrase("declared, shown by no paper: {labels}", labels=tuple(declared))


def say_rest(assessment: Assessment, fact: str) -> Phrase | None:
    """Return who says what a fact is; None where the case alone does, and no paper is named."""
    rest = assessment.case.resting.get(fact)
    if rest is None:
        return None
    papers = tuple(
        phrase("'{title}'", title=assessment.ruleset.evidence[w.paper.evidence].latest.title)
        for w in rest.witnesses if w.paper is not None
    )
    if rest.likeness.contradicts:
        return phrase("{papers} and others disagree, so it stays open between them",
                      papers=papers)
    if not papers:
        return phrase("declared; no paper shows it")
    return phrase("shown by {papers}", papers=papers)
