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
        label = vocabulary[name].label
        rest = case.resting.get(name)
        if rest is None:
            if name in case.facts:
                declared.append(label)
            continue
        papers = tuple(
            phrase("'{title}'", title=assessment.ruleset.evidence[w.paper.evidence].latest.title)
            for w in rest.witnesses if w.paper is not None
        )
        template = "{label}: shown by {papers}"
        if rest.likeness.contradicts:
            template = "{label}: {papers} and others disagree, so it stays open between them"
        elif not papers:
            template = "{label}: declared; no paper shows it"
        yield phrase(template, label=label, papers=papers)
    if declared:
        yield phrase("declared, shown by no paper: {labels}", labels=tuple(declared))
