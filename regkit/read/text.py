"""YAML and JSON text to plain data, keeping the line of every node.

Only what JSON could hold is understood: objects, lists, strings, numbers, true, false, null. A
bare date stays text, `NO` stays text, `12:30` stays text, and the same key twice is an error.
Anchors, aliases, tags and merge keys are refused: nobody can read them aloud, and they let a small
file grow large. Source of the resolution rules: YAML 1.2.2, section 10.2 (JSON schema), with plain
text allowed.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from regkit.read.problems import Problem, Unreadable

LARGEST = 1_000_000
DEEPEST = 40
LONGEST_NUMBER = 30

Path_ = tuple[str | int, ...]

_INTEGER = re.compile(r"-?(0|[1-9][0-9]*)")
_FLOAT = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?")
_WORDS = {"null": None, "": None, "true": True, "false": False}
_HIDDEN = re.compile(
    "[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f\u202a-\u202e\u2066-\u2069\ufeff]"
)


@dataclass(frozen=True)
class Document:
    """Plain data and where each part of it stands."""

    file: str
    data: Any
    lines: dict[Path_, int]

    def line(self, path: Path_) -> int:
        """Return the line of a node, or of the nearest node around it."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def problem(self, path: Path_, text: str) -> Problem:
        """Return a problem at a node."""
        return Problem(self.file, self.line(path), text)


def read_file(file: Path, shown: str = "") -> Document:
    """Read a YAML or JSON file.

    Raises:
        Unreadable: it is missing, too large, not UTF-8, or says what JSON could not.
    """
    name = shown or str(file)
    try:
        size = file.stat().st_size
        if size > LARGEST:
            raise Unreadable([Problem(name, 0, f"the file is {size:,} bytes long; "
                                               f"{LARGEST:,} are the most that is read")])
        raw = file.read_bytes()
    except OSError as wrong:
        reason = wrong.strerror or str(wrong)
        raise Unreadable([Problem(name, 0, f"cannot be read: {reason}")]) from wrong
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as wrong:
        line = raw[: wrong.start].count(b"\n") + 1
        raise Unreadable([Problem(name, line, "is not UTF-8 text; save it as UTF-8")]) from wrong
    return read_text(text.removeprefix("\ufeff"), name)


def read_text(text: str, file: str = "<text>") -> Document:
    """Read YAML or JSON text; JSON if the file's name ends in .json.

    Raises:
        Unreadable: it says what JSON could not, or is nested too deeply.
    """
    if len(text) > LARGEST:
        raise Unreadable([Problem(file, 0, f"the text is {len(text):,} characters long; "
                                           f"{LARGEST:,} are the most that is read")])
    hidden = _HIDDEN.search(text)
    if hidden:
        line = text.count("\n", 0, hidden.start()) + 1
        code = f"U+{ord(hidden[0]):04X}"
        raise Unreadable([Problem(file, line, f"holds the invisible character {code}; remove it")])
    if file.endswith(".json"):
        _check_json(text, file)
    return _Builder(file).build(text)


def _check_json(text: str, file: str) -> None:
    try:
        json.loads(text, parse_constant=_no_constant, parse_int=str)
    except RecursionError as wrong:
        raise Unreadable([Problem(file, 0, _too_deep())]) from wrong
    except json.JSONDecodeError as wrong:
        raise Unreadable([Problem(file, wrong.lineno, f"is not JSON: {wrong.msg}")]) from wrong
    except ValueError as wrong:
        raise Unreadable([Problem(file, 0, f"is not JSON: {wrong}")]) from wrong


def _no_constant(word: str) -> Any:
    raise ValueError(f"{word} is no JSON number")


def _too_deep() -> str:
    return f"is nested deeper than {DEEPEST} levels"


