"""The answer: the report on what was told so far, and the case to take along."""

from __future__ import annotations

import json

from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import Response

import regkit
from regkit.language import phrase
from regkit.show.report import report as report_page
from regkit.web.answered import answered
from regkit.web.pages import Page
from regkit.web.report_parts import as_fragment, body_of
from regkit.web.service import service_of
from regkit.web.upcoming import case_of, upcoming

WORDS = {
    "title": "What your vehicle needs",
    "go_on": "Go on answering",
    "take": "Take your answers along as a file",
    "again": "Begin again",
}


async def report(request: Request) -> Response:
    """Show what applies, by what was told so far."""
    service, page = service_of(request), Page(request)
    token = request.query_params.get("case", "")
    conversation = service.conversation(token)
    ruleset = service.ruleset(conversation.jurisdiction)
    day = service.day(conversation.on)

    def made() -> tuple[str, bool]:
        assessment = regkit.assess(case_of(ruleset, conversation), ruleset, day)
        body = body_of(report_page(assessment, page.language))
        open_ = upcoming(ruleset, conversation, day) is not None
        return as_fragment(body) if page.fragment else body, open_

    body, open_ = await service.workbench.do(made)
    words = {name: page.say(phrase(text)) for name, text in WORDS.items()}
    return page.answer(
        "report.html", words=words, report=Markup(body), open=open_,
        answers=answered(ruleset, conversation, token, page),
        ask=page.link("ask", case=token), take=page.link("case", case=token),
        start=page.link("start"))


async def case(request: Request) -> Response:
    """Give what was told as a case file, to keep and to assess elsewhere."""
    service = service_of(request)
    conversation = service.conversation(request.query_params.get("case", ""))
    written = json.dumps(conversation.document(), ensure_ascii=False, indent=2)
    return Response(written + "\n", media_type="application/json", headers={
        "Content-Disposition": 'attachment; filename="case.json"'})
