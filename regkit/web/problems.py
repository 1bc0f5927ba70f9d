"""What went wrong, as problem details for programs (RFC 9457).

They are said in the language of the answer, but for the title: that is the name of the status.
"""

from __future__ import annotations

from collections.abc import Iterable
from http import HTTPStatus
from typing import Any

from starlette.responses import JSONResponse
from starlette.types import Scope

from regkit.language import speaker
from regkit.web.refusals import Refused

SCHEMA = "problem.schema.json"


class ProblemResponse(JSONResponse):
    """Problem details; `application/problem+json`."""

    media_type = "application/problem+json"


def problem(scope: Scope, refused: Refused, language: str) -> ProblemResponse:
    """Return the answer to a request that is refused."""
    say = speaker(language).say
    title = HTTPStatus(refused.status).phrase
    body: dict[str, Any] = {
        "type": f"{scope.get('root_path', '')}/schemas/{SCHEMA}#"
                + title.lower().replace(" ", "-"),
        "title": title,
        "status": refused.status,
        "detail": say(refused.says),
    }
    if refused.errors:
        body["errors"] = [{"detail": say(wrong.says), "pointer": pointer(wrong.path),
                           "line": wrong.line} for wrong in refused.errors]
    return ProblemResponse(body, refused.status, {
        "Content-Language": language, "Vary": "Accept-Language", **refused.headers})


def pointer(path: Iterable[str | int]) -> str:
    """Return a place in a body as a JSON pointer (RFC 6901).

    >>> pointer(("facts", "vehicle.built"))
    '#/facts/vehicle.built'
    """
    return "#" + "".join(
        "/" + str(step).replace("~", "~0").replace("/", "~1") for step in path)
