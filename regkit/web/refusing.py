"""Answering a request that is refused: a page for people, problem details for programs."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from regkit.language import phrase
from regkit.web.pages import Page, wants_page
from regkit.web.problems import problem
from regkit.web.refusals import Refused
from regkit.web.service import language_of

WORDS = {"title": "This did not work", "again": "Begin again"}


def refusal(request: Request, refused: Refused) -> Response:
    """Return the answer to a request that is refused."""
    if not wants_page(request):
        return problem(request.scope, refused, language_of(request))
    page = Page(request)
    words = {name: page.say(phrase(text)) for name, text in WORDS.items()}
    return page.answer("refused.html", refused.status, refused.headers, words=words,
                       says=page.say(phrase("{says}.", says=refused.says)))
