"""The page of one question: its field, why it is asked, what is answered so far."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from starlette.responses import Response

from regkit.compare.next_question import Question
from regkit.language import Argument, Phrase, Speaker, phrase, plural
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.model.values import NEVER, UNKNOWN
from regkit.read.facts import read_value
from regkit.web.conversation import Conversation
from regkit.web.fields import WRITTEN, field_of
from regkit.web.pages import Page

WORDS = {
    "error": "This answer cannot be taken",
    "why": "Why is this asked?",
    "depends": "These may depend on it:",
    "dates": "How to write a date that is not known exactly",
    "pick": "Pick one",
    "currency": "Currency, in three letters",
    "next": "Next",
    "now": "Show me the answer now",
    "told": "What you have answered",
    "change": "Change",
    "again": "Begin again",
}
MOST_TITLES = 4


def question_page(
    page: Page,
    ruleset: Ruleset,
    conversation: Conversation,
    token: str,
    fact: Fact,
    question: Question | None = None,
    wrong: Phrase | None = None,
    form: Mapping[str, str] | None = None,
) -> Response:
    """Return the page that asks for a fact.

    Args:
        question: why it is asked next; None where the visitor came back to it.
        wrong: why the answer in `form` cannot be taken.
    """
    say = page.say
    told = conversation.facts.get(fact.name, "")
    field = field_of(fact, page.speak, ruleset.currency, told,
                     left_open=fact.name in conversation.left_open)
    if form is not None:
        field = field.as_sent(form.get("answer", ""), form.get("written", ""),
                              form.get("currency", ""))
    return page.answer(
        "question.html",
        422 if wrong is not None else 200,
        here={**page.kept, "case": token, "change": fact.name} if wrong is not None else None,
        words={name: page.say(phrase(text)) for name, text in WORDS.items()},
        place=say(ruleset.title),
        title=say(fact.question),
        help="" if fact.help is None else _plain(say(fact.help), page.speak),
        field=field,
        written=WRITTEN,
        wrong="" if wrong is None else say(phrase("{says}.", says=wrong)),
        token=token,
        action=page.link("ask"),
        why=[] if question is None else _why(question, ruleset, page),
        progress=_progress(question, conversation, page),
        answers=list(_answers(ruleset, conversation, token, fact, page)),
        report=page.link("report", case=token),
        start=page.link("start"),
    )


def _plain(text: str, speak: Speaker) -> str:
    """Put the words of the page in place of those of a case file."""
    for word, says in ((NEVER, phrase("never")), (UNKNOWN, phrase("unknown"))):
        text = text.replace(f"`{word}`", speak.say(phrase("'{title}'", title=says)))
    return text


def _why(question: Question, ruleset: Ruleset, page: Page) -> list[str]:
    """Return the titles of what depends on the answer, the first few."""
    titles = [page.say(ruleset.requirements[name].latest.title) for name in question.bears_on]
    more = len(titles) - MOST_TITLES
    if more > 0:
        rest = plural("and {count} more", "and {count} more", count=more)
        titles[MOST_TITLES:] = [page.say(rest)]
    return titles


def _progress(question: Question | None, conversation: Conversation, page: Page) -> str:
    """Say how far it is, honestly: most questions fall away with the answers to others."""
    count = len(conversation.facts) + len(conversation.left_open)
    parts = []
    if count:
        parts.append(plural("{count} question answered.", "{count} questions answered.",
                            count=count))
    if question is not None:
        parts.append(plural("At most {count} question is left.",
                            "At most {count} questions are left; mostly far fewer are asked.",
                            count=question.left))
    return " ".join(map(page.say, parts))


def _answers(
    ruleset: Ruleset, conversation: Conversation, token: str, asked: Fact, page: Page
) -> Iterator[dict[str, Any]]:
    """Yield what is answered so far, each with the address where it can be changed."""
    for name in (*conversation.facts, *conversation.left_open):
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
            "here": fact is asked,
            "link": page.link("ask", case=token, change=name),
        }
