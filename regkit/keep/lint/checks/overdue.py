"""Sources whose day to look again has passed."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("overdue", Level.TO_DO, "a source that was to be looked at again by now")


def look(kept: Kept) -> Iterator[Remark]:
    """Never more than a to-do: a build must not begin to fail because a night has passed."""
    for _, entry in kept.written("sources"):
        source = kept.ruleset.sources[entry.id]
        if source.look_again < kept.on:
            yield CHECK.remark(
                place(entry, "look again"),
                f"`{entry.id}` was to be looked at again by {source.look_again}",
                "look, correct what has changed, and set `checked` and `look again`")
