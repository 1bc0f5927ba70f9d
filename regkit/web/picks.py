"""The answers that can be picked for a fact, in words; and what can be said instead of one."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

from regkit.language import Country, Speaker, phrase
from regkit.model.facts import Fact
from regkit.model.values import NEVER, UNKNOWN
from regkit.read.countries import COUNTRIES

OPEN = "?"
"""The choice that stands for 'I do not know'; no fact has a word like it."""


@dataclass(frozen=True, slots=True)
class Pick:
    """An answer to pick: the word that is sent, and what the visitor reads."""

    word: str
    says: str
    picked: bool = False


def choices(fact: Fact, speak: Speaker, told: str) -> tuple[Pick, ...]:
    """Return the answers that each have a button; none where the answer is written."""
    if fact.type == "yes_no":
        both = (("yes", phrase("Yes")), ("no", phrase("No")))
        return tuple(Pick(word, speak.say(says), word == told) for word, says in both)
    return tuple(Pick(word, speak.say(fact.say_word(word)), word == told)
                 for word in fact.allowed or ())


def listed_choices(fact: Fact, plain: Speaker, told: str) -> tuple[Pick, ...]:
    """Return the answers of a long list, in which no markup can stand."""
    if fact.type != "country":
        return choices(fact, plain, told)
    named = [(plain.say(Country(code)), code) for code in COUNTRIES]
    return tuple(Pick(code, name, code == told)
                 for name, code in sorted(named, key=lambda pair: _order(pair[0], plain)))


def _order(name: str, plain: Speaker) -> str:
    """Return what a name is sorted by; in Swedish å, ä and ö are letters of their own."""
    if plain.language == "sv":
        return name.casefold()
    return "".join(letter for letter in unicodedata.normalize("NFD", name.casefold())
                   if not unicodedata.combining(letter))


def others(fact: Fact, speak: Speaker, said: str, again: bool) -> tuple[Pick, ...]:
    """Return what can be said instead of an answer.

    Args:
        said: the word of the one that was said before.
        again: whether what is told is asked for more exactly.
    """
    ways = [(OPEN, phrase("I do not know it more exactly") if again else phrase("I do not know")),
            (UNKNOWN, phrase("Unknown: nobody can find it out any more"))]
    if fact.type == "date":
        ways.insert(0, (NEVER, phrase("Never: it has not happened")))
    return tuple(Pick(word, speak.say(says), word == said) for word, says in ways)
