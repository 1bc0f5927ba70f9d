"""The old side under the names that facts and papers have now, so that a new name is no difference.

A case that tells a fact by its old name is read with the new one, so both sides are asked about
one fact. Entries that were renamed are paired by the comparison itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from regkit.model.facts import Fact, Vocabulary
from regkit.model.ruleset import Need, Ruleset


def under_new_names(old: Ruleset, new: Ruleset) -> tuple[Ruleset, Mapping[str, str]]:
    """Return the old side with the new side's names, and for each of its facts the old name.

    A fact whose new name the old rules ask for as well stays apart: there were two.
    """
    asked = {fact.name for fact in old.asked}
    facts = {was: now for was, now in new.renamed.items()
             if was in old.vocabulary and now in new.vocabulary and now not in asked}
    papers = {was: now for was, now in new.renamed.items()
              if was in old.evidence and now in new.evidence and now not in old.evidence}
    if not facts and not papers:
        return old, {}
    naming = _Naming(facts, papers, new.vocabulary)
    changed: dict[str, Any] = {
        kind: {name: naming.of(history) for name, history in getattr(old, kind).items()}
        for kind in ("definitions", "requirements", "evidence", "charges", "counting")}
    changed["evidence"] = {papers.get(name, name): history
                           for name, history in changed["evidence"].items()}
    changed["vocabulary"] = Vocabulary({
        facts.get(name, name): naming.of(fact)
        for name, fact in old.vocabulary.items() if name not in facts.values()})
    digest = f"{old.digest} under the names of {new.digest}"
    return replace(old, digest=digest, **changed), {now: was for was, now in facts.items()}


class _Naming:
    """Gives facts and papers, wherever they are named, their new names."""

    def __init__(
        self, facts: Mapping[str, str], papers: Mapping[str, str], vocabulary: Vocabulary
    ) -> None:
        self.facts, self.papers, self.vocabulary = facts, papers, vocabulary

    def of(self, value: Any) -> Any:
        """Return a value in which everything has the name it has now."""
        if isinstance(value, Fact) and value.name in self.facts:
            return self.vocabulary[self.facts[value.name]]
        if isinstance(value, str):  # the name of a fact has a dot, as no other name or word has
            return self.facts.get(value, value)
        if isinstance(value, tuple):
            return tuple(self.of(part) for part in value)
        if not is_dataclass(value) or isinstance(value, type):
            return value
        changed = {part.name: self.of(getattr(value, part.name))
                   for part in fields(value) if part.init}
        if isinstance(value, Need):
            changed["evidence"] = self.papers.get(value.evidence, value.evidence)
        return replace(value, **changed)
