"""The endpoints for programs as OpenAPI 3.1, generated from the published schemas.

OpenAPI 3.1 takes JSON Schema 2020-12 as it is; the schema files are put into the one document, and
what they say of each other is pointed to there. https://spec.openapis.org/oas/v3.1.1
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from http import HTTPStatus
from typing import Any

from regkit.language import languages
from regkit.model.engine import ENGINE
from regkit.read.places import shipped

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ENDING = ".schema.json"

Json = dict[str, Any]

DAY = {"type": "string", "format": "date"}
PARAMETERS: dict[str, Json] = {
    "lang": {"name": "lang", "in": "query", "schema": {"enum": list(languages())},
             "description": "The language of the answer; by default what Accept-Language prefers."},
    "on": {"name": "on", "in": "query", "schema": DAY,
           "description": "The day of assessment, 1900 to 2199; by default the one the case names, "
                          "else today."},
    "sent": {"name": "sent", "in": "query", "schema": DAY,
             "description": "The day the papers are to be sent; by default the day of assessment."},
    "skip": {"name": "skip", "in": "query", "style": "form", "explode": True,
             "schema": {"type": "array", "items": {"type": "string"}},
             "description": "Facts not to ask for, since the answer is not known."},
}
JUDGING = {
    "/assess": ("assess", "What applies to a case, and why", "assessment", ("on", "lang")),
    "/plan": ("plan", "In which order, by when, what waits for what", "plan", ("on", "lang")),
    "/packet/{requirement}": ("packet", "Which papers meet which need of one requirement",
                              "packet", ("on", "sent", "lang")),
    "/next-question": ("next_question", "The fact that decides most of what is still open",
                       "next-question", ("on", "skip", "lang")),
}
"""Name, summary, schema of the answer, and parameters of the endpoints that take a case."""


def openapi_document(codes: Iterable[str], root_path: str = "") -> Json:
    """Return the description.

    Args:
        codes: the jurisdictions offered.
        root_path: where the adapter is mounted.
    """
    paths: Json = {path: {"post": _judging(*about)} for path, about in JUDGING.items()}
    paths["/jurisdictions"] = {"get": _published(
        "jurisdictions", "The jurisdictions offered here", "jurisdictions")}
    paths["/facts/{jurisdiction}"] = {"get": _published(
        "facts", "What may be told of a case, as questions", "vocabulary", "jurisdiction",
        {"enum": list(codes)})}
    paths["/schemas/{name}"] = {"get": _published(
        "schema", "A published schema", "", "name", {"enum": schema_names()})}
    return {
        "openapi": "3.1.1",
        "jsonSchemaDialect": DIALECT,
        "info": {
            "title": "regkit",
            "version": ENGINE,
            "description": "What it takes to get one old vehicle lawfully onto the register, and "
                           "why. Nothing that is sent is kept. It informs, and replaces neither "
                           "the authority nor the law.",
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": root_path or "/"}],
        "paths": paths,
        "components": {"schemas": _components(), "parameters": PARAMETERS},
    }


def schema_names() -> list[str]:
    """Return the file names of the schemas of cases and answers."""
    return sorted(file.name for file in shipped("schemas").glob(f"*{ENDING}"))


def _judging(name: str, summary: str, schema: str, parameters: Sequence[str]) -> Json:
    """Return an operation that takes a case."""
    named = [{"name": "requirement", "in": "path", "required": True, "schema": {"type": "string"}}
             ] if name == "packet" else []
    refused = (400, 408, 413, 415, 422, 429, 503)
    return {
        "operationId": name,
        "summary": summary,
        "parameters": [*named, *map(_parameter, parameters)],
        "requestBody": {"required": True, "content": {
            kind: {"schema": _component("case")} for kind in ("application/json",
                                                              "application/yaml")}},
        "responses": {
            "200": {"description": summary, "headers": _headers("Content-Language"),
                    "content": {"application/json": {"schema": _component(schema)}}},
            **_problems((*refused, 404) if named else refused),
        },
    }


def _published(
    name: str, summary: str, schema: str, part: str = "", values: Json | None = None
) -> Json:
    """Return an operation that gives something that depends on the rules alone."""
    named = [{"name": part, "in": "path", "required": True, "schema": values}] if part else []
    kind = "application/json" if schema else "application/schema+json"
    content = {kind: {"schema": _component(schema) if schema else {"type": "object"}}}
    spoken = [_parameter("lang")] if schema else []
    known = {"name": "If-None-Match", "in": "header", "schema": {"type": "string"},
             "description": "The entity tag of an answer that is already there."}
    return {
        "operationId": name,
        "summary": summary,
        "parameters": [*named, *spoken, known],
        "responses": {
            "200": {"description": summary, "headers": _headers("ETag", "Cache-Control"),
                    "content": content},
            "304": {"description": "The answer that is already there still holds."},
            **_problems([429, *([404] if named else []), *([422] if spoken else [])]),
        },
    }


def _problems(statuses: Iterable[int]) -> Json:
    return {
        str(status): {
            "description": HTTPStatus(status).phrase,
            "headers": _headers("Content-Language",
                                *(["Retry-After"] if status in (429, 503) else [])),
            "content": {"application/problem+json": {"schema": _component("problem")}},
        } for status in sorted(statuses)
    }


def _headers(*names: str) -> Json:
    return {name: {"required": True, "schema": {"type": "string"}} for name in names}


def _parameter(name: str) -> Json:
    return {"$ref": f"#/components/parameters/{name}"}


def _component(name: str) -> Json:
    return {"$ref": f"#/components/schemas/{name}"}


def _components() -> Json:
    """Return all schemas of cases and answers, with references that hold in one document."""
    folder = shipped("schemas")
    return {name.removesuffix(ENDING): _embedded(
        json.loads((folder / name).read_text("utf-8")), name) for name in schema_names()}


def _embedded(part: Any, file: str) -> Any:
    """Return a part of a schema file with references that hold in one document."""
    if isinstance(part, list):
        return [_embedded(one, file) for one in part]
    if not isinstance(part, dict):
        return part
    found = {key: _embedded(value, file) for key, value in part.items() if key != "$schema"}
    if isinstance(found.get("$ref"), str):
        other, _, place = found["$ref"].partition("#")
        name = (other or file).removesuffix(ENDING)
        found["$ref"] = f"#/components/schemas/{name}{place}"
    return found
