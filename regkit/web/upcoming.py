"""The question that comes next in a conversation."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

import regkit
from regkit.compare.next_question import Question, law_to_ask_about, next_question
from regkit.language import phrase
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from regkit.web.conversation import Conversation
from regkit.web.refusals import Refused


def upcoming(ruleset: Ruleset, conversation: Conversation, day: date) -> Question | None:
    """Return the next question; None if no answer can change a finding any more.

    Raises:
        Refused: what was told cannot be read by these rules any more.
    """
    if not conversation.facts and not conversation.left_open:
        return _first(ruleset, day)
    case = case_of(ruleset, conversation)
    return next_question(law_to_ask_about(ruleset, day), case, conversation.left_open)


def case_of(ruleset: Ruleset, conversation: Conversation) -> Case:
    """Return what was told as a case.

    Raises:
        Refused: it cannot be read by these rules any more.
    """
    try:
        return conversation.case(ruleset)
    except regkit.Unreadable:
        raise Refused(410, phrase(
            "The rules have changed since these answers were given, and do not know one of them "
            "any more. Please begin again")) from None


@lru_cache(maxsize=64)
def _first(ruleset: Ruleset, day: date) -> Question | None:
    """Return what is asked of somebody who has told nothing: of all the same, so kept."""
    case = Conversation(ruleset.jurisdiction).case(ruleset)
    return next_question(law_to_ask_about(ruleset, day), case)
