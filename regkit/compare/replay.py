"""Replaying an assessment: is the answer still the same, and if not, what differs and why?"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Difference:
    """One place at which two assessments differ."""

    where: str
    before: Any
    after: Any


def differences(before: Any, after: Any, where: str = "") -> Iterator[Difference]:
    """Yield every place at which two JSON documents differ.

    Lists of named things (findings, classes) are compared by name, not by position.
    """
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        for key in dict.fromkeys((*before, *after)):
            place = f"{where}.{key}" if where else str(key)
            if key not in before or key not in after:
                yield Difference(place, before.get(key), after.get(key))
            else:
                yield from differences(before[key], after[key], place)
    elif _named(before) and _named(after):
        yield from differences(_by_name(before), _by_name(after), where)
    elif before != after:
        yield Difference(where, before, after)


def _named(document: Any) -> bool:
    return isinstance(document, list) and bool(document) and all(
        isinstance(part, Mapping) and ("requirement" in part or "id" in part)
        for part in document
    )


def _by_name(document: Any) -> dict[str, Any]:
    return {str(part.get("requirement", part.get("id"))): part for part in document}
