"""Frozen copies of released versions that were changed afterwards."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.released import names_of
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.problems import Unreadable
from regkit.read.released import read_released

CHECK = Check("released-changed", Level.ERROR, "a frozen copy that is not what was released")


def look(kept: Kept) -> Iterator[Remark]:
    """Each copy holds the digest it was released under; it must still have it."""
    for name in names_of(kept):
        try:
            read_released(name, kept.root)
        except (Unreadable, KeyError, ValueError) as wrong:
            yield CHECK.remark(f"released/{name}.json:0", f"{_what(wrong)}",
                               "put the released copy back; a correction is a new version")


def _what(wrong: Exception) -> str:
    if isinstance(wrong, Unreadable):
        return wrong.problems[0].text
    return "the copy can no longer be read"
