"""Text that `regkit start` wrote and nobody has replaced yet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.text import Path_

CHECK = Check("to-replace", Level.TO_DO, "text of a new ruleset that nobody has replaced yet")
MARK = "REPLACE"


def look(kept: Kept) -> Iterator[Remark]:
    """The mark stands in capitals so that it is found in print, too."""
    for entry in (kept.head, *(entry for _, entry in kept.written())):
        for path in _marked(entry.data, ()):
            yield CHECK.remark(place(entry, *path), f"`{entry.id}` still holds the text it began "
                               "with", f"replace it, and take the word {MARK} out")


def _marked(data: Any, path: Path_) -> Iterator[Path_]:
    if isinstance(data, str) and MARK in data:
        yield path
    items = data.items() if isinstance(data, dict) else (
        enumerate(data) if isinstance(data, list) else ())
    for key, inner in items:
        yield from _marked(inner, (*path, key))
