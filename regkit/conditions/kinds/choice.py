"""Is it this, or one of these? Also: is it expressly unknown, did it never happen?

    vehicle.kind: motorcycle
    vehicle.kind: [car, light_goods]
    vehicle.kind: {not: bus}
    vehicle.built: unknown
    vehicle.first_registered_here: never
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, ClassVar, Self

from regkit.conditions.cut import Among
from regkit.conditions.kinds.kind import Kind, Misread
from regkit.conditions.truth import NO, UNDECIDED, Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, phrase
from regkit.model.assessment import Outcome, Reason
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import NEVER, UNKNOWN

_WORD: dict[str, Any] = {"type": ["string", "boolean"]}
_WORDS: dict[str, Any] = {"type": "array", "items": _WORD, "minItems": 1, "uniqueItems": True}


@dataclass(frozen=True, slots=True)
class Choice(Kind):
    """The fact is, or is not, one of some words."""

    fact: Fact
    words_named: frozenset[str]
    wanted: bool = True

    types: ClassVar[tuple[str, ...]] = (
        "yes_no", "choice", "country", "text", "identifier", "date", "quantity", "money",
    )
    example: ClassVar[str] = "a word, a list of words, {not: word}, unknown; for dates also never"
    schema: ClassVar[Mapping[str, Any]] = {
        "oneOf": [
            {**_WORD, "description": "is this word: yes, car, unknown, never"},
            {**_WORDS, "description": "is one of these words"},
            {
                "type": "object",
                "properties": {"not": {"oneOf": [_WORD, _WORDS]}},
                "required": ["not"],
                "additionalProperties": False,
                "description": "is none of these words",
            },
        ]
    }

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        wanted = True
        if isinstance(written, dict):
            if set(written) != {"not"}:
                return None
            wanted, written = False, written["not"]
        words = [_word(word) for word in (written if isinstance(written, list) else [written])]
        allowed = _allowed(fact)
        for word in words:
            if not isinstance(word, str) or (allowed is not None and word not in allowed):
                raise Misread(
                    f"{fact.name} cannot be {word!r}; it can be {', '.join(allowed or ('a word',))}"
                )
        return cls(fact, frozenset(words), wanted)

    def cut(self, day: LawDay) -> Among:
        return Among(self.key, self.words_named, self.wanted)

    def rule(self) -> Phrase:
        return phrase("{label} {relation}", label=self.fact.label, relation=self._stands(True))

    def _stands(self, holds: bool) -> Phrase:
        words = tuple(self.fact.say_word(word) for word in sorted(self.words_named))
        inside = holds == self.wanted
        if len(words) == 1:
            return phrase("is {word}" if inside else "is not {word}", word=words[0])
        return phrase("is one of: {words}" if inside else "is none of: {words}", words=words)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        return phrase("it {stands}", stands=self._stands(outcome != NO))

    def reason(self, view: View) -> Reason:
        reason = Kind.reason(self, view)
        told = Outcome.NO if self.wanted else Outcome.YES
        only_told = self.words_named <= {UNKNOWN, NEVER} and reason.outcome == told
        return replace(reason, minor=True) if only_told else reason

    def words(self, view: View, outcome: Truth) -> Phrase:
        value = view.case.value(self.fact.name)
        label, said = self.fact.label, self.fact.say(value)
        if outcome == UNDECIDED:
            if value.options is not None:
                return phrase("{label}: {value}, which leaves open whether it {stands}",
                              label=label, value=said, stands=self._stands(True))
            return phrase("{label}: not known; it matters whether it {stands}",
                          label=label, stands=self._stands(True))
        if value.word in (UNKNOWN, NEVER):
            return phrase("{label}: {word}", label=label, word=self.fact.say_word(value.word or ""))
        if value.exact:
            return phrase("{label}: {value}", label=label, value=said)
        return phrase("{label}: {value}, which {stands}",
                      label=label, value=said, stands=self._stands(outcome != NO))


def _word(written: Any) -> Any:
    if isinstance(written, bool):
        return "yes" if written else "no"
    return written


def _allowed(fact: Fact) -> tuple[str, ...] | None:
    if fact.type == "date":
        return (UNKNOWN, NEVER)
    if fact.type in ("quantity", "money"):
        return (UNKNOWN,)
    return None if fact.allowed is None else (*fact.allowed, UNKNOWN)
