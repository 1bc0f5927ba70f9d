"""The released versions of a ruleset, as they lie beside it."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.read.folder import Folder
from regkit.read.problems import Unreadable
from regkit.read.released import read_released, released_versions


def names_of(kept: Kept) -> tuple[str, ...]:
    """Return the names of the released versions of the ruleset, the oldest first."""
    return tuple(name for name in released_versions(kept.root)
                 if name.split("@")[0] == kept.ruleset.jurisdiction)


def released(kept: Kept) -> Iterator[tuple[str, list[Folder]]]:
    """Yield each released version that can be read, with its layers; its own is the last."""
    for name in names_of(kept):
        try:
            yield name, read_released(name, kept.root)
        except (Unreadable, KeyError, ValueError):
            continue  # the check `released-changed` says so
