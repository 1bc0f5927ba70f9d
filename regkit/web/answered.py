"""What is answered so far, each with the address where it can be changed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Argument, phrase
from regkit.model.ruleset import Ruleset
from regkit.read.facts import read_value
from regkit.web.conversation import Conversation
from regkit.web.pages import Page

WORDS = {"told": "What you have answered", "change": "Change"}


def answered(
    ruleset: Ruleset, conversation: Conversation, token: str, page: Page, asked: str = ""
) -> dict[str, Any]:
    """Return what the template of the answers needs.

    Args:
        asked: the fact that this very page asks for.
    """
    return {
        "words": {name: page.say(phrase(text)) for name, text in WORDS.items()},
        "lines": list(_lines(ruleset, conversation, token, page, asked)),
    }


def _lines(
    ruleset: Ruleset, conversation: Conversation, token: str, page: Page, asked: str
) -> Iterator[dict[str, Any]]:
    for name in dict.fromkeys((*conversation.facts, *conversation.left_open)):
        fact = ruleset.vocabulary.get(name)
        if fact is None:
            continue
        written = conversation.facts.get(name)
        value: Argument = (phrase("not known") if written is None
                           else fact.say(read_value(fact, written)))
        yield {
            "label": page.say(fact.label),
            "question": page.say(fact.question),
            "value": page.say(value),
            "here": name == asked,
            "link": page.link("ask", case=token, change=name),
        }
