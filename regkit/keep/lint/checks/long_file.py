"""Files too long to read in one go."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("long-file", Level.WARNING, "a file of more than 400 lines")
LONGEST = 400


def look(kept: Kept) -> Iterator[Remark]:
    """Any kind of file may be a folder of files instead."""
    for kind, file, shown in kept.documents():
        lines = len(file.read_text("utf-8").splitlines())
        if lines > LONGEST:
            yield CHECK.remark(f"{shown}:{LONGEST + 1}", f"the file has {lines} lines",
                               f"make `{kind}/` a folder of several files")
