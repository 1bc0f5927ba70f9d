"""Definitions that rules name, and on which none of them depends."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("never-matters", Level.WARNING, "a definition on which no rule depends")


def look(kept: Kept) -> Iterator[Remark]:
    """Exact over all vehicles and days. A class matters by being shown."""
    for entry, history in kept.histories("definitions"):
        if not history.latest.is_class and kept.reach.never_matters(entry.id):
            yield CHECK.remark(
                entry.line,
                f"rules name `{entry.id}`, but whether it holds changes no answer",
                "look for a condition that settles them before it is asked, or take it out")
