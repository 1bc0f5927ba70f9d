"""Tests whose answer never changes that of the rule they stand in."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.language import speaker

CHECK = Check("never-decides", Level.TO_DO, "a test that changes no answer")


def look(kept: Kept) -> Iterator[Remark]:
    """Exact over all vehicles and days; a law that repeats itself may be written as it stands."""
    for kind in ("definitions", "requirements"):
        for entry, _ in kept.histories(kind):
            for edition, test in kept.reach.idle_tests(kind, entry.id):
                yield CHECK.remark(
                    edition.line,
                    f"`{entry.id}`: '{speaker().say(test.rule())}' never changes the answer",
                    "leave it out, unless the source says it in so many words")
