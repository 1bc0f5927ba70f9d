"""Conditions that no vehicle can fulfil on any day the rule is in force."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("never-applies", Level.WARNING, "a rule that no vehicle can meet on any day")


def look(kept: Kept) -> Iterator[Remark]:
    """Exact over all vehicles; where a picture grows too large nothing is said."""
    for kind, entry in kept.written("definitions", "requirements"):
        if kept.reach.always(kind, entry.id) is False:
            yield CHECK.remark(
                entry.line, f"no vehicle can ever fulfil the condition of `{entry.id}`",
                "look for two tests that exclude each other")
