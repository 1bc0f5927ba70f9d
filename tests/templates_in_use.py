"""Every template the program can say, found by reading its source: what a catalogue must hold.

A template is written as a literal, or comes from a literal of the same function or module, or is a
word of an enumeration or list named in `WORDS`. Whatever cannot be followed to its literals is
listed as lost, and fails a test: say it with whole templates.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Any

from regkit.conditions.kinds.kind import COMPARISONS
from regkit.model.assessment import Outcome, Verdict
from regkit.model.deadline import Progress
from regkit.model.likeness import Likeness
from regkit.model.packet import ItemState, NeedState
from regkit.model.ruleset import SOURCE_KINDS
from regkit.show.deadline_text import PROGRESS_MARKS
from regkit.show.lines import LEADS
from tests.rulesets_under_test import ROOT

PACKAGE = ROOT / "regkit"

MAINTAINERS = frozenset(
    PACKAGE / name for name in (
        "compare/limits.py", "compare/outcomes.py", "compare/regions.py", "compare/effects.py",
        "compare/growing.py", "compare/entries.py", "compare/changes.py", "compare/witnesses.py",
        "show/changes_text.py", "show/changes_markdown.py", "show/changes_picture.py",
        "model/changes.py", "commands/diff.py",
    )
)
"""The comparison of two rulesets: like `keep`, it is for maintainers and speaks English alone."""

FORMS = ("original", "certified copy", "copy")
ROUNDINGS = ("half up", "half even", "down", "up")


def _descriptions(schema: Any) -> Iterator[str]:
    """Yield what a schema says should stand in some place."""
    if isinstance(schema, list):
        for part in schema:
            yield from _descriptions(part)
    elif isinstance(schema, dict):
        if isinstance(schema.get("description"), str):
            yield schema["description"]
        for part in schema.values():
            yield from _descriptions(part)


_CASE = json.loads((ROOT / "schemas" / "case.schema.json").read_text("utf-8"))
DESCRIBED = tuple(dict.fromkeys(_descriptions(_CASE["properties"])))
"""What may stand in a case, as an error says it; of a ruleset it is said in English alone."""


def _words(*kinds: type[StrEnum]) -> tuple[str, ...]:
    return tuple(word.value for kind in kinds for word in kind)


WORDS: dict[str, tuple[str, ...]] = {
    "outcome.value": _words(Outcome),
    "verdict.value": _words(Verdict),
    "progress.value": _words(Progress),
    "likeness.value": _words(Likeness),
    "item.state.value": _words(ItemState),
    "check.state.value": _words(NeedState),
    ".kind": SOURCE_KINDS, "kind": SOURCE_KINDS, ".duration_kind": SOURCE_KINDS,
    ".weakest": SOURCE_KINDS,
    ".form": FORMS,
    "comparison": COMPARISONS, ".comparison": COMPARISONS, "key": COMPARISONS,
    "NEGATED": COMPARISONS,
    ".how": ROUNDINGS,
    "described": DESCRIBED,
    "state": tuple(mark for mark in PROGRESS_MARKS.values() if mark), "PROGRESS_MARKS": (
        tuple(mark for mark in PROGRESS_MARKS.values() if mark)),
}
"""What an expression that ends so can be; a name alone must be all of it."""


@dataclass(frozen=True, order=True)
class Template:
    """One message: English, its form for many, and what tells it from an equal one."""

    one: str
    many: str = ""
    context: str = ""


@dataclass
class Found:
    """The templates of a program, and the places where one could not be followed."""

    templates: set[Template] = field(default_factory=set)
    lost: list[str] = field(default_factory=list)


def templates() -> Found:
    """Return all templates the program says to keepers."""
    found = Found({Template(word, context="lead") for word in LEADS})
    for file in sorted(PACKAGE.rglob("*.py")):
        room = file.relative_to(PACKAGE).parts[0]
        if room not in ("language", "keep") and file not in MAINTAINERS:
            _Reader(file, found).read()
    found.templates = {template for template in found.templates if template.one}
    return found


class _Reader:
    def __init__(self, file: Path, found: Found) -> None:
        self.file, self.found = file, found
        self.tree = ast.parse(file.read_text("utf-8"))

    def read(self) -> None:
        self._walk(self.tree, [self.tree])

    def _walk(self, node: ast.AST, scopes: list[ast.AST]) -> None:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Call):
                self._call(child, scopes)
            inner = isinstance(child, (ast.FunctionDef, ast.Lambda))
            self._walk(child, [*scopes, child] if inner else scopes)

    def _call(self, call: ast.Call, scopes: list[ast.AST]) -> None:
        name = call.func.id if isinstance(call.func, ast.Name) else ""
        if name not in ("phrase", "plural", "Phrase"):
            return
        if any(word.arg == "context" for word in call.keywords):
            return  # the leads, listed as such
        said = [self._literals(argument, scopes) for argument in call.args[:2]]
        if not all(said):
            self.found.lost.append(f"{self.file.relative_to(ROOT)}:{call.lineno}: "
                                   f"{ast.unparse(call.args[0])}")
        elif name == "plural":
            # Both arguments come from the same place: pairs of one and many.
            pairs = zip(said[0], said[1], strict=True)
            self.found.templates |= {Template(one, many) for one, many in pairs}
        else:
            self.found.templates |= {Template(one) for one in said[0]}

    def _literals(self, node: ast.AST, scopes: list[ast.AST]) -> list[str]:
        """Return the literals an expression may be, none if it cannot be followed."""
        if isinstance(node, ast.Constant):
            return [node.value] if isinstance(node.value, str) else []
        if isinstance(node, ast.IfExp):
            return [*self._literals(node.body, scopes), *self._literals(node.orelse, scopes)]
        if isinstance(node, ast.Name):
            found = [text for scope in reversed(scopes)
                     for text in self._assigned(node.id, scope, scopes)]
            if found:
                return list(dict.fromkeys(found))
        if isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name):
            found = self._literals(node.value, scopes)
            if found:
                return found
        text = ast.unparse(node.value if isinstance(node, ast.Subscript) else node)
        for ending, words in WORDS.items():
            if text == ending or (("." in ending or ending.isupper()) and text.endswith(ending)):
                return list(words)
        return []

    def _assigned(self, name: str, scope: ast.AST, scopes: list[ast.AST]) -> Iterator[str]:
        """Yield the literals assigned to a name in a scope, or looped over under it."""
        for node in _within(scope):
            if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
                targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                for target in targets:
                    yield from self._bound(name, target, node.value, scopes)
            elif isinstance(node, (ast.For, ast.comprehension)):
                yield from self._looped(name, node.target, node.iter, scopes)

    def _looped(
        self, name: str, target: ast.AST, rows: ast.AST, scopes: list[ast.AST]
    ) -> Iterator[str]:
        if isinstance(target, ast.Name) and target.id == name:
            yield from self._inside(rows, scopes)
        elif isinstance(target, ast.Tuple) and name in _names(target):
            at = _names(target).index(name)
            yield from (row[at] for row in self._rows(rows, scopes) if at < len(row))

    def _bound(
        self, name: str, target: ast.AST, value: ast.AST, scopes: list[ast.AST]
    ) -> Iterator[str]:
        if isinstance(target, ast.Name) and target.id == name:
            yield from self._inside(value, scopes)
        elif isinstance(target, ast.Tuple) and name in _names(target):
            if isinstance(value, ast.Tuple):
                for part, given in zip(target.elts, value.elts, strict=False):
                    yield from self._bound(name, part, given, scopes)
                return
            # One place in rows of a table: `one, many` of pairs.
            yield from self._looped(name, target, value, scopes)

    def _inside(self, value: ast.AST, scopes: list[ast.AST]) -> Iterator[str]:
        """Yield every text in a literal, a table of them, or an expression that is one."""
        if isinstance(value, (ast.Dict, ast.Tuple, ast.List)):
            for part in value.values if isinstance(value, ast.Dict) else value.elts:
                yield from self._inside(part, scopes)
        elif isinstance(value, ast.Subscript) and isinstance(value.value, ast.Dict):
            yield from self._inside(value.value, scopes)
        elif not isinstance(value, ast.Name) or value.id.isupper():
            yield from self._literals(value, scopes)

    def _rows(self, value: ast.AST, scopes: list[ast.AST]) -> Iterator[list[str]]:
        """Yield rows of texts that tuples are taken from: pairs, or tables of pairs."""
        if isinstance(value, ast.IfExp):
            yield from self._rows(value.body, scopes)
            yield from self._rows(value.orelse, scopes)
        elif isinstance(value, ast.Subscript):
            yield from self._rows(value.value, scopes)
        elif isinstance(value, ast.Call) and isinstance(value.func, ast.Attribute):
            yield from self._rows(value.func.value, scopes)  # TABLE.items(), TABLE.get(…)
        elif isinstance(value, ast.Name):
            for node in _within(self.tree):
                if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
                    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
                    if any(isinstance(t, ast.Name) and t.id == value.id for t in targets):
                        yield from self._rows(node.value, scopes)
        elif isinstance(value, (ast.Dict, ast.Tuple, ast.List)):
            parts = value.values if isinstance(value, ast.Dict) else value.elts
            texts = [part.value for part in parts
                     if isinstance(part, ast.Constant) and isinstance(part.value, str)]
            if isinstance(value, ast.Dict) and texts:
                yield from (["", text] for text in texts)  # items(): the key, the text
            elif texts:
                yield [part.value if isinstance(part, ast.Constant) else "" for part in parts]
            else:
                for part in parts:
                    yield from self._rows(part, scopes)


def _names(target: ast.Tuple) -> list[str]:
    """Return the names of a tuple in order, nested ones in their place of the whole."""
    names: list[str] = []
    for part in target.elts:
        if isinstance(part, ast.Tuple):
            return _names(part)
        names.append(part.id if isinstance(part, ast.Name) else "")
    return names


def _within(scope: ast.AST) -> Iterator[ast.AST]:
    """Yield the nodes of a scope, not those of functions inside it."""
    for child in ast.iter_child_nodes(scope):
        if isinstance(child, (ast.FunctionDef, ast.ClassDef)):
            continue
        yield child
        yield from _within(child)
