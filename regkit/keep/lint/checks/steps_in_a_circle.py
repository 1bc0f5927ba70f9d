"""Steps that wait for each other, so that none of them can ever be taken."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.judge.order import order_circle
from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("steps-in-a-circle", Level.ERROR, "steps that wait for each other's papers")


def look(kept: Kept) -> Iterator[Remark]:
    """Only papers that are needed in every case and given by one step alone can close a circle."""
    days = {kept.on} | {
        edition.first for _, edition in kept.editions("requirements") if edition.first}
    circles = {order_circle(kept.ruleset, day) for day in days}
    for names in sorted(circles - {()}):
        own = next((n for n in names if n in kept.own.entries["requirements"]), None)
        if own is not None:
            yield CHECK.remark(
                kept.own.entries["requirements"][own].line,
                f"these steps wait for each other's papers: {' → '.join(names)}",
                "let one of the papers come from another step or from outside")
