"""What reading already refuses, as remarks: without these the ruleset does not load at all."""

from __future__ import annotations

from regkit.keep.lint.remark import Check, Level, Mend, Remark
from regkit.read.problems import (
    CIRCLE,
    LOST_NAME,
    MALFORMED,
    OVERLAPPING_EDITIONS,
    UNKNOWN_NAME,
    Problem,
)

CHECKS = {
    check.code: check
    for check in (
        Check(MALFORMED, Level.ERROR, "a file that is not written as a ruleset is"),
        Check(UNKNOWN_NAME, Level.ERROR, "a name that leads nowhere"),
        Check(CIRCLE, Level.ERROR, "definitions or charges that rest on themselves"),
        Check(OVERLAPPING_EDITIONS, Level.ERROR, "two editions in force on one day"),
        Check(LOST_NAME, Level.ERROR, "an old name that no longer leads anywhere"),
    )
}


def remark_of(problem: Problem, mend: Mend | None = None) -> Remark:
    """Return the remark for a problem of reading; its text also says what would be right."""
    text, _, right = problem.text.partition("; ")
    return CHECKS[problem.code].remark(f"{problem.file}:{problem.line}", text, right, mend)
