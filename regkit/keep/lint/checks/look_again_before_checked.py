"""Sources to be looked at again before they were looked at."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("look-again-before-checked", Level.ERROR, "a day to look again before the last look")


def look(kept: Kept) -> Iterator[Remark]:
    """The two days were most likely written the wrong way round."""
    for _, entry in kept.written("sources"):
        source = kept.ruleset.sources[entry.id]
        if source.look_again <= source.checked:
            yield CHECK.remark(
                place(entry, "look again"),
                f"`{entry.id}` is to be looked at again on {source.look_again}, and was looked at "
                f"on {source.checked}", "write a later day")
