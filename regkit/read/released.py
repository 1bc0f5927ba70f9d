"""Released versions: frozen copies of a ruleset with all its layers, one JSON file each.

Order is kept, since the order of writing is the order of findings. A copy whose digest is not the
one it was released under is refused.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from regkit.read.folder import HEAD, KINDS, Folder, Written
from regkit.read.places import shipped
from regkit.read.problems import Problem, Unreadable, did_you_mean
from regkit.read.text import Document

FORMAT = 1
_NAME = re.compile(r"([A-Z]{2}(?:-[A-Z0-9]{1,3})?)@(\d{4}\.\d{1,3})")


def released_folder(root: Path | None = None) -> Path:
    """Return the folder of released versions."""
    return (root or shipped("rulesets")) / "released"


def released_versions(root: Path | None = None) -> tuple[str, ...]:
    """Return the names of the released versions, such as GB@2026.1, the oldest first."""
    files = released_folder(root).glob("*@*.json")
    return tuple(sorted((file.stem for file in files if _NAME.fullmatch(file.stem)), key=_age))


def is_version(name: str) -> bool:
    """Return whether a name is that of a version, such as GB@2026.1."""
    return _NAME.fullmatch(name) is not None


def _age(name: str) -> tuple[str, int, int]:
    code, _, version = name.partition("@")
    year, _, number = version.partition(".")
    return code, int(year), int(number)


def read_released(name: str, root: Path | None = None) -> list[Folder]:
    """Return the layers of a released version.

    Raises:
        Unreadable: there is no such version, or its file was changed after the release.
    """
    known = released_versions(root)
    if name not in known:
        there = f"released are: {', '.join(known)}" if known else "nothing has been released yet"
        raise Unreadable([Problem(name, 0, f"there is no such version{did_you_mean(name, known)}; "
                                           f"{there}")])
    data = json.loads((released_folder(root) / f"{name}.json").read_bytes())
    layers = layers_from(data, name)
    from regkit.read.ruleset import assemble

    digest = assemble(layers).digest
    if digest != data["digest"]:
        raise Unreadable([Problem(f"{name}.json", 0, "was changed after its release: its digest is "
                                  f"{digest[:12]}, released was {data['digest'][:12]}")])
    return layers


def released_document(layers: list[Folder], version: str, digest: str) -> dict[str, Any]:
    """Return the frozen copy of a ruleset as JSON data."""
    return {
        "format": FORMAT,
        "version": version,
        "digest": digest,
        "layers": [
            {
                "layer": layer.layer,
                "head": None if layer.head is None else layer.head.data,
                "entries": {kind: {name: entry.data for name, entry in layer.entries[kind].items()}
                            for kind in KINDS if layer.entries[kind]},
            }
            for layer in layers
        ],
    }


def layers_from(data: dict[str, Any], name: str) -> list[Folder]:
    """Return the layers of a frozen copy."""
    return [_layer(written, name) for written in data["layers"]]


def _layer(written: dict[str, Any], name: str) -> Folder:
    folder = Folder(written["layer"])
    document = Document(f"{name}.json", written, {})
    if written["head"] is not None:
        folder.head = Written(HEAD, written["head"], document, (), folder.layer)
    for kind, entries in written["entries"].items():
        for entry, data in entries.items():
            folder.entries[kind][entry] = Written(entry, data, document, (entry,), folder.layer)
    return folder
