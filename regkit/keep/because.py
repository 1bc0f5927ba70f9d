"""The reason tree behind the answer of a worked example, as lines to read."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.judge.assess import assess
from regkit.keep.examples import Answer, definition_reason, example_case
from regkit.language import speaker
from regkit.model.assessment import Reason
from regkit.model.ruleset import Ruleset


def answer_lines(answer: Answer, ruleset: Ruleset) -> Iterator[str]:
    """Yield what an example expects of one entry, what came out, and why."""
    yield f"{answer.part} {answer.name}"
    yield f"  expected: {answer.expected}"
    yield f"  got:      {answer.found}"
    reason = _reason(answer, ruleset)
    if reason is not None:
        yield "  because:"
        yield from _tree(reason, "    ")
    elif answer.why:
        yield f"  because: {answer.why}"


def _reason(answer: Answer, ruleset: Ruleset) -> Reason | None:
    example = answer.example
    assessment = assess(example_case(example, ruleset), ruleset, example.on)
    name = ruleset.renamed.get(answer.name, answer.name)
    if answer.part == "definitions":
        return definition_reason(assessment, name)
    return assessment.finding(name).reason if name in ruleset.requirements else None


def _tree(reason: Reason, margin: str) -> Iterator[str]:
    mark = "" if reason.decisive else " (does not decide)"
    yield f"{margin}{reason.outcome.value}: {speaker().say(reason.says)}{mark}"
    for child in reason.children:
        yield from _tree(child, f"{margin}  ")
