"""Running the worked examples of a ruleset: what was expected, what came out, and why.

An example is a case, a day, and some answers it expects: whether definitions hold, what is
required, by when, with which papers, at what charge, and whether a finding shows what another
official source says; or only how a rule of counting counts a period.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from regkit.conditions import Holds
from regkit.judge.assess import assess
from regkit.judge.either_way import settled_view
from regkit.judge.law import law_on
from regkit.keep.asked import Asked, found, late_amounts
from regkit.keep.comes_to import Assessed
from regkit.language import speaker
from regkit.model.assessment import Assessment, Reason
from regkit.model.bill import as_written
from regkit.model.case import Case
from regkit.model.ruleset import Example, Ruleset
from regkit.read.case import read_case


@dataclass(frozen=True, slots=True)
class Answer:
    """One expected answer and the one that came out.

    Attributes:
        part: the key of `expect` it stands under, such as `definitions` or `windows`.
        name: the definition, requirement, counting rule, charge or route it is about.
        item: of a requirement, the paper; of a counting rule, the period.
        why: of a wrong answer, the reason for what came out, in one sentence, where there is one.
    """

    example: Example
    part: str
    name: str
    expected: str
    found: str
    item: str = ""
    why: str = ""

    @property
    def right(self) -> bool:
        """Whether what came out is what was expected."""
        return self.expected == self.found

    def __str__(self) -> str:
        """Say where the example stands, what it expected, what came out, and why."""
        place = f"{self.example.line}: example `{self.example.id}`, {self.part} `{self.name}`"
        about = f", `{self.item}`" if self.item else ""
        because = f" ({self.why})" if self.why else ""
        return f"{place}{about}: expected {self.expected}, got {self.found}{because}"


def answers(example: Example, ruleset: Ruleset) -> Iterator[Answer]:
    """Yield every answer an example expects, beside the one that came out.

    Raises:
        Unreadable: the example's case is wrong.
    """
    for answer, why in _compared(example, ruleset):
        yield answer if answer.right else replace(answer, why=why())


def comes_out(example: Example, ruleset: Ruleset) -> bool:
    """Return whether every answer is the one the example expects.

    Raises:
        Unreadable: the example's case is wrong.
    """
    return all(answer.right for answer, _ in _compared(example, ruleset))


def _compared(example: Example, ruleset: Ruleset) -> Iterator[tuple[Answer, Callable[[], str]]]:
    case = Assessed(assess(example_case(example, ruleset), ruleset, example.on))
    for name, asked in expected(example, ruleset):
        yield (Answer(example, asked.part, name, asked.wanted, found(case, asked), asked.item),
               partial(_because, case, asked))


def expected(example: Example, ruleset: Ruleset) -> Iterator[tuple[str, Asked]]:
    """Yield each answer an example expects, with the name that it writes."""
    for part, by_name in example.expect.items():
        for name, value in by_name.items():
            now = ruleset.renamed.get(name, name)
            if not isinstance(value, dict):
                wanted = as_written(value) if part == "charges" else _word(value)
                yield name, Asked(part, now, "", wanted)
                continue
            for item, inner in value.items():
                yield name, Asked(part, now, ruleset.renamed.get(item, item), _word(inner))


def example_case(example: Example, ruleset: Ruleset) -> Case:
    """Return the case of an example.

    Raises:
        Unreadable: it is wrong.
    """
    return read_case({
        "jurisdiction": ruleset.jurisdiction, "facts": example.facts,
        "papers": example.papers, "done": example.done,
    }, ruleset)


def _word(written: Any) -> str:
    if isinstance(written, bool):
        return "yes" if written else "no"
    return str(written)


def definition_reason(assessment: Assessment, name: str) -> Reason:
    """Return whether a definition holds for a case, and why."""
    law = law_on(assessment.ruleset, assessment.on)
    return Holds(name, law.definitions[name].title).reason(settled_view(law, assessment.case).view)


def _because(case: Assessed, asked: Asked) -> str:
    """Say why an answer is not the one expected, in one sentence where there is one."""
    say, name = speaker().say, asked.name
    if asked.part == "definitions":
        leaves = [node.says for node in definition_reason(case.assessment, name).deciding()
                  if not node.children]
        return "; ".join(dict.fromkeys(say(leaf) for leaf in leaves[:3]))
    if asked.part == "charges":
        line = case.line(name)
        if line is not None:
            return "; ".join(say(how) for how in line.how)
        return "for lateness" if any(late_amounts(case, name)) else "it is not on the bill"
    if name not in case.law.requirements:
        return ""
    finding = case.finding(name)
    if asked.part == "cautions":
        return "; ".join(say(other.says) for other in finding.other_readings)
    if asked.part == "windows" and finding.deadline is not None and finding.deadline.event:
        return f"from {finding.deadline.event}"
    return finding.text()
