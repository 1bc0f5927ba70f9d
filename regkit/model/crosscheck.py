"""Cross-checks: facts of different names that must tell the same, on every paper and vehicle."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Text
from regkit.model.ruleset import Edition


@dataclass(frozen=True, kw_only=True)
class CrossCheck(Edition):
    """Facts that must agree, such as the frame number on papers and the one on the vehicle.

    Every fact that is told twice is compared with itself anyway; a cross-check names those that
    tell the same thing under different names, and says why it matters.
    """

    agree: tuple[str, ...]
    why: Text | None = None
