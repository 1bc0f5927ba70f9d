"""What reading already refuses, as remarks: without these the ruleset does not load at all."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from regkit.keep.lint.remark import Check, Level, Mend, Remark
from regkit.read.folder import Folder, Written, read_folder
from regkit.read.problems import (
    CIRCLE,
    LOST_NAME,
    MALFORMED,
    OVERLAPPING_EDITIONS,
    UNKNOWN_NAME,
    Problem,
)
from regkit.read.text import Path_

CHECKS = {
    check.code: check
    for check in (
        Check(MALFORMED, Level.ERROR, "a file that is not written as a ruleset is"),
        Check(UNKNOWN_NAME, Level.ERROR, "a name that leads nowhere"),
        Check(CIRCLE, Level.ERROR, "definitions or charges that rest on themselves"),
        Check(OVERLAPPING_EDITIONS, Level.ERROR, "two editions in force on one day"),
        Check(LOST_NAME, Level.ERROR, "an old name that no longer leads anywhere"),
    )
}
_VERSION = re.compile(r"^version:\s*(\d{4}\.\d{1,3})\s*(?:#.*)?$", re.M)


def remarks_of(problems: Iterable[Problem], folder: Path) -> tuple[Remark, ...]:
    """Return the remarks for problems of reading, with the mends that are mechanical."""
    written = read_folder(folder, folder.name.upper())
    mends = {**_old_names(written), **_bare_version(folder, written)}
    return tuple(_remark(problem, mends) for problem in problems)


def _remark(problem: Problem, mends: Mapping[tuple[str, int, str], Mend]) -> Remark:
    """Return one remark; the text of a problem also says what would be right."""
    text, _, right = problem.text.partition("; ")
    named = re.findall(r"`([^`]+)`", text)
    mend = next((mends[problem.file, problem.line, name] for name in named
                 if (problem.file, problem.line, name) in mends), None)
    return CHECKS[problem.code].remark(f"{problem.file}:{problem.line or 1}", text, right, mend)


def _old_names(written: Folder) -> dict[tuple[str, int, str], Mend]:
    """Return for each place that uses an old name the change to the name it has now."""
    now = {old: str(entry.data.get("to", "")) for old, entry in written.entries["renamed"].items()}
    found = {}
    for kind, entries in written.entries.items():
        for entry in entries.values() if kind != "renamed" else ():
            for path, name in _names(entry.data, ()):
                if name in now:
                    where: Path_ = (*entry.path, *path)
                    line = entry.document.line(where)
                    found[entry.document.file, line, name] = Mend(where, name, now[name])
    return found


def _bare_version(folder: Path, written: Folder) -> dict[tuple[str, int, str], Mend]:
    """Return the quotes that a version needs, lest 2026.10 be read as the number 2026.1."""
    head: Written | None = written.head
    if head is None or not isinstance(head.data.get("version"), (int, float)):
        return {}
    bare = _VERSION.search((folder / "ruleset.yaml").read_text("utf-8"))
    if bare is None:
        return {}
    line = head.document.line(("version",))
    return {(head.document.file, line, "version"): Mend(("version",), bare[1], f'"{bare[1]}"')}


def _names(data: Any, path: Path_) -> Iterator[tuple[Path_, str]]:
    items = data.items() if isinstance(data, dict) else (
        enumerate(data) if isinstance(data, list) else ())
    for key, inner in items:
        if isinstance(inner, str):
            yield (*path, key), inner
        yield from _names(inner, (*path, key))
