"""Counting rules by the holidays of a place for which there is no calendar."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.judge.rest_days import places_with_holidays
from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.folder import Written
from regkit.read.problems import did_you_mean

CHECK = Check("unknown-calendar", Level.WARNING, "holidays of a place that has no calendar")


def look(kept: Kept) -> Iterator[Remark]:
    """Without the package no calendar is known, and nothing is said."""
    known = places_with_holidays()
    for _, entry in kept.written("counting") if known else ():
        for path, code in _named(entry):
            if code not in known:
                yield CHECK.remark(
                    place(entry, *path, "holidays"),
                    f"`{entry.id}` counts by the holidays of `{code}`, for which the package "
                    f"'holidays' has no calendar{did_you_mean(code, known)}",
                    "name a country or a part of one that it has, such as GB or GB-ENG, or leave "
                    "`holidays` out, so that the weekend alone rests")


def _named(entry: Written) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """Yield the place that a counting rule names, and those that its editions name."""
    parts: list[tuple[tuple[str | int, ...], Any]] = [((), entry.data)]
    parts += [(("editions", at), edition) for at, edition in enumerate(
        entry.data.get("editions", ()))]
    yield from ((path, part["holidays"]) for path, part in parts if "holidays" in part)
