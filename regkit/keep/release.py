"""Releasing a ruleset: a frozen copy, and the notice of what it changes.

Nothing is written here: what is to be written is returned, once everything that must hold does.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from regkit.compare.changes import compare
from regkit.keep.lint import Level, lint
from regkit.model.changes import Changes
from regkit.model.ruleset import Ruleset
from regkit.read.folder import Folder
from regkit.read.released import (
    is_version,
    read_released,
    released_document,
    released_folder,
    released_versions,
)
from regkit.read.ruleset import assemble, read_layers
from regkit.read.sides import written_entries

YEARS_AHEAD = 20


class Refused(ValueError):
    """A ruleset that may not be released as it stands; the message lists why."""


@dataclass(frozen=True)
class Release:
    """A release that may be made.

    Attributes:
        name: such as GB@2026.1.
        file: where the frozen copy goes.
        copy: its text.
        changes: what it changes against the version before it; None for the first.
    """

    name: str
    file: Path
    copy: str
    changes: Changes | None


def release(folder: Path, today: date, root: Path | None = None) -> Release:
    """Return the release of a ruleset folder as it stands.

    Args:
        today: the day of the release; what is due by it and 'from now on' count from it.
        root: the folder that holds `released/`; by default the one the ruleset lies in.

    Raises:
        Refused: the checks or the examples fail, or the version did not move.
        Unreadable: the ruleset cannot be read.
    """
    there = root or folder.resolve().parent
    layers = read_layers(folder)
    ruleset = assemble(layers)
    name = f"{ruleset.jurisdiction}@{ruleset.version}"
    earlier = [v for v in released_versions(there) if v.split("@")[0] == ruleset.jurisdiction]
    problems = [*_version_problems(name, earlier, ruleset, there), *_failures(folder, today)]
    if problems:
        raise Refused(f"{name} is not released:\n" + "\n".join(f"  {text}" for text in problems))
    document = released_document(layers, ruleset.version, ruleset.digest)
    changes = None if not earlier else _changes(earlier[-1], layers, ruleset, today, there)
    return Release(name, released_folder(there) / f"{name}.json",
                   json.dumps(document, ensure_ascii=False, indent=1) + "\n", changes)


def _version_problems(name: str, earlier: list[str], ruleset: Ruleset, root: Path) -> list[str]:
    if not is_version(name):
        return [f"its version {ruleset.version!r} is no calendar version, such as 2026.1"]
    if not earlier:
        return []
    number = _number(name)
    if name in earlier or number <= _number(earlier[-1]):
        return [f"its version did not move: {earlier[-1]} was released; raise `version` in "
                "ruleset.yaml"]
    if assemble(read_released(earlier[-1], root)).digest == ruleset.digest:
        return [f"nothing changed since {earlier[-1]}"]
    return []


def _number(name: str) -> tuple[int, ...]:
    return tuple(int(part) for part in name.partition("@")[2].split("."))


def _failures(folder: Path, today: date) -> list[str]:
    """Return what the checks call an error; a worked example that fails is one."""
    return [f"{remark}" for remark in lint(folder, today).at_least(Level.ERROR)]


def _changes(
    before: str, layers: list[Folder], ruleset: Ruleset, today: date, root: Path
) -> Changes:
    old_layers = read_released(before, root)
    old = assemble(old_layers)
    first = min(side.known_from or date(1990, 1, 1) for side in (old, ruleset))
    return compare(
        old, ruleset, first, date(today.year + YEARS_AHEAD, 12, 31), today,
        written=(written_entries(old_layers), written_entries(layers)),
    )
