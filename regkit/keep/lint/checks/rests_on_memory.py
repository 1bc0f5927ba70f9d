"""Rules that rest on memory alone: nobody has seen a text."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("rests-on-memory", Level.TO_DO, "a rule for which nobody has seen a text")


def look(kept: Kept) -> Iterator[Remark]:
    """Every reader is told so, too; this is the list of texts to find."""
    for entry, edition in kept.editions():
        kinds = {kept.ruleset.sources[name].kind for name in edition.sources}
        if kinds == {"from memory"}:
            yield CHECK.remark(edition.line, f"`{entry.id}` rests on memory alone",
                               "find the text, check the rule against it, and name it as source")
