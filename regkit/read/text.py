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
from math import isinf
from pathlib import Path
from typing import Any

from regkit.language import Phrase, phrase
from regkit.read.problems import MALFORMED, Problem, Unreadable

LARGEST = 1_000_000
DEEPEST = 40
LONGEST_NUMBER = 30

Path_ = tuple[str | int, ...]

_INTEGER = re.compile(r"-?(0|[1-9][0-9]*)")
_FLOAT = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][-+]?[0-9]+)?")
_WORDS = {"null": None, "": None, "true": True, "false": False}
# Control characters (a terminal obeys some), and those that hide text or turn its direction
# (Unicode Bidi_Control, zero-width space, word joiner, byte order mark).
_HIDDEN = re.compile(
    "[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f"
    "\u061c\u200b\u200e\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]"
)
# A character beyond the first 65,536, as JSON escapes it: two halves (RFC 8259, section 7).
_COLON_BELOW = re.compile(r'("[ \r]*)(\n\s*):')
_RIGHT = {
    "cannot start any token": "indent with spaces, not tabs, and put quotes around text that "
    "begins with a special character",
    "mapping values are not allowed": "put quotes around text that holds ': ', or indent the "
    "line as its neighbours are",
    "did not find expected key": "indent this line, or the one before, as its neighbours are",
    "could not find expected ':'": "write a key, a colon and a space, or indent the line deeper "
    "if it goes on with the text before",
    "did not find expected ',' or": "close the brackets opened before, and put a comma between "
    "what stands in them",
    "did not find expected '-' indicator": "begin each line of a list with '- ', all indented "
    "alike",
}
_PAIR = re.compile(r"(?<!\\)((?:\\\\)*)\\u([dD][89abAB]..)\\u([dD][c-fC-F]..)")


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

    def problem(self, path: Path_, says: Phrase | str, code: str = MALFORMED) -> Problem:
        """Return a problem at a node."""
        return Problem(self.file, self.line(path), says, code, path)


def read_file(file: Path, shown: str = "") -> Document:
    """Read a YAML or JSON file.

    Raises:
        Unreadable: it is missing, too large, not UTF-8, or says what JSON could not.
    """
    name = shown or str(file)
    try:
        size = file.stat().st_size
        if size > LARGEST:
            raise Unreadable([Problem(name, 0, phrase(
                "the file is {size} bytes long; {most} are the most that is read", size=size,
                most=LARGEST))])
        raw = file.read_bytes()
    except OSError as wrong:
        reason = wrong.strerror or str(wrong)
        raise Unreadable([Problem(name, 0, phrase("cannot be read: {reason}", reason=reason))]
                         ) from wrong
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as wrong:
        line = raw[: wrong.start].count(b"\n") + 1
        says = phrase("is not UTF-8 text; save it as UTF-8")
        raise Unreadable([Problem(name, line, says)]) from wrong
    return read_text(text.removeprefix("\ufeff"), name)


def read_text(text: str, file: str = "<text>") -> Document:
    """Read YAML or JSON text; JSON if the file's name ends in .json.

    Raises:
        Unreadable: it says what JSON could not, or is nested too deeply.
    """
    if len(text) > LARGEST:
        raise Unreadable([Problem(file, 0, phrase(
            "the text is {size} characters long; {most} are the most that is read",
            size=len(text), most=LARGEST))])
    hidden = _HIDDEN.search(text)
    if hidden:
        line = text.count("\n", 0, hidden.start()) + 1
        raise Unreadable([Problem(file, line, _invisible(hidden[0]))])
    as_json = file.lower().endswith(".json")
    if as_json:
        _check_json(text, file)
        text = _json_as_yaml(text)
    return _Builder(file, as_json).build(text)


def hidden_character(text: str) -> Phrase | None:
    """Say what is wrong with a text that holds a character nobody sees; None if none does."""
    hidden = _HIDDEN.search(text)
    return None if hidden is None else _invisible(hidden[0])


def _invisible(character: str) -> Phrase:
    return phrase("holds the invisible character {code}; remove it",
                  code=f"U+{ord(character):04X}")


def _joined_pair(found: re.Match[str]) -> str:
    high, low = int(found[2], 16), int(found[3], 16)
    return found[1] + chr(0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00))


def _check_json(text: str, file: str) -> None:
    """Refuse what is no JSON, but for depth and NaN: the builder knows their lines."""
    try:
        json.loads(text, parse_int=str)
    except json.JSONDecodeError as wrong:
        says = phrase("is not JSON: {message}", message=wrong.msg)
        raise Unreadable([Problem(file, wrong.lineno, says)]) from wrong
    except RecursionError:
        pass


def _json_as_yaml(text: str) -> str:
    """Return JSON as the YAML that means the same, line for line.

    JSON knows escapes in two halves, tabs between tokens and a colon on a line of its own. No raw
    tab or line break can stand inside a JSON string.
    """
    text = _COLON_BELOW.sub(r"\1:\2", text.replace("\t", " "))
    return _PAIR.sub(_joined_pair, text)


