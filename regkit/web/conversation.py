"""A conversation: what a visitor has answered so far. It travels in the address of each page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from types import MappingProxyType
from typing import Any

import regkit
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset


@dataclass(frozen=True, slots=True)
class Conversation:
    """What is told and what was left open; nothing of it is kept on the server.

    Attributes:
        facts: what is told, as it was written.
        left_open: the facts that are not asked again: the visitor does not know the answer, or
            knows it no more exactly than it is told.
        on: the day of assessment the visitor chose; None for whatever day it is.
        tried: the fields of an answer that could not be taken, to be asked for again.
    """

    jurisdiction: str
    facts: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    left_open: tuple[str, ...] = ()
    on: date | None = None
    tried: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def told(self, fact: str, written: str) -> Conversation:
        """Return the conversation after an answer; the same once more is all the visitor knows."""
        others = tuple(name for name in self.left_open if name != fact)
        return replace(self, facts=MappingProxyType({**self.facts, fact: written}),
                       left_open=(*others, fact) if self.facts.get(fact) == written else others)

    def leave_open(self, fact: str) -> Conversation:
        """Return the conversation after 'I do not know'; an earlier answer is taken back."""
        facts = {name: written for name, written in self.facts.items() if name != fact}
        return replace(self, facts=MappingProxyType(facts),
                       left_open=tuple(dict.fromkeys((*self.left_open, fact))))

    def document(self) -> dict[str, Any]:
        """Return what is told as a case (schemas/case.schema.json)."""
        day = {} if self.on is None else {"on": self.on.isoformat()}
        return {"jurisdiction": self.jurisdiction, **day, "facts": dict(self.facts)}

    def case(self, ruleset: Ruleset) -> Case:
        """Return what is told, read against a vocabulary.

        Raises:
            Unreadable: something told is not in this vocabulary, or contradicts another answer.
        """
        return regkit.read_case(self.document(), ruleset)
