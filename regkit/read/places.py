"""Where the shipped rulesets and schemas are: inside the installed package, or in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def shipped(folder: str) -> Path:
    """Return the folder `rulesets` or `schemas` as shipped with this copy of regkit."""
    inside = _PACKAGE / folder
    return inside if inside.is_dir() else _PACKAGE.parent / folder
