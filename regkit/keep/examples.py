"""Running the worked examples of a ruleset: what was expected, what came out, and why.

An example is a case, a day, and some answers it expects: whether definitions hold, what is
required, by when, at what charge, and whether a finding shows what another official source says.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from regkit.conditions import Holds
from regkit.judge.assess import assess
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.law import law_on
from regkit.language import speaker
from regkit.model.assessment import Assessment, Finding, Reason
from regkit.model.bill import as_written
from regkit.model.case import Case
from regkit.model.ruleset import Example, Ruleset
from regkit.read.case import read_case

NO_DAY = "no day"
"""What came out where a last day was expected and none can be told."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One expected answer and the one that came out.

    Attributes:
        part: `definitions`, `requirements`, `windows`, `charges` or `cautions`.
        name: the definition, requirement or charge it is about.
        why: of a wrong answer, the reason for what came out, in one sentence, where there is one.
    """

    example: Example
    part: str
    name: str
    expected: str
    found: str
    why: str = ""

    @property
    def right(self) -> bool:
        """Whether what came out is what was expected."""
        return self.expected == self.found

    def __str__(self) -> str:
        """Say where the example stands, what it expected, what came out, and why."""
        place = f"{self.example.line}: example `{self.example.id}`, {self.part} `{self.name}`"
        because = f" ({self.why})" if self.why else ""
        return f"{place}: expected {self.expected}, got {self.found}{because}"


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
    assessment = assess(example_case(example, ruleset), ruleset, example.on)
    for part, expected in example.expect.items():
        for name, value in expected.items():
            found, why = _FINDERS[part](assessment, ruleset.renamed.get(name, name))
            wanted = as_written(value) if part == "charges" else _word(value)
            yield Answer(example, part, name, wanted, found), why


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


Found = tuple[str, Callable[[], str]]
"""What came out, and how to say why; said only where it is not what was expected."""


def _definition(assessment: Assessment, name: str) -> Found:
    law = law_on(assessment.ruleset, assessment.on)
    holds = Holds(name, law.definitions[name].title)
    return Exact(law.view(assessment.case)).truth(holds).word, lambda: _leaves(assessment, name)


def _leaves(assessment: Assessment, name: str) -> str:
    reason = definition_reason(assessment, name)
    leaves = [node.says for node in reason.deciding() if not node.children]
    return "; ".join(dict.fromkeys(speaker().say(leaf) for leaf in leaves[:3]))


def _requirement(assessment: Assessment, name: str) -> Found:
    return assessment.verdicts[name].value, lambda: assessment.finding(name).text()


def _window(assessment: Assessment, name: str) -> Found:
    finding = assessment.finding(name)
    deadline = finding.deadline
    if deadline is None or deadline.first is None:
        return NO_DAY, finding.text
    return deadline.first.isoformat(), lambda: f"from {deadline.event}"


def _charge(assessment: Assessment, name: str) -> Found:
    """Find a charge on the bill of the case as told, else for lateness; elsewhere it costs 0."""
    line = assessment.bills[0].line(name)
    if line is not None:
        return line.amount.written, lambda: "; ".join(speaker().say(how) for how in line.how)
    late = [charge for finding in assessment.findings for charge in _late(finding)
            if charge.charge == name]
    if late:
        return late[0].amount.written, lambda: "for lateness"
    return f"0 {assessment.ruleset.currency}", lambda: "it is not on the bill"


def _late(finding: Finding) -> tuple[Any, ...]:
    return finding.deadline.charges if finding.deadline is not None else ()


def _caution(assessment: Assessment, name: str) -> Found:
    others = assessment.finding(name).other_readings
    return "yes" if others else "no", lambda: "; ".join(
        speaker().say(other.says) for other in others)


_FINDERS: Mapping[str, Callable[[Assessment, str], Found]] = {
    "definitions": _definition,
    "requirements": _requirement,
    "windows": _window,
    "charges": _charge,
    "cautions": _caution,
}
