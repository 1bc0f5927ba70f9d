"""Classes that exclude each other by their own words, and both hold of some vehicle."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("classes-meet", Level.WARNING, "two classes that may not meet, but do")


def look(kept: Kept) -> Iterator[Remark]:
    """Exact over all vehicles and days; the remark names one of the vehicles."""
    for entry, history in kept.histories("definitions"):
        others = (name for edition in history.editions for name in edition.excludes)
        for other in dict.fromkeys(others):
            met = kept.reach.together(entry.id, other)
            if met is not None:
                facts = ", ".join(f"{name}: {value}" for name, value in sorted(met.facts.items()))
                yield CHECK.remark(
                    entry.line,
                    f"`{entry.id}` and `{other}` exclude each other, yet on {met.on} both hold "
                    f"of one vehicle ({facts})",
                    "narrow one of the two, or take `excludes` out")
