"""Reading the body of a request: no larger, and for no longer, than the limits say."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable, Mapping
from typing import NamedTuple
from urllib.parse import parse_qsl

from starlette.requests import ClientDisconnect, Request

import regkit
from regkit.language import phrase
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset
from regkit.read.problems import Problem
from regkit.read.text import Document, read_text
from regkit.web.refusals import Refused
from regkit.web.settings import Limits

MOST_FIELDS = 20
FORM = "application/x-www-form-urlencoded"
JSON, YAML = "application/json", "application/yaml"


class Written(NamedTuple):
    """A body, and the name by which errors call it; the ending says what it is."""

    body: bytes
    name: str


async def read_body(request: Request, limits: Limits) -> bytes:
    """Return the body of a request.

    Raises:
        Refused: it is too large, or comes too slowly.
    """
    too_large = Refused(413, phrase("More was sent than is read here: {most} bytes are the most",
                                    most=limits.body))
    declared = request.headers.get("content-length", "")
    if declared.isdigit() and int(declared[:20]) > limits.body:
        raise too_large
    body = bytearray()
    try:
        async with asyncio.timeout(limits.seconds):
            async for chunk in request.stream():
                body += chunk
                if len(body) > limits.body:
                    raise too_large
    except (TimeoutError, ClientDisconnect):
        raise Refused(408, phrase("What was sent came too slowly")) from None
    return bytes(body)


async def read_form(request: Request, limits: Limits) -> Mapping[str, str]:
    """Return the fields of a form; of a field given twice, the last.

    Raises:
        Refused: it is no form.
    """
    if _media_type(request) != FORM:
        raise Refused(415, phrase("Send a form as {kind}", kind=FORM))
    body = await read_body(request, limits)
    try:
        return dict(parse_qsl(body.decode("ascii"), keep_blank_values=True, errors="strict",
                              max_num_fields=MOST_FIELDS))
    except ValueError:
        raise Refused(400, phrase("This is no form that can be read")) from None


async def read_written(request: Request, limits: Limits) -> Written:
    """Return what the body of a request says that should be JSON or YAML, not yet looked into.

    Raises:
        Refused: it says that it is something else, is too large, or comes too slowly.
    """
    kind = _media_type(request)
    if kind not in (JSON, YAML):
        raise Refused(415, phrase("Send the case as {json} or {yaml}", json=JSON, yaml=YAML))
    return Written(await read_body(request, limits), "body.json" if kind == JSON else "body.yaml")


def read_document(written: Written, limits: Limits) -> Document:
    """Return the JSON or YAML in a body, with the lines of its parts.

    Raises:
        Refused: it is neither, says what JSON could not, or says too much.
    """
    body, name = written
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError:
        raise Refused(400, phrase("The body is not UTF-8 text")) from None
    try:
        document = read_text(text, name)
    except regkit.Unreadable as wrong:
        raise unreadable(wrong.problems, 400) from None
    if len(document.lines) > limits.entries:
        raise Refused(413, phrase("The case has {count} entries; {most} are the most that is read",
                                  count=len(document.lines), most=limits.entries))
    return document


def read_case(document: Document, ruleset: Ruleset) -> Case:
    """Return the case in a body.

    Raises:
        Refused: something in it is wrong; every problem is listed with its place.
    """
    try:
        return regkit.read_case(document.data, ruleset)
    except regkit.Unreadable as wrong:
        # Data that is read a second time knows its places, and the text their lines.
        raise unreadable((document.problem(found.path, found.says) for found in wrong.problems),
                         422) from None


def unreadable(problems: Iterable[Problem], status: int) -> Refused:
    """Return the refusal of a case that cannot be read."""
    return Refused(status, phrase("The case cannot be read; nothing of it was taken"), problems)


def _media_type(request: Request) -> str:
    return request.headers.get("content-type", "").partition(";")[0].strip().lower()
