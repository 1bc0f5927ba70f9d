"""Explained survivors that no longer are mutants of the rules."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.keep.mutants import mutants
from regkit.read.problems import did_you_mean

CHECK = Check("explains-nothing", Level.WARNING, "an explained survivor that is no mutant")


def look(kept: Kept) -> Iterator[Remark]:
    """Only whether there is such a mutant; `coverage --mutants` says whether it survives."""
    written = [entry for _, entry in kept.written("survivors")]
    names = {mutant.name for mutant in mutants(kept.ruleset)} if written else set()
    for entry in written:
        if entry.id not in names:
            yield CHECK.remark(
                entry.line, f"there is no mutant `{entry.id}`{did_you_mean(entry.id, names)}",
                "name it as `regkit coverage --mutants` prints it, or take it out")
