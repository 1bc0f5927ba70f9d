"""What the rules are, as JSON: who is offered, and what may be told."""

from __future__ import annotations

from typing import Any

from regkit.language import Text, speaker
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset

FORMAT = 1


def jurisdiction_document(ruleset: Ruleset, language: str) -> dict[str, Any]:
    """Return what a ruleset is."""
    say = speaker(language).say
    return {
        "jurisdiction": ruleset.jurisdiction,
        "title": say(ruleset.title),
        "version": ruleset.version,
        "digest": ruleset.digest,
        "languages": list(ruleset.languages),
        "currency": ruleset.currency,
        "known_from": ruleset.known_from.isoformat() if ruleset.known_from else None,
        "covers": [say(text) for text in ruleset.covers],
        "does_not_cover": [say(text) for text in ruleset.does_not_cover],
        "cautions": [say(text) for text in ruleset.cautions],
    }


def vocabulary_document(ruleset: Ruleset, language: str) -> dict[str, Any]:
    """Return what may be told of a case (schemas/vocabulary.schema.json)."""
    return {
        "format": FORMAT,
        "jurisdiction": ruleset.jurisdiction,
        "version": ruleset.version,
        "digest": ruleset.digest,
        "language": language,
        "facts": [fact_document(fact, language) for fact in ruleset.asked],
    }


def fact_document(fact: Fact, language: str) -> dict[str, Any]:
    """Return a fact as a question with its answers; what does not apply is left out."""
    say = speaker(language).say
    document: dict[str, Any] = {
        "name": fact.name,
        "type": fact.type,
        "label": say(fact.label),
        "question": say(fact.question),
        "group": fact.group,
    }
    if isinstance(fact.help, Text):
        document["help"] = say(fact.help)
    if fact.unit:
        document["unit"] = fact.unit
    if fact.allowed is not None:
        document["values"] = [{"value": word, "says": say(fact.say_word(word))}
                              for word in fact.allowed]
    if fact.no_later_than:
        document["no_later_than"] = list(fact.no_later_than)
    return document
