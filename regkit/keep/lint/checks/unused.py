"""Entries that nothing uses: no rule asks the fact, no entry names the source."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("unused", Level.WARNING, "an entry that nothing uses")

_KINDS = {"facts": "fact", "definitions": "definition", "evidence": "paper", "charges": "charge",
          "counting": "counting rule", "sources": "source"}


def look(kept: Kept) -> Iterator[Remark]:
    """A name met anywhere, even in a sentence, counts as used: rather a miss than a false alarm.

    Classes are used by being shown. A source may serve a worked example alone; what else only
    examples name is never seen by anybody.
    """
    classes = {name for name, history in kept.ruleset.definitions.items()
               if any(edition.is_class for edition in history.editions)}
    for kind, entry in kept.written(*_KINDS):
        if entry.id in kept.named or entry.id in classes:
            continue
        if kind == "sources" and entry.id in kept.named_in_examples:
            continue
        right = "name it where it is needed, or take it out"
        if kind == "definitions":
            right = "name it after `holds:` in a rule, or give it `class: yes` to be shown"
        yield CHECK.remark(entry.line, f"no entry uses the {_KINDS[kind]} `{entry.id}`", right)
