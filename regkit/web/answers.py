"""Reading an answer from a form: as a case would write it, or what is wrong with it in words.

People write numbers and days as their country does; only what cannot be mistaken is accepted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import regkit
from regkit.language import Argument, Phrase, Wrong, phrase
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.read.facts import LONGEST_TEXT, read_value
from regkit.read.text import hidden_character
from regkit.web.conversation import Conversation
from regkit.web.fields import WRITTEN
from regkit.web.picks import OPEN

_DOTTED = re.compile(r"(\d{1,2})\. ?(\d{1,2})\. ?(\d{4})", re.ASCII)
_SPACE = re.compile(r"(?<=\d)[ \u00a0\u202f'](?=\d{3}(?!\d))")
# A point or comma before three last digits: thousands in one country, thousandths in the next.
_TWO_WAYS = re.compile(r"[1-9]\d{0,2}([.,]\d{3})+(?![\d.,])", re.ASCII)


def answer(fact: Fact, form: Mapping[str, str]) -> str | None:
    """Return the answer in a form as a case writes it; None for 'I do not know'.

    Args:
        form: `answer` is the word picked, or 'written' where `written` (and `currency`) holds it.

    Raises:
        Wrong: there is none, or it cannot be read.
    """
    picked = form.get("answer", "").strip() or WRITTEN
    written = form.get("written", "").strip()
    if picked != WRITTEN:
        if written and written != form.get("before", "").strip():
            raise Wrong(phrase("You wrote an answer and picked another one as well; keep one of "
                               "the two"))
        return None if picked == OPEN else _readable(fact, picked)
    if not written:
        raise Wrong(phrase("Give an answer, or say that you do not know it"))
    if len(written) > LONGEST_TEXT:
        raise Wrong(phrase("This is too long: it has {count} characters, and can have {most}",
                           count=len(written), most=LONGEST_TEXT))
    if hidden_character(written):
        raise Wrong(phrase("This holds a character that cannot be seen; type it in again"))
    return _readable(fact, _WAYS.get(fact.type, lambda text, _: text)(written, form))


def check_together(conversation: Conversation, fact: Fact, ruleset: Ruleset) -> None:
    """Check that what is told of a fact fits what is told of the others.

    Raises:
        Wrong: it contradicts another answer.
    """
    try:
        conversation.case(ruleset)
    except regkit.Unreadable:
        raise Wrong(_contradiction(conversation, fact, ruleset)) from None


def _contradiction(conversation: Conversation, fact: Fact, ruleset: Ruleset) -> Phrase:
    """Return which other answer one contradicts."""
    for name, written in conversation.facts.items():
        pair = Conversation(conversation.jurisdiction,
                            {name: written, fact.name: conversation.facts[fact.name]})
        try:
            pair.case(ruleset)
        except regkit.Unreadable:
            other = ruleset.vocabulary[name]
            if name != fact.name:
                return phrase(
                    "This cannot be, together with your answer '{value}' to the question: "
                    "{question} Change one of them",
                    value=other.say(read_value(other, written)), question=other.question)
    return phrase("This cannot be, together with your other answers; change one of them")


def _readable(fact: Fact, written: str) -> str:
    try:
        read_value(fact, written)
    except Wrong:
        raise Wrong(_right(fact, written)) from None
    return written


def _right(fact: Fact, written: str) -> Phrase:
    """Say what would be a right answer."""
    shown: Argument = written if len(written) <= 60 else written[:59] + "…"
    if fact.type == "date":
        return phrase("'{written}' is no date that can be read; write 1962-05-17, 1962-05, 1962 "
                      "or another of the ways shown below", written=shown)
    if fact.type == "quantity":
        return phrase("'{written}' is no number of {unit}; write for example {example}",
                      written=shown, unit=fact.unit, example=f"250 {fact.unit}")
    if fact.type == "money":
        return phrase("'{written}' is no amount of money; write digits alone, such as 2500, and "
                      "the currency as three letters, such as EUR", written=shown)
    return phrase("Pick one of the answers")


def _date(written: str, _: Mapping[str, str]) -> str:
    """Read a day as Germans and Swedes write it as well: day, month and year between points."""
    dotted = _DOTTED.fullmatch(written)
    if dotted:
        return f"{dotted[3]}-{int(dotted[2]):02}-{int(dotted[1]):02}"
    return written.replace(" / ", "/").replace("–", "-")


def _number(written: str, _: Mapping[str, str]) -> str:
    """Read a number with a decimal comma, and digits set apart by spaces."""
    if _TWO_WAYS.match(written):
        raise Wrong(phrase("'{written}' can be read in two ways; write the number without setting "
                           "its thousands apart", written=written))
    return _SPACE.sub("", written).replace(",", ".", 1)


def _money(written: str, form: Mapping[str, str]) -> str:
    number = _number(written, form)
    currency = form.get("currency", "").strip().upper()
    return number if " " in number or not currency else f"{number} {currency}"


_WAYS = {"date": _date, "quantity": _number, "money": _money}
