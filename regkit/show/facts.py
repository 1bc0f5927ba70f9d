"""The vocabulary of a jurisdiction as questions: what may be told about a case."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from regkit.language import Phrase, phrase, plural, speaker
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.show.lines import WIDTH, heading

GROUPS = {
    "vehicle": "the vehicle",
    "arrival": "its arrival",
    "purchase": "the purchase",
    "customs": "customs",
    "keeper": "the keeper",
    "use": "its use",
    "test": "the periodic test",
    "registration": "registration",
    "change": "changes later on",
}
"""What the groups of the shared vocabulary are called; another group goes by its own name."""

ANSWERS = {
    "yes_no": "yes or no",
    "date": "a date: 1962, 1962-05, 1962-05-17, 1962/1964, ../1959, 1959/.., 1962~ or never",
    "money": "an amount and its currency, such as 2500 GBP",
    "country": "a country code of ISO 3166, such as FR",
    "identifier": "a number as it stands, in quotes",
    "text": "text",
}


def fact_lines(ruleset: Ruleset, language: str = "en") -> Iterator[str]:
    """Yield the facts a ruleset looks at, grouped, each with its question and answers."""
    speak = speaker(language)
    say = speak.say
    asked = ruleset.asked
    group = ""
    for fact in sorted(asked, key=lambda fact: list(_groups(ruleset)).index(fact.group)):
        if fact.group != group:
            group = fact.group
            yield from heading(speak.say(phrase(GROUPS[group])) if group in GROUPS else group)
        yield fact.name
        yield from _indented(say(fact.question))
        if fact.help is not None:
            yield from _indented(say(fact.help))
        yield from _indented(f"= {say(answers(fact))}")
    yield ""
    yield from wrap(say(plural(
        "{count} fact. Leave out what you do not want to tell; write `unknown` for what nobody can "
        "tell.",
        "{count} facts. Leave out what you do not want to tell; write `unknown` for what nobody "
        "can tell.", count=len(asked))), WIDTH)


def _groups(ruleset: Ruleset) -> dict[str, None]:
    return dict.fromkeys(fact.group for fact in ruleset.vocabulary.values())


def answers(fact: Fact) -> Phrase:
    if fact.type == "choice":
        return phrase("{words}", words=", ".join(word for word, _ in fact.values))
    if fact.type == "quantity":
        return phrase("a number and its unit, such as {example}", example=f"250 {fact.unit}")
    return phrase(ANSWERS[fact.type])


def _indented(text: str) -> Iterator[str]:
    yield from wrap(text, WIDTH, initial_indent="    ", subsequent_indent="    ")
