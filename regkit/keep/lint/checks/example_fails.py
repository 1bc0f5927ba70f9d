"""Worked examples that come out otherwise than they expect."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.examples import answers
from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.problems import Unreadable

CHECK = Check("example-fails", Level.ERROR, "a worked example that comes out otherwise")


def look(kept: Kept) -> Iterator[Remark]:
    """Every example is run; either the rule is wrong or the example."""
    for _, entry in kept.written("examples"):
        try:
            found = list(answers(kept.ruleset.examples[entry.id], kept.ruleset))
        except Unreadable as wrong:
            text = "; ".join(problem.text for problem in wrong.problems)
            yield CHECK.remark(entry.line, f"the case of `{entry.id}` cannot be read: {text}",
                               "correct its facts")
            continue
        for answer in found:
            if not answer.right:
                because = f" ({answer.why})" if answer.why else ""
                yield CHECK.remark(
                    entry.line, f"`{entry.id}` expects {answer.name}: {answer.expected}, and it is "
                    f"{answer.found}{because}", "correct the rule or the example")