def too_deep() -> Phrase:
    """Say that something is nested too deeply."""
    return phrase("is nested deeper than {most} levels", most=DEEPEST)


class _Builder:
    """Builds data from parsing events with a stack of its own, so that depth cannot overflow."""

    def __init__(self, file: str, as_json: bool) -> None:
        self.file = file
        self.as_json = as_json
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
            self._wrong(mark.line + 1 if mark else 0, _plain(wrong))
        except yaml.YAMLError as wrong:
            self._wrong(0, phrase("is not YAML: {message}", message=str(wrong)))
        if self.problems:
            raise Unreadable(self.problems)
        return Document(self.file, self.root, self.lines)

    def _wrong(self, line: int, says: Phrase) -> None:
        self.problems.append(Problem(self.file, line, says))

    def _take(self, event: Any) -> None:
        name = type(event).__name__
        line = event.start_mark.line + 1
        if name == "DocumentStartEvent":
            self.documents += 1
            if self.documents > 1:
                raise Unreadable([*self.problems, Problem(
                    self.file, line,
                    phrase("holds a second document (`---`); one file is one document"))])
        elif name == "AliasEvent":
            self._wrong(line, phrase("`{mark}` repeats another place; write the value out",
                                     mark=f"*{event.anchor}"))
            self._put(None, line)
        elif name in ("MappingEndEvent", "SequenceEndEvent"):
            done = self.stack.pop()
            if done.key is not None:
                self._wrong(line, phrase("the key {key} has no value", key=repr(done.key)))
        elif name in ("MappingStartEvent", "SequenceStartEvent", "ScalarEvent"):
            self._check_marks(event, line)
            if name == "ScalarEvent":
                self._scalar(event, line)
            else:
                self._open({} if name == "MappingStartEvent" else [], line)

    def _check_marks(self, event: Any, line: int) -> None:
        if event.anchor is not None:
            self._wrong(line, phrase("`{mark}` marks a place to repeat; write values out",
                                     mark=f"&{event.anchor}"))
        if event.tag is not None and event.tag != "!":
            self._wrong(line, phrase("the tag `{tag}` is not allowed; write plain values",
                                     tag=event.tag))

    def _scalar(self, event: Any, line: int) -> None:
        hidden = hidden_character(event.value)
        if hidden:
            self._wrong(line, hidden)
        top = self.stack[-1] if self.stack else None
        if top is not None and isinstance(top.data, dict) and top.key is None:
            self._key(top, event.value, line)
        else:
            plain = bool(event.implicit[0])
            self._put(self._resolve(event.value, line) if plain else event.value, line)

    def _key(self, top: _Open, key: str, line: int) -> None:
        if key == "<<":
            self._wrong(line, phrase("`<<` merges another map; write the entries out"))
        if key in top.data:
            first = self.lines[(*top.path, key)]
            self._wrong(line, phrase(
                "`{key}` stands here a second time; the first is on line {first}", key=key,
                first=str(first)))
        top.key = key
        self.lines.setdefault((*top.path, key), line)

    def _resolve(self, text: str, line: int) -> Any:
        if text in _WORDS:
            return _WORDS[text]
        if len(text) > LONGEST_NUMBER:
            if _FLOAT.fullmatch(text):
                self._wrong(line, phrase(
                    "a number of {length} digits; put quotes around an identifier, and write "
                    "numbers in at most {most}", length=len(text), most=LONGEST_NUMBER))
            return text
        if _INTEGER.fullmatch(text):
            return int(text)
        if _FLOAT.fullmatch(text):
            if isinf(float(text)):
                self._wrong(line, phrase("{number} is too large a number", number=text))
            return float(text)
        if self.as_json:
            self._wrong(line, phrase("{written} is no value of JSON", written=text))
        return text

    def _put(self, data: Any, line: int) -> None:
        if not self.stack:
            self.root = data
            self.lines.setdefault((), line)
            return
        top = self.stack[-1]
        if isinstance(top.data, dict):
            if top.key is None:
                self._wrong(line, phrase("a key must be plain text"))
                top.key = f"<{line}>"
                return
            top.data[top.key] = data
            top.key = None
        else:
            self.lines[(*top.path, len(top.data))] = line
            top.data.append(data)

    def _open(self, data: Any, line: int) -> None:
        if len(self.stack) >= DEEPEST:
            raise Unreadable([*self.problems, Problem(self.file, line, too_deep())])
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


def _plain(wrong: Any) -> Phrase:
    if "nesting depth" in str(wrong.problem):
        return too_deep()
    message = ", ".join(part for part in (wrong.context, wrong.problem) if part)
    for sign, right in _RIGHT.items():
        if sign in str(wrong.problem):
            return phrase("is not YAML: {message}; {right}", message=message, right=phrase(right))
    return phrase("is not YAML: {message}", message=message)
