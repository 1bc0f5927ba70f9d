"""Conditions that every vehicle fulfils on every day the rule is in force."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.conditions import ALWAYS

CHECK = Check("always-applies", Level.WARNING, "a condition that every vehicle meets on any day")


def look(kept: Kept) -> Iterator[Remark]:
    """An entry without a condition says itself that it always applies; that is no remark."""
    for kind in ("definitions", "requirements"):
        for entry, history in kept.histories(kind):
            written = [edition.when for edition in history.editions
                       if edition.state == "enacted"]
            if ALWAYS in written:
                continue
            if kept.reach.always(kind, entry.id):
                yield CHECK.remark(
                    entry.line,
                    f"every vehicle fulfils the condition of `{entry.id}`, whatever it is",
                    "leave `when` out if that is meant, else look for a test too many under "
                    "`any:`")
