"""Answers that depend on the rules alone: kept by browsers, and known again by their digest."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable

from starlette.requests import Request
from starlette.responses import Response

from regkit.model.engine import ENGINE
from regkit.model.ruleset import Ruleset

KEPT = "public, max-age=300, must-revalidate"
"""Kept for five minutes unasked, then asked for again by its entity tag."""


def fresh(
    request: Request, rulesets: Iterable[Ruleset], rest: str, make: Callable[[], Response]
) -> Response:
    """Return an answer, or 304 to one who has it (RFC 9110, section 13.1.2).

    Args:
        rulesets: those it depends on; their digests make up its entity tag, with the version of
            this library, the address asked, and `rest`.
        rest: what else it depends on, such as the language.
    """
    parts = [ENGINE, rest, request.url.path, request.url.query,
             *(ruleset.digest for ruleset in rulesets)]
    # Weak, for a proxy may compress the answer on its way.
    tag = f'W/"{hashlib.sha256(chr(10).join(parts).encode()).hexdigest()[:32]}"'
    headers = {"ETag": tag, "Cache-Control": KEPT, "Vary": "Accept-Language"}
    if tag.removeprefix("W/") in _known(request.headers.get("if-none-match", "")):
        return Response(status_code=304, headers=headers)
    response = make()
    response.headers.update(headers)
    return response


def _known(header: str) -> set[str]:
    return {tag.strip().removeprefix("W/") for tag in header.split(",")}
