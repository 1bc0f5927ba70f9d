"""Days between two editions on which there was no rule, without a word why."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from regkit.keep.lint.kept import Kept, in_force
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("gap-between-editions", Level.WARNING, "days without a rule between two editions")


def look(kept: Kept) -> Iterator[Remark]:
    """A note or a question on one of the two editions, or on the entry, explains a gap."""
    for entry, history in kept.histories():
        for earlier, later in pairwise(in_force(history.editions)):
            if earlier.last is None or later.first is None:
                continue
            free = earlier.last + timedelta(days=1)
            explained = earlier.note or later.note or earlier.questions or later.questions
            if free < later.first and not explained:
                last = later.first - timedelta(days=1)
                yield CHECK.remark(
                    later.line, f"`{entry.id}` has no edition in force from {free} to {last}",
                    "close the gap, or say in a `note` why there was no rule")
