"""Files whose first line does not name their schema, so that editors cannot help."""

from __future__ import annotations

import os
from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Mend, Remark
from regkit.read.places import shipped

CHECK = Check("schema-line", Level.TO_DO, "a file whose first line does not name its schema")
PREFIX = "# yaml-language-server: $schema="


def look(kept: Kept) -> Iterator[Remark]:
    """The line must name a schema of the file's kind; where it lies is the keeper's affair."""
    for kind, file, shown in kept.documents():
        first = file.read_text("utf-8").split("\n", 1)[0]
        if first.startswith(PREFIX) and first.endswith(f"{kind}.schema.json"):
            continue
        target = shipped("schemas") / "ruleset" / f"{kind}.schema.json"
        line = PREFIX + os.path.relpath(target, file.resolve().parent)
        yield CHECK.remark(f"{shown}:1", "the first line does not name the schema of the file",
                           "`regkit check --fix` writes that line",
                           Mend((), first if first.startswith(PREFIX) else "", line))
