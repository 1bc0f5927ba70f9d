"""A ruleset with something changed wherever it stands in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Any

from regkit.model.ruleset import Ruleset

KINDS = ("definitions", "requirements", "evidence", "charges", "counting")


def rewritten(value: Any, change: Callable[[Any], Any]) -> Any:
    """Return a frozen value in which all it is made of, and then it itself, is changed."""
    if isinstance(value, tuple):
        return tuple(rewritten(part, change) for part in value)
    if is_dataclass(value) and not isinstance(value, type):
        value = replace(value, **{part.name: rewritten(getattr(value, part.name), change)
                                  for part in fields(value) if part.init})
    return change(value)


def entries_rewritten(ruleset: Ruleset, change: Callable[[Any], Any]) -> dict[str, Any]:
    """Return all entries of a ruleset, kind by kind, with something changed in them."""
    return {kind: {name: rewritten(history, change)
                   for name, history in getattr(ruleset, kind).items()}
            for kind in KINDS}
