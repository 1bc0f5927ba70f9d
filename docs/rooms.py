"""The rooms of the house and their arrows, read from the code's own imports when pages are made.

A Sphinx extension with one directive, ``.. rooms::``. A room is a package of `regkit`; the package
itself is the face. Imports for type checkers alone are no arrows.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from graphlib import TopologicalSorter
from html import escape
from pathlib import Path
from statistics import median
from typing import Any

from docutils import nodes
from docutils.parsers.rst import Directive

PACKAGE = Path(__file__).resolve().parent.parent / "regkit"
FACE = "face"
BOX, HIGH, GAP, RISE = 118, 44, 22, 56


@dataclass(frozen=True)
class Room:
    """One room: what it is for, by the first sentence of its docstring, and what it imports."""

    name: str
    purpose: str
    lines: tuple[int, ...]
    uses: frozenset[str]


def rooms(package: Path = PACKAGE) -> Mapping[str, Room]:
    """Return the rooms of a package by name."""
    files: dict[str, list[Path]] = {}
    for file in sorted(package.rglob("*.py")):
        inside = file.relative_to(package).parts
        alone = "commands" if inside[0] == "__main__.py" else FACE  # `python -m regkit`
        files.setdefault(inside[0] if len(inside) > 1 else alone, []).append(file)
    return {name: _room(name, package, found) for name, found in files.items()}


def _room(name: str, package: Path, files: list[Path]) -> Room:
    first = package / ("__init__.py" if name == FACE else f"{name}/__init__.py")
    said = ast.get_docstring(ast.parse(first.read_text("utf-8"))) or ""
    texts = [file.read_text("utf-8") for file in files]
    uses = {used for text in texts for used in _imported(ast.parse(text), package)}
    lines = tuple(len(text.splitlines()) for text in texts)
    return Room(name, said.split("\n\n")[0].replace("\n", " "), lines, frozenset(uses - {name}))


def _imported(tree: ast.AST, package: Path) -> Iterator[str]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            continue
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else (
            [str(node.module)] if isinstance(node, ast.ImportFrom) else [])
        for name in names:
            whole, _, rest = name.partition(".")
            if whole == package.name:
                yield rest.split(".")[0] if rest else FACE
        yield from _imported(node, package)


def drawn_arrows(found: Mapping[str, Room]) -> set[tuple[str, str]]:
    """Return the arrows that do not follow from others: the transitive reduction."""
    below: dict[str, set[str]] = {}
    for name in _order(found):
        uses = found[name].uses
        below[name] = set(uses).union(*(below[used] for used in uses))
    return {(name, used) for name, room in found.items() for used in room.uses
            if not any(used in below[other] for other in room.uses)}


def _order(found: Mapping[str, Room]) -> list[str]:
    return list(TopologicalSorter({n: sorted(r.uses) for n, r in sorted(found.items())})
                .static_order())


def picture(found: Mapping[str, Room]) -> str:
    """Return the rooms as SVG: each above all it imports, arrows only where none follows."""
    floor: dict[str, int] = {}
    for name in _order(found):
        floor[name] = max((floor[used] + 1 for used in found[name].uses), default=0)
    floors = [[name for name in found if floor[name] == level]
              for level in range(max(floor.values()) + 1)]
    wide = max(map(len, floors)) * (BOX + GAP) + GAP
    high = len(floors) * (HIGH + RISE)
    place = {}
    for level, names in enumerate(floors):
        start = (wide - len(names) * (BOX + GAP) + GAP) / 2
        for at, name in enumerate(sorted(names)):
            place[name] = (start + at * (BOX + GAP), high - (level + 1) * (HIGH + RISE) + RISE / 2)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img" '
        f'style="max-width: 100%; width: {wide}px" font-family="sans-serif" font-size="14">',
        "<title>The rooms of regkit; each imports those its arrows lead down to</title>",
        '<defs><marker id="tip" viewBox="0 0 8 8" refX="8" refY="4" markerWidth="8" '
        'markerHeight="8" orient="auto"><path d="M0,0 L8,4 L0,8 z"/></marker></defs>',
    ]
    for name, used in sorted(drawn_arrows(found)):
        (x, y), (to_x, to_y) = place[name], place[used]
        lines.append(f'<path d="M{x + BOX / 2},{y + HIGH} L{to_x + BOX / 2},{to_y}" '
                     'stroke="#555" fill="none" marker-end="url(#tip)"/>')
    for name, (x, y) in place.items():
        lines.append(f'<rect x="{x}" y="{y}" width="{BOX}" height="{HIGH}" rx="4" fill="#fff" '
                     f'stroke="#222"/><text x="{x + BOX / 2}" y="{y + HIGH / 2 + 5}" '
                     f'text-anchor="middle">{escape(name)}</text>')
    return "\n".join([*lines, "</svg>"])


class Rooms(Directive):
    """Puts the picture and a table of the rooms on a page."""

    def run(self) -> list[nodes.Node]:
        found = rooms()
        order = _order(found)
        return [nodes.raw("", picture(found), format="html"),
                _table(["room", "what it is for", "imports", "modules", "lines", "median"],
                       [_row(found[name], order) for name in order])]


def _row(room: Room, order: list[str]) -> list[str]:
    uses = ", ".join(sorted(room.uses, key=order.index)) or "nothing of ours"
    return [room.name, room.purpose, uses, str(len(room.lines)), f"{sum(room.lines):,}",
            f"{median(room.lines):.0f}"]


def _table(head: list[str], rows: list[list[str]]) -> nodes.table:
    group = nodes.tgroup("", *(nodes.colspec(colwidth=width) for width in (12, 50, 30, 8, 8, 8)),
                         nodes.thead("", _cells(head)),
                         nodes.tbody("", *(_cells(row) for row in rows)), cols=len(head))
    return nodes.table("", group)


def _cells(texts: list[str]) -> nodes.row:
    return nodes.row("", *(nodes.entry("", nodes.paragraph(text=text)) for text in texts))


def setup(app: Any) -> dict[str, bool]:
    """Make the directive known to Sphinx."""
    app.add_directive("rooms", Rooms)
    return {"parallel_read_safe": True, "parallel_write_safe": True}
