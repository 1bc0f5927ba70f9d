"""Entries that nothing uses: no rule asks the fact, no entry names the source."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.ruleset import read_ruleset

CHECK = Check("unused", Level.WARNING, "an entry that nothing uses")

_KINDS = {"facts": "fact", "definitions": "definition", "evidence": "paper", "charges": "charge",
          "counting": "counting rule", "sources": "source"}


def look(kept: Kept) -> Iterator[Remark]:
    """A name met anywhere, even in a sentence, counts as used: rather a miss than a false alarm.

    Classes are used by being shown. A source may serve a worked example alone; what else only
    examples name is never seen by anybody. What replaces an entry of a lower layer is used there; a
    paper may stand in for another; a layer without windows states how others count theirs.
    """
    classes = {name for name, history in kept.ruleset.definitions.items()
               if any(edition.is_class for edition in history.editions)}
    for kind, entry in kept.written(*_KINDS):
        if entry.id in kept.named or entry.id in classes:
            continue
        if kind == "sources" and entry.id in kept.named_in_examples:
            continue
        if entry.id in _below(kept, kind) or _serves_otherwise(kept, kind, entry.id):
            continue
        right = "name it where it is needed, or take it out"
        if kind == "definitions":
            right = "name it after `holds:` in a rule, or give it `class: yes` to be shown"
        yield CHECK.remark(entry.line, f"no entry uses the {_KINDS[kind]} `{entry.id}`", right)


def _below(kept: Kept, kind: str) -> Collection[str]:
    """Return the names that the ruleset this one builds on gives entries of a kind."""
    layers = kept.ruleset.layers
    if len(layers) < 2:
        return ()
    beside = kept.root / layers[-2].lower()
    lower = read_ruleset(beside if beside.is_dir() else layers[-2])
    found: Mapping[str, object] = getattr(lower, _ATTRIBUTES.get(kind, kind))
    return found.keys()


def _serves_otherwise(kept: Kept, kind: str, name: str) -> bool:
    ruleset = kept.ruleset
    if kind == "evidence":
        return any(edition.stands_in_for for edition in ruleset.evidence[name].editions)
    return kind == "counting" and not any(
        edition.window for history in ruleset.requirements.values() for edition in history.editions
    )


_ATTRIBUTES = {"facts": "vocabulary"}
