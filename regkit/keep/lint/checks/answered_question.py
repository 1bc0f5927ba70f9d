"""Rules that still wait for the answer to a question that has one."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.conditions import Open
from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("answered-question", Level.WARNING, "a rule that waits for an answer already given")


def look(kept: Kept) -> Iterator[Remark]:
    """Such a rule comes out undecided for ever."""
    for entry, edition in kept.editions("definitions", "requirements"):
        for part in edition.when.walk():
            question = kept.ruleset.questions[part.question] if isinstance(part, Open) else None
            if question is not None and question.closed is not None:
                yield CHECK.remark(
                    edition.line, f"`{entry.id}` waits for the question `{question.id}`, closed "
                    f"on {question.closed}", "write the rule as answered, and end this edition")
