"""A ruleset as its keeper sees it: the rules, and the words that state them, file and line."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any

from regkit.compare.reach import Reach
from regkit.model.ruleset import Edition, History, Ruleset
from regkit.read.folder import HEAD, KINDS, TRIALS, Folder, Written, read_folder
from regkit.read.ruleset import read_ruleset
from regkit.read.text import Path_, read_file

LAW = ("definitions", "requirements", "evidence", "charges", "counting", "crosschecks", "routes")
"""The kinds of entries that have editions and sources."""

_NAME = re.compile(r"[a-z0-9_]+(?:[.-][a-z0-9_]+)*")


@dataclass(frozen=True)
class Kept:
    """What checks look at.

    Attributes:
        folder: where the ruleset lies.
        ruleset: the whole of it, with what it builds on.
        own: what the files of this folder say.
        on: the day of the check, for what is overdue.
    """

    folder: Path
    ruleset: Ruleset
    own: Folder
    on: date

    @property
    def root(self) -> Path:
        """The folder the ruleset lies in, beside others and the released versions."""
        return self.folder.resolve().parent

    @property
    def head(self) -> Written:
        """The head as written."""
        assert self.own.head is not None
        return self.own.head

    def written(self, *kinds: str) -> Iterator[tuple[str, Written]]:
        """Yield kind and entry of every entry of this folder, of some kinds or of all."""
        for kind in kinds or KINDS:
            yield from ((kind, entry) for entry in self.own.entries[kind].values())

    def histories(self, *kinds: str) -> Iterator[tuple[Written, History[Any]]]:
        """Yield each entry of this folder that has editions, as written and as history."""
        for kind, entry in self.written(*(kinds or LAW)):
            yield entry, getattr(self.ruleset, kind)[entry.id]

    def editions(self, *kinds: str) -> Iterator[tuple[Written, Any]]:
        """Yield each edition of the entries of this folder."""
        for entry, history in self.histories(*kinds):
            yield from ((entry, edition) for edition in history.editions)

    def documents(self) -> Iterator[tuple[str, Path, str]]:
        """Yield kind, path and shown name of every file of this folder."""
        for kind in (HEAD, *KINDS):
            files = [self.folder / f"{kind}.yaml", *sorted((self.folder / kind).glob("*.yaml"))]
            for file in files:
                if file.is_file():
                    shown = f"{self.folder.name}/{file.relative_to(self.folder).as_posix()}"
                    yield kind, file, shown

    @cached_property
    def built_upon_by(self) -> tuple[Folder, ...]:
        """The rulesets beside this one that build on it, straight or through others."""
        found: list[Folder] = []
        names = {self.ruleset.jurisdiction}
        waiting = {item for item in sorted(self.root.iterdir())
                   if (item / f"{HEAD}.yaml").is_file()}
        moved = True
        while moved:
            moved = False
            for item in sorted(waiting):
                head = read_file(item / f"{HEAD}.yaml").data
                if isinstance(head, dict) and head.get("builds on") in names:
                    names.add(str(head["jurisdiction"]))
                    found.append(read_folder(item, item.name.upper(), with_trials=False))
                    waiting.discard(item)
                    moved = True
        return tuple(found)

    @cached_property
    def named(self) -> Mapping[str, int]:
        """How many entries, outside worked examples, hold each name anywhere but as their own."""
        found: dict[str, int] = {}
        entries = [(kind, entry) for folder in (self.own, *self.built_upon_by)
                   for kind in KINDS if kind not in (*TRIALS, "renamed")
                   for entry in folder.entries[kind].values()]
        heads = [("", folder.head) for folder in (self.own, *self.built_upon_by) if folder.head]
        for _, entry in (*entries, *heads):
            for name in set(_names(entry.data)) - {entry.id}:
                found[name] = found.get(name, 0) + 1
        return found

    @cached_property
    def named_in_examples(self) -> frozenset[str]:
        """Every name that worked examples hold."""
        return frozenset(
            name for _, entry in self.written("examples") for name in _names(entry.data))

    @cached_property
    def reach(self) -> Reach:
        """What the ruleset can reach, from the day of the check."""
        return Reach(self.ruleset, self.on)


def place(entry: Written, *path: str | int) -> str:
    """Return `file:line` of a part of an entry."""
    where: Path_ = (*entry.path, *path)
    return f"{entry.document.file}:{entry.document.line(where)}"


def in_force(editions: tuple[Edition, ...]) -> Iterator[Edition]:
    """Yield the enacted editions, oldest first."""
    return (edition for edition in editions if edition.state == "enacted")


def read_kept(folder: Path, on: date) -> Kept:
    """Read a ruleset for checking, anew each time.

    Raises:
        Unreadable: something in it is wrong; nothing of it was taken.
    """
    read_ruleset.cache_clear()
    ruleset = read_ruleset(folder)
    return Kept(folder, ruleset, read_folder(folder, folder.name.upper()), on)


def _names(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for key, inner in data.items():
            yield from _NAME.findall(key)
            yield from _names(inner)
    elif isinstance(data, list):
        for part in data:
            yield from _names(part)
    elif isinstance(data, str):
        yield from _NAME.findall(data)
