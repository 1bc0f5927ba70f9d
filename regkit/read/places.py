"""Where the shipped rulesets and schemas are: inside the installed package, or in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def shipped(folder: str) -> Path:
    """Return the folder `rulesets` or `schemas` as shipped with this copy of regkit."""
    inside = _PACKAGE / folder
    return inside if inside.is_dir() else _PACKAGE.parent / folder


def checked_when_built(folder: Path) -> bool:
    """Return whether a folder ships inside an installed package.

    Its files were checked against the schemas before the package was built, and checking them again
    would take most of the time of a short command. In a checkout, where people edit, they are
    checked every time. Conditions and references are read, and so checked, in both.
    """
    return (_PACKAGE / "rulesets") in folder.resolve().parents
