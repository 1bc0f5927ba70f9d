"""Lists that name the same thing twice."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Mend, Remark
from regkit.read.text import Path_

CHECK = Check("named-twice", Level.WARNING, "a list that names the same thing twice")


def look(kept: Kept) -> Iterator[Remark]:
    """Only lists of plain names; a text that is repeated may be meant."""
    for _, entry in kept.written():
        for path, name in _twice(entry.data, ()):
            yield CHECK.remark(
                place(entry, *path), f"`{entry.id}` names `{name}` twice in one list",
                "once is enough", Mend((*entry.path, *path), name, None))


def _twice(data: Any, path: Path_) -> Iterator[tuple[Path_, str]]:
    if isinstance(data, dict):
        for key, inner in data.items():
            yield from _twice(inner, (*path, key))
    elif isinstance(data, list):
        plain = all(isinstance(part, str) and " " not in part for part in data)
        for at, part in enumerate(data):
            if plain and part in data[:at]:
                yield (*path, at), part
            yield from _twice(part, (*path, at))
