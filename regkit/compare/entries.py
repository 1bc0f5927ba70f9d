"""What was changed in the writing: entries added, removed, renamed, and the fields that differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from regkit.model.changes import EntryChange, FieldChange

Written = Mapping[str, Mapping[str, Any]]
"""For each kind of entry, the entries as written, by identifier."""


def entry_changes(old: Written, new: Written) -> Iterator[EntryChange]:
    """Yield what was changed, kind by kind. The order of entries does not count."""
    renamed = {name: entry["to"] for name, entry in new.get("renamed", {}).items()}
    for kind in dict.fromkeys((*old, *new)):
        before, after = old.get(kind, {}), new.get(kind, {})
        was = {renamed[name]: name for name in before
               if name in renamed and renamed[name] in after and name not in after}
        for name, entry in after.items():
            earlier = before.get(was.get(name, name))
            if earlier is None:
                yield EntryChange(kind, name, "added")
                continue
            fields = tuple(_fields(earlier, entry))
            if name in was:
                yield EntryChange(kind, name, "renamed", fields, was[name])
            elif fields:
                yield EntryChange(kind, name, "changed", fields)
        for name in before:
            if name not in after and name not in was.values():
                yield EntryChange(kind, name, "removed")


def _fields(before: Any, after: Any, path: str = "") -> Iterator[FieldChange]:
    """Yield each field that differs, by its place; lists are compared item by item."""
    if isinstance(before, dict) and isinstance(after, dict):
        for key in dict.fromkeys((*before, *after)):
            yield from _fields(before.get(key), after.get(key), f"{path}.{key}" if path else key)
    elif isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        for at, (one, other) in enumerate(zip(before, after, strict=True)):
            yield from _fields(one, other, f"{path}[{at}]")
    elif before != after:
        yield FieldChange(path, before, after)