class _Builder:
    """Builds data from parsing events with a stack of its own, so that depth cannot overflow."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.lines: dict[Path_, int] = {}
        self.stack: list[_Open] = []
        self.root: Any = None
        self.documents = 0

    def build(self, text: str) -> Document:
        import yaml

        loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
        try:
            for event in yaml.parse(text, Loader=loader):
                self._take(event)
        except yaml.MarkedYAMLError as wrong:
            mark = wrong.problem_mark or wrong.context_mark
            self._wrong(mark.line + 1 if mark else 0, f"is not YAML: {_plain(wrong)}")
        except yaml.YAMLError as wrong:
            self._wrong(0, f"is not YAML: {wrong}")
        if self.problems:
            raise Unreadable(self.problems)
        return Document(self.file, self.root, self.lines)

    def _wrong(self, line: int, text: str) -> None:
        self.problems.append(Problem(self.file, line, text))

    def _take(self, event: Any) -> None:
        name = type(event).__name__
        line = event.start_mark.line + 1
        if name == "DocumentStartEvent":
            self.documents += 1
            if self.documents > 1:
                raise Unreadable([*self.problems, Problem(
                    self.file, line, "holds a second document (`---`); one file is one document")])
        elif name == "AliasEvent":
            self._wrong(line, f"`*{event.anchor}` repeats another place; write the value out")
            self._put(None, line)
        elif name in ("MappingEndEvent", "SequenceEndEvent"):
            done = self.stack.pop()
            if done.key is not None:
                self._wrong(line, f"the key {done.key!r} has no value")
        elif name in ("MappingStartEvent", "SequenceStartEvent", "ScalarEvent"):
            self._check_marks(event, line)
            if name == "ScalarEvent":
                self._scalar(event, line)
            else:
                self._open({} if name == "MappingStartEvent" else [], line)

    def _check_marks(self, event: Any, line: int) -> None:
        if event.anchor is not None:
            self._wrong(line, f"`&{event.anchor}` marks a place to repeat; write values out")
        if event.tag is not None and event.tag != "!":
            self._wrong(line, f"the tag `{event.tag}` is not allowed; write plain values")

    def _scalar(self, event: Any, line: int) -> None:
        top = self.stack[-1] if self.stack else None
        if top is not None and isinstance(top.data, dict) and top.key is None:
            self._key(top, event.value, line)
        else:
            plain = bool(event.implicit[0])
            self._put(self._resolve(event.value, line) if plain else event.value, line)

    def _key(self, top: _Open, key: str, line: int) -> None:
        if key == "<<":
            self._wrong(line, "`<<` merges another map; write the entries out")
        if key in top.data:
            first = self.lines[(*top.path, key)]
            self._wrong(line, f"`{key}` stands here a second time; the first is on line {first}")
        top.key = key
        self.lines.setdefault((*top.path, key), line)

    def _resolve(self, text: str, line: int) -> Any:
        if text in _WORDS:
            return _WORDS[text]
        if len(text) > LONGEST_NUMBER:
            if _FLOAT.fullmatch(text):
                self._wrong(line, f"a number of {len(text)} digits; put quotes around an "
                                  f"identifier, and write numbers in at most {LONGEST_NUMBER}")
            return text
        if _INTEGER.fullmatch(text):
            return int(text)
        if _FLOAT.fullmatch(text):
            return float(text)
        return text

    def _put(self, data: Any, line: int) -> None:
        if not self.stack:
            self.root = data
            self.lines.setdefault((), line)
            return
        top = self.stack[-1]
        if isinstance(top.data, dict):
            if top.key is None:
                self._wrong(line, "a key must be plain text")
                top.key = f"<{line}>"
            top.data[top.key] = data
            top.key = None
        else:
            self.lines[(*top.path, len(top.data))] = line
            top.data.append(data)

    def _open(self, data: Any, line: int) -> None:
        if len(self.stack) >= DEEPEST:
            raise Unreadable([*self.problems, Problem(self.file, line, _too_deep())])
        path: Path_ = ()
        if self.stack:
            top = self.stack[-1]
            step = top.key if isinstance(top.data, dict) else len(top.data)
            path = (*top.path, f"<{line}>" if step is None else step)
        self._put(data, line)
        self.stack.append(_Open(data, path))


@dataclass
class _Open:
    data: Any
    path: Path_
    key: str | None = None


def _plain(wrong: Any) -> str:
    parts = [part for part in (wrong.context, wrong.problem) if part]
    return ", ".join(parts)
