"""Kinds of test, one class in one file each.

To add a kind, add a module here with one subclass of `Kind`; nothing else needs to know. The
module is found by its place in this folder.
"""

from __future__ import annotations

import pkgutil
from importlib import import_module

from regkit.conditions.kinds.kind import Kind, Misread

KINDS: tuple[type[Kind], ...] = tuple(
    found
    for module in sorted(pkgutil.iter_modules(__path__), key=lambda module: module.name)
    if module.name != "kind"
    for found in vars(import_module(f"{__name__}.{module.name}")).values()
    if isinstance(found, type) and issubclass(found, Kind) and found is not Kind
)

__all__ = ["KINDS", "Kind", "Misread"]
