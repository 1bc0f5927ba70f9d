"""The old side under the names that facts and papers have now, so that a new name is no difference.

A case that tells a fact by its old name is read with the new one, so both sides are asked about
one fact. Entries that were renamed are paired by the comparison itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from regkit.compare.rewriting import entries_rewritten, rewritten
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
    names = {now: was for was, now in facts.items()}

    def named(value: Any) -> Any:
        if isinstance(value, str):  # the name of a fact has a dot, as no other name or word has
            return facts.get(value, value)
        if isinstance(value, Fact):
            return new.vocabulary[value.name] if value.name in names else value
        if isinstance(value, Need):
            return replace(value, evidence=papers.get(value.evidence, value.evidence))
        return value

    changed = entries_rewritten(old, named)
    changed["evidence"] = {papers.get(name, name): history
                           for name, history in changed["evidence"].items()}
    changed["vocabulary"] = Vocabulary({
        facts.get(name, name): rewritten(fact, named)
        for name, fact in old.vocabulary.items() if name not in names})
    digest = f"{old.digest} under the names of {new.digest}"
    return replace(old, digest=digest, **changed), names
