"""Putting right what is mechanical, in the file as written: comments and layout stay.

ruamel.yaml, which keeps the place of every value, says where to change; nothing is written anew
but the value itself. Changes are made from the end of a file to its beginning, so that places stay
true, and each file is replaced whole or not at all.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from regkit.keep.lint import Mend, Remark, Report


def mend(report: Report) -> tuple[Remark, ...]:
    """Put right what can be, and return what was.

    Raises:
        ImportError: ruamel.yaml is not installed.
    """
    by_file: dict[Path, list[Remark]] = defaultdict(list)
    for remark in report.remarks:
        if remark.mend is not None:
            by_file[report.path(remark)].append(remark)
    done: list[Remark] = []
    for file, remarks in by_file.items():
        text = file.read_bytes().decode("utf-8")
        mended, changed = mended_text(text, [r.mend for r in remarks if r.mend is not None])
        if mended != text:
            half = file.with_name(f".{file.name}.half")
            half.write_bytes(mended.encode("utf-8"))
            half.replace(file)
        done += [remark for remark in remarks if remark.mend in changed]
    return tuple(done)


def mended_text(text: str, mends: Iterable[Mend]) -> tuple[str, list[Mend]]:
    """Return a YAML text with changes made, and the changes that could be made."""
    tree = _tree(text)
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    edits: list[tuple[int, int, str, Mend]] = []
    for one in mends:
        span = _first_line(text, one) if not one.path else _span(text, tree, starts, one)
        if span is not None:
            edits.append((*span, one))
    for start, end, new, _ in sorted(edits, key=lambda edit: edit[:2], reverse=True):
        text = text[:start] + new + text[end:]
    return text, [one for *_, one in edits]


def _tree(text: str) -> Any:
    try:
        from ruamel.yaml import YAML
    except ImportError as missing:
        raise ImportError(
            "Mending files needs the package 'ruamel.yaml': pip install ruamel.yaml"
        ) from missing
    return YAML(typ="rt").load(text)


def _first_line(text: str, one: Mend) -> tuple[int, int, str] | None:
    new = f"{one.new}\n"
    return (0, len(one.old) + 1, new) if one.old else (0, 0, new)


def _span(text: str, tree: Any, starts: list[int], one: Mend) -> tuple[int, int, str] | None:
    """Return from where to where to write what; None if the value is not found as written."""
    around = tree
    for step in one.path[:-1]:
        around = around[step]
    last = one.path[-1]

    def start_of(step: Any) -> int:
        line, column = around.lc.item(step) if isinstance(step, int) else around.lc.value(step)
        return int(starts[line] + column)

    start = start_of(last)
    end = start + len(one.old)
    if text[start:end] != one.old:
        return None
    if one.new is not None:
        return start, end, one.new
    if not isinstance(last, int) or last == 0:
        return None
    before = start_of(last - 1) + len(str(around[last - 1]))
    between = text[before:start]
    if between.strip() not in (",", "-"):  # a comment lies between: leave it to a person
        return None
    return before, end, ""
