"""Collecting the files of a ruleset folder: which kinds there are, and what each file says.

A kind is one file, `requirements.yaml`, or a folder of files, `requirements/*.yaml`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from regkit.read.check import check
from regkit.read.places import checked_when_built
from regkit.read.problems import Problem, Unreadable, did_you_mean
from regkit.read.text import Document, Path_, read_file

KINDS = (
    "facts", "definitions", "requirements", "evidence", "charges", "counting", "sources",
    "questions", "examples", "renamed", "crosschecks", "routes", "survivors",
)
TRIALS = ("examples", "survivors")
"""What shows that a ruleset says what it should; none of it holds in one built upon it."""
HEAD = "ruleset"


@dataclass(frozen=True, slots=True)
class Written:
    """One entry as written: its data, and where it stands."""

    id: str
    data: dict[str, Any]
    document: Document
    path: Path_
    layer: str

    @property
    def line(self) -> str:
        """Where it stands, `file:line`."""
        return f"{self.document.file}:{self.document.line(self.path)}"


@dataclass
class Folder:
    """Everything the files of one folder say, by kind and identifier."""

    layer: str
    head: Written | None = None
    entries: dict[str, dict[str, Written]] = field(
        default_factory=lambda: {kind: {} for kind in KINDS}
    )
    problems: list[Problem] = field(default_factory=list)


def read_folder(folder: Path, layer: str, with_trials: bool = True) -> Folder:
    """Read and check every file of a folder.

    What is wrong is collected in `problems`; nothing is raised for it.
    """
    found = Folder(layer)
    if not folder.is_dir():
        found.problems.append(Problem(str(folder), 0, "there is no such folder"))
        return found
    for kind, file in _files(folder, found.problems):
        if kind in TRIALS and not with_trials:
            continue
        _take(found, kind, file, f"{folder.name}/{file.relative_to(folder).as_posix()}")
    return found


def _files(folder: Path, problems: list[Problem]) -> Iterator[tuple[str, Path]]:
    known = (HEAD, *KINDS)
    for item in sorted(folder.iterdir()):
        kind = item.stem
        if item.is_dir() and item.name in known:
            yield from ((item.name, file) for file in sorted(item.glob("*.yaml")))
        elif item.suffix in (".yaml", ".yml", ".json"):
            if kind in known and item.suffix != ".yml":
                yield kind, item
            else:
                problems.append(Problem(
                    f"{folder.name}/{item.name}", 0, "is no file of a ruleset"
                    f"{did_you_mean(item.name, [f'{name}.yaml' for name in known])}; "
                    f"known are {', '.join(known)}, each .yaml",
                ))


def _take(found: Folder, kind: str, file: Path, shown: str) -> None:
    try:
        document = read_file(file, shown)
    except Unreadable as wrong:
        found.problems += wrong.problems
        return
    if document.data is None:
        found.problems.append(Problem(shown, 0, "is empty; leave the file out"))
        return
    if not checked_when_built(file.parent):
        found.problems += check(document, f"ruleset/{kind}")
    if not isinstance(document.data, dict):
        return
    if kind == HEAD:
        found.head = Written(HEAD, document.data, document, (), found.layer)
        return
    for name, data in document.data.items():
        if not isinstance(data, dict):
            continue
        earlier = found.entries[kind].get(name)
        if earlier is not None:
            found.problems.append(document.problem(
                (name,), f"`{name}` is written a second time; the first is {earlier.line}"))
        found.entries[kind][name] = Written(name, data, document, (name,), found.layer)
