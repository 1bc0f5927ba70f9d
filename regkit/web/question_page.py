"""The page of one question: its field, why it is asked, what is answered so far."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.responses import Response

from regkit.compare.next_question import Question
from regkit.language import Phrase, Text, phrase, plural
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.model.values import NEVER, UNKNOWN
from regkit.read.facts import read_value
from regkit.show.html_words import Html, harmless
from regkit.web.answered import answered
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
    again: bool = False,
    wrong: Phrase | None = None,
    form: Mapping[str, str] | None = None,
) -> Response:
    """Return the page that asks for a fact.

    Args:
        question: why it is asked next; None where the visitor came back to it.
        again: whether it is asked because what is told is not exact enough.
        wrong: why the answer in `form` cannot be taken.
    """
    say = page.say
    told = conversation.facts.get(fact.name, "")
    field = field_of(fact, page.speak, ruleset.currency, told,
                     left_open=fact.name in conversation.left_open and not told, again=again)
    if form is not None:
        field = field.as_sent(form.get("answer", ""), harmless(form.get("written", "")),
                              harmless(form.get("currency", "")))
    return page.answer(
        "question.html",
        422 if wrong is not None else 200,
        here={**page.kept, "case": token, "change": fact.name} if wrong is not None else None,
        words={name: page.say(phrase(text)) for name, text in WORDS.items()},
        place=say(ruleset.title),
        title=say(fact.question),
        plain_title=page.plain(fact.question),
        help="" if fact.help is None else _without_words_of_files(fact.help, page),
        field=field,
        again=say(phrase("So far you have answered: {value}. If you can tell it more exactly, do; "
                         "otherwise go on.", value=fact.say(read_value(fact, told))))
        if again and told else "",
        written=WRITTEN,
        wrong="" if wrong is None else say(phrase("{says}.", says=wrong)),
        token=token,
        action=page.link("ask"),
        why=[] if question is None else _why(question, ruleset, page),
        progress=_progress(question, conversation, page),
        answers=answered(ruleset, conversation, token, page, fact.name),
        report=page.link("report", case=token),
        start=page.link("start"),
    )


def _without_words_of_files(said: Text, page: Page) -> Html:
    """Say a text with the words of the page in place of those of a case file."""
    text: str = page.say(said)
    for word, says in ((NEVER, phrase("never")), (UNKNOWN, phrase("unknown"))):
        text = text.replace(f"`{word}`", page.say(phrase("'{title}'", title=says)))
    return Html(text)


def _why(question: Question, ruleset: Ruleset, page: Page) -> list[str]:
    """Return the titles of what depends on the answer, the first few."""
    titles: list[str] = [page.say(ruleset.requirements[name].latest.title)
                         for name in question.bears_on]
    more = len(titles) - MOST_TITLES
    if more > 0:
        rest = plural("and {count} more", "and {count} more", count=more)
        titles[MOST_TITLES:] = [page.say(rest)]
    return titles


def _progress(question: Question | None, conversation: Conversation, page: Page) -> str:
    """Say how far it is, honestly: most questions fall away with the answers to others."""
    count = len({*conversation.facts, *conversation.left_open})
    parts = []
    if count:
        parts.append(plural("{count} question answered.", "{count} questions answered.",
                            count=count))
    if question is not None:
        parts.append(plural("At most {count} question is left.",
                            "At most {count} questions are left; mostly far fewer are asked.",
                            count=question.left))
    return " ".join(map(page.say, parts))
