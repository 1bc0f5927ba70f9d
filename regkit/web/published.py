"""What is published here: the jurisdictions, their facts, the schemas, and OpenAPI."""

from __future__ import annotations

import json
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from regkit.language import phrase
from regkit.read.places import shipped
from regkit.web.caching import fresh
from regkit.web.openapi import openapi_document, schema_names
from regkit.web.pages import style_of_fragments, style_sheet
from regkit.web.refusals import Refused
from regkit.web.rules_document import FORMAT, jurisdiction_document, vocabulary_document
from regkit.web.service import language_for_program, service_of


async def jurisdictions(request: Request) -> Response:
    """List the jurisdictions offered (schemas/jurisdictions.schema.json)."""
    rulesets, language = service_of(request).rulesets.values(), language_for_program(request)
    return fresh(request, rulesets, language, lambda: _json({
        "format": FORMAT, "language": language,
        "jurisdictions": [jurisdiction_document(ruleset, language) for ruleset in rulesets],
    }, language))


async def facts(request: Request) -> Response:
    """List what may be told of a case (schemas/vocabulary.schema.json)."""
    service, language = service_of(request), language_for_program(request)
    ruleset = service.ruleset(request.path_params["jurisdiction"].upper())
    return fresh(request, [ruleset], language, lambda: _json(
        vocabulary_document(ruleset, language), language))


async def schema(request: Request) -> Response:
    """Give a published schema."""
    name = request.path_params["name"]
    if name not in schema_names():
        raise Refused(404, phrase("There is no such schema"))
    body = (shipped("schemas") / name).read_bytes()
    return fresh(request, (), "", lambda: Response(body, media_type="application/schema+json"))


async def openapi(request: Request) -> Response:
    """Give the description of these endpoints (OpenAPI 3.1)."""
    service = service_of(request)
    return fresh(request, service.rulesets.values(), "", lambda: _json(
        openapi_document(tuple(service.rulesets), request.scope.get("root_path", ""))))


async def look(request: Request) -> Response:
    """Give the style sheet of a whole page."""
    return _style(request, style_sheet("regkit.show", "look.css"))


async def style(request: Request) -> Response:
    """Give the style sheet of the questions."""
    return _style(request, style_sheet("regkit.web", "style.css"))


async def report_style(request: Request) -> Response:
    """Give the style sheet of the report in a whole page."""
    return _style(request, style_sheet("regkit.show", "report.css"))


async def fragment_style(request: Request) -> Response:
    """Give the style sheet of fragments, for a page of another site."""
    return _style(request, style_of_fragments())


def _style(request: Request, text: str) -> Response:
    return fresh(request, (), text, lambda: Response(
        text, media_type="text/css", headers={"Cross-Origin-Resource-Policy": "cross-origin"}))


def _json(data: Any, language: str = "") -> Response:
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    headers = {"Content-Language": language} if language else {}
    return Response(body, media_type="application/json", headers=headers)
