"""The house: which room may import which. An arrow against the design fails here.

The rooms and their arrows stand in DEVELOPERS.md. Imports made for type checkers alone do not
count; imports inside functions do.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.rulesets_under_test import ROOT

PACKAGE = ROOT / "regkit"

# What each room may import of ours, besides itself.
LOW = {"language", "model"}
ROOMS: dict[str, set[str]] = {
    "language": set(),
    "model": {"language"},
    "conditions": LOW,
    "read": {*LOW, "conditions"},
    "judge": {*LOW, "conditions"},
    # A witness of a difference is read like any other case before it is believed.
    "compare": {*LOW, "conditions", "judge", "read"},
    "show": LOW,
    "keep": {*LOW, "conditions", "read", "judge", "compare", "face"},
    "face": {*LOW, "read", "judge", "compare", "show", "keep"},
    # A command that serves hands over to the web adapter; both use the face and no more beside.
    "web": {*LOW, "read", "show", "compare", "face"},
    "commands": {*LOW, "read", "show", "keep", "compare", "face", "follow", "web"},
}
ADAPTERS = {*LOW, "show", "compare", "commands", "face"}
"""What a module beside the rooms (an adapter such as a web page) may import."""

# Evaluation imports the standard library alone; a library an issue names may be imported inside a
# function of the one module that needs it, and its absence gets a clear message.
PURE = ("model", "conditions", "judge", "compare")
LAZY = {("judge", "holidays"), ("judge", "stdnum")}

MODULES = sorted(PACKAGE.rglob("*.py"))


def room_of(module: str) -> str:
    """Return the room of a dotted module name of ours; the face for the package itself."""
    parts = module.split(".")
    if len(parts) == 1:
        return "face"
    return parts[1]


def dotted(file: Path) -> str:
    """Return the dotted name of a module file."""
    parts = file.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(tree: ast.AST, module: str, lazy: bool = False) -> Iterator[tuple[str, bool]]:
    """Yield what is imported at run time, and whether only inside a function."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test):
            for other in node.orelse:
                yield from imports(other, module, lazy)
        elif isinstance(node, ast.Import):
            yield from ((alias.name, lazy) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{module} imports relatively; name the module in full"
            yield str(node.module), lazy
            # `from regkit.show import text` names a module as well.
            folder = ROOT / str(node.module).replace(".", "/")
            yield from ((f"{node.module}.{alias.name}", lazy) for alias in node.names
                        if (folder / f"{alias.name}.py").is_file())
        else:
            inside = isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
            yield from imports(node, module, lazy or inside)


def imported(file: Path) -> list[tuple[str, bool]]:
    """Return the run-time imports of a module file."""
    return list(imports(ast.parse(file.read_text("utf-8")), dotted(file)))


@pytest.mark.parametrize("file", MODULES, ids=dotted)
def test_imports_follow_the_arrows(file: Path) -> None:
    """language ← model ← conditions ← read, judge ← compare; show sees model; commands the face."""
    room = room_of(dotted(file))
    allowed = ROOMS.get(room, ADAPTERS)
    wrong = {
        name for name, _ in imported(file)
        if name.split(".")[0] == "regkit" and room_of(name) != room
        and room_of(name) not in allowed
    }

    assert not wrong, f"{dotted(file)} may import {sorted(allowed)}, not {sorted(wrong)}"


@pytest.mark.parametrize("file", [f for f in MODULES if room_of(dotted(f)) in PURE], ids=dotted)
def test_evaluation_needs_the_standard_library_alone(file: Path) -> None:
    """No third-party package in model, conditions, judge or compare, but for those named."""
    for name, lazy in imported(file):
        top = name.split(".")[0]
        if top not in ("regkit", *sys.stdlib_module_names):
            assert lazy and (room_of(dotted(file)), top) in LAZY, f"{dotted(file)} imports {top}"


@pytest.mark.parametrize("file", [
    f for f in MODULES if room_of(dotted(f)) in (*PURE, "language", "show")
], ids=dotted)
def test_only_reading_opens_files_or_asks_the_clock(file: Path) -> None:
    """Judging and showing are functions of what they are given (translations come as resources)."""
    text = ast.parse(file.read_text("utf-8"))
    called = {ast.unparse(node.func) for node in ast.walk(text) if isinstance(node, ast.Call)}

    assert not called & {"open", "date.today", "datetime.now", "datetime.today", "time.time",
                         "input", "print", "random.random"}


def test_the_walk_sees_what_it_must() -> None:
    """An import against the arrows, for types only or inside a function, is told apart."""
    tree = ast.parse(
        "from typing import TYPE_CHECKING\n"
        "if TYPE_CHECKING:\n    from regkit.judge import law\n"
        "def f():\n    import regkit.read.text\n"
    )

    assert list(imports(tree, "x")) == [("typing", False), ("regkit.read.text", True)]


def fresh(code: str) -> str:
    """Return what a fresh interpreter prints."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                          cwd=ROOT)
    return done.stdout.strip()


def test_importing_regkit_imports_no_third_party_package() -> None:
    """`import regkit` in a fresh interpreter needs the standard library alone."""
    # Packages that a site hook loads before any code of ours are not ours to answer for.
    found = fresh(
        "import sys; before = set(sys.modules); import regkit\n"
        "print(sorted({m.split('.')[0] for m in set(sys.modules) - before}"
        " - set(sys.stdlib_module_names)))"
    )

    assert found == "['regkit']"


def test_the_public_face_is_small() -> None:
    """Ten names at most, each documented."""
    found = fresh("import regkit; print(len(regkit.__all__), "
                  "all(getattr(regkit, n).__doc__ for n in regkit.__all__))")

    assert int(found.split()[0]) <= 10 and found.endswith("True")


@pytest.mark.parametrize("file", MODULES, ids=dotted)
def test_no_module_is_too_long(file: Path) -> None:
    """None passes 400 lines."""
    assert len(file.read_text("utf-8").splitlines()) <= 400
