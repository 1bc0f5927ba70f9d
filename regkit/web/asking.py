"""The pages that ask: which jurisdiction, then one question a page, in the exact order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from regkit.language import Wrong, phrase
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.web.answers import answer, check_together
from regkit.web.bodies import read_form
from regkit.web.caching import fresh
from regkit.web.conversation import Conversation
from regkit.web.pages import Page
from regkit.web.question_page import question_page
from regkit.web.refusals import Refused
from regkit.web.seal import TooMuch
from regkit.web.service import read_day, service_of
from regkit.web.upcoming import upcoming

WORDS = {
    "title": "What does your old vehicle need?",
    "lead": "For one old vehicle that came from abroad, or was found without papers: what must be "
            "done to get it lawfully onto the register, what need not be done, and why. You are "
            "asked one question at a time, and only what can still change the answer.",
    "where": "Where is it to be registered?",
    "day": "Ask about another day than today",
    "day_label": "The day",
    "day_hint": "The law of that day counts, and ages are counted on it. Such as 2026-04-01.",
    "begin": "Begin",
}


TRIED = ("fact", "answer", "written", "currency", "before", "again")


async def start(request: Request) -> Response:
    """Ask for the jurisdiction."""
    service, page = service_of(request), Page(request)
    places = [(code, page.say(ruleset.title)) for code, ruleset in service.rulesets.items()]
    words = {name: page.say(phrase(text)) for name, text in WORDS.items()}
    return fresh(request, service.rulesets.values(), page.language,
                 lambda: page.answer("start.html", words=words, places=places))


async def ask(request: Request) -> Response:
    """Ask the next question, or the one to change; with none left, lead to the report."""
    service, page, query = service_of(request), Page(request), request.query_params
    if "case" in query:
        conversation = service.conversation(query["case"])
    else:
        conversation = Conversation(query.get("jurisdiction", "").strip().upper(),
                                    on=read_day(query.get("on")))
    ruleset = service.ruleset(conversation.jurisdiction)
    tried, conversation = conversation.tried, replace(conversation, tried={})
    token = service.seal.seal(conversation)
    if tried:
        fact = _fact(ruleset, tried.get("fact", ""))
        try:
            _taken(ruleset, conversation, fact, tried)
        except Wrong as wrong:
            return question_page(page, ruleset, conversation, token, fact, again="again" in tried,
                                 wrong=wrong.says, form=tried)
    if "change" in query:
        fact = _fact(ruleset, query["change"])
        return question_page(page, ruleset, conversation, token, fact)
    question = await service.workbench.do(
        partial(upcoming, ruleset, conversation, service.day(conversation.on)))
    if question is None:
        return RedirectResponse(page.link("report", case=token), status_code=303)
    return question_page(page, ruleset, conversation, token, question.fact, question,
                         again=question.again)


async def take(request: Request) -> Response:
    """Take an answer, and go on to the next question; a wrong one is asked for again."""
    service, page = service_of(request), Page(request)
    form = await read_form(request, service.settings.limits)
    conversation = service.conversation(form.get("case", ""))
    ruleset = service.ruleset(conversation.jurisdiction)
    fact = _fact(ruleset, form.get("fact", ""))
    try:
        after = _taken(ruleset, conversation, fact, form)
    except Wrong:
        # It is asked for again at an address of its own, so that going back never sends it anew.
        after = replace(conversation, tried={name: form[name] for name in TRIED if name in form})
    try:
        token = service.seal.seal(after)
    except TooMuch:
        raise Refused(413, phrase("All answers together are too long for the address of a page; "
                                  "shorten one of them")) from None
    return RedirectResponse(page.link("ask", case=token), status_code=303)


def _taken(
    ruleset: Ruleset, conversation: Conversation, fact: Fact, form: Mapping[str, str]
) -> Conversation:
    """Return the conversation after the answer in a form.

    Raises:
        Wrong: it cannot be taken.
    """
    written = answer(fact, form)
    if written is None and "again" in form:
        written = conversation.facts.get(fact.name)
    after = (conversation.leave_open(fact.name) if written is None
             else conversation.told(fact.name, written))
    check_together(after, fact, ruleset)
    return after


def _fact(ruleset: Ruleset, name: str) -> Fact:
    name = ruleset.renamed.get(name, name)
    if name not in ruleset.vocabulary:
        raise Refused(404, phrase("There is no such question"))
    return ruleset.vocabulary[name]
