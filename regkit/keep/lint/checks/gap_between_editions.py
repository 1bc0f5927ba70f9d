"""Days between two editions on which there was no rule, without a word why."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.compare.reach import gaps
from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("gap-between-editions", Level.WARNING, "days without a rule between two editions")


def look(kept: Kept) -> Iterator[Remark]:
    """A note or a question on one of the two editions, or on the entry, explains a gap."""
    for entry, history in kept.histories():
        for gap in gaps(history):
            if not any(edition.note or edition.questions for edition in (gap.before, gap.after)):
                yield CHECK.remark(
                    gap.after.line,
                    f"`{entry.id}` has no edition in force from {gap.first} to {gap.last}",
                    "close the gap, or say in a `note` why there was no rule")
