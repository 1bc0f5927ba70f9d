"""The endpoints for programs that judge a case: a case in, JSON out."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

import regkit
from regkit.compare.next_question import law_to_ask_about, next_question
from regkit.language import phrase, speaker
from regkit.model.assessment import Assessment
from regkit.model.case import Case
from regkit.model.packet_document import packet_document
from regkit.model.plan_document import plan_document
from regkit.model.ruleset import Ruleset
from regkit.read.text import Document
from regkit.web.bodies import Written, read_case, read_document, read_written
from regkit.web.refusals import Refused
from regkit.web.rules_document import fact_document
from regkit.web.service import Service, language_for_program, read_day, service_of

Judge = Callable[[Case, Ruleset, date], Mapping[str, Any]]


async def assess(request: Request) -> Response:
    """Assess a case (schemas/assessment.schema.json)."""
    language = language_for_program(request)
    return await _judged(request, lambda case, ruleset, day: (
        _assessment(case, ruleset, day).to_dict(language)))


async def plan(request: Request) -> Response:
    """Plan a case (schemas/plan.schema.json)."""
    language = language_for_program(request)
    return await _judged(request, lambda case, ruleset, day: (
        plan_document(_assessment(case, ruleset, day), language)))


async def packet(request: Request) -> Response:
    """Check the papers of a case for one requirement (schemas/packet.schema.json)."""
    language, name = language_for_program(request), request.path_params["requirement"]
    sent = read_day(request.query_params.get("sent"))

    def judge(case: Case, ruleset: Ruleset, day: date) -> Mapping[str, Any]:
        requirement = ruleset.renamed.get(name, name)
        assessment = _assessment(case, ruleset, day)
        if requirement not in assessment.verdicts:
            raise Refused(404, phrase("There is no such requirement"))
        return packet_document(assessment.packet(requirement, sent), language)

    return await _judged(request, judge)


async def question(request: Request) -> Response:
    """Say what to ask next (schemas/next-question.schema.json)."""
    language = language_for_program(request)
    skip = frozenset(request.query_params.getlist("skip"))
    say = speaker(language).say

    def judge(case: Case, ruleset: Ruleset, day: date) -> Mapping[str, Any]:
        found = next_question(law_to_ask_about(ruleset, day), case, skip)
        asked = None if found is None else {
            "fact": fact_document(found.fact, language),
            "bears_on": [
                {"requirement": name, "title": say(ruleset.requirements[name].latest.title)}
                for name in found.bears_on],
            "left": found.left,
            "again": found.again,
        }
        return {"jurisdiction": ruleset.jurisdiction, "digest": ruleset.digest,
                "on": day.isoformat(), "language": language, "question": asked}

    return await _judged(request, judge)


async def _judged(request: Request, judge: Judge) -> Response:
    """Read the case in the body, judge it beside the event loop, and return what came out."""
    service = service_of(request)
    on = read_day(request.query_params.get("on"))
    service.workbench.make_sure_of_room()
    written = await read_written(request, service.settings.limits)
    body = await service.workbench.do(partial(_work, service, written, on, judge))
    return Response(body, media_type="application/json", headers={
        "Content-Language": language_for_program(request), "Vary": "Accept-Language"})


def _work(service: Service, written: Written, on: date | None, judge: Judge) -> bytes:
    document = read_document(written, service.settings.limits)
    ruleset = _ruleset(service, document)
    case = read_case(document, ruleset)
    day = service.day(on or case.on)
    return json.dumps(judge(case, ruleset, day), ensure_ascii=False,
                      separators=(",", ":")).encode()


def _ruleset(service: Service, document: Document) -> Ruleset:
    """Return the ruleset a body names; any one where it names none, which reading then says."""
    data = document.data
    if not isinstance(data, dict):
        raise Refused(422, phrase("The body must be a case: an object with `jurisdiction` and "
                                  "`facts`"))
    code = data.get("jurisdiction")
    if isinstance(code, str) and code not in service.rulesets:
        says = phrase("No such jurisdiction is offered here; there are: {codes}",
                      codes=service.offered)
        raise Refused(422, says, [document.problem(("jurisdiction",), says)])
    if not isinstance(code, str):
        return next(iter(service.rulesets.values()))
    return service.rulesets[code]


def _assessment(case: Case, ruleset: Ruleset, day: date) -> Assessment:
    try:
        return regkit.assess(case, ruleset, day)
    except ValueError:
        raise Refused(422, phrase("The day of assessment must lie in 1900 to 2199")) from None
