"""One side of a comparison as given by name: folder, jurisdiction, released version or revision."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from regkit.model.ruleset import Ruleset
from regkit.read.folder import HEAD, KINDS, Folder
from regkit.read.released import is_version, released_versions
from regkit.read.revision import read_revision
from regkit.read.ruleset import assemble, read_layers


@dataclass(frozen=True)
class ReadSide:
    """One side as read: its ruleset, and its entries as they are written."""

    label: str
    ruleset: Ruleset
    written: Mapping[str, Mapping[str, Any]]


def read_side(name: str, root: Path | None = None) -> ReadSide:
    """Return a side: a ruleset folder, a code (GB), a version (GB@2026.1) or a git revision
    (GB@HEAD~1).

    Raises:
        Unreadable: there is no such side, or something in it is wrong.
    """
    layers = _layers(name, root)
    return ReadSide(name, assemble(layers), written_entries(layers))


def _layers(name: str, root: Path | None) -> list[Folder]:
    if Path(name).is_dir():
        return read_layers(Path(name).resolve())
    code, _, revision = name.partition("@")
    if revision and not is_version(name) and name not in released_versions(root):
        return read_revision(code, revision, root)
    return read_layers(name, root)


def written_entries(layers: list[Folder]) -> Mapping[str, Mapping[str, Any]]:
    """Return the entries of all layers as written; a later layer replaces an earlier one's."""
    found: dict[str, dict[str, Any]] = {kind: {} for kind in KINDS}
    for layer in layers:
        for kind in KINDS:
            found[kind].update((name, entry.data) for name, entry in layer.entries[kind].items())
    heads = {layer.layer: layer.head.data for layer in layers if layer.head is not None}
    return {HEAD: heads, **found}
