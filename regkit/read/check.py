"""Checking plain data against a JSON Schema; each error becomes a sentence with its line.

Schemas are draft 2020-12 files in `schemas/`; they refer to each other by file name, as editors
resolve them.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator
from functools import lru_cache
from typing import Any

from regkit.language import Either, Phrase, joined, phrase
from regkit.read.places import shipped
from regkit.read.problems import Problem, hinted
from regkit.read.text import Document, Path_

_KINDS = {
    "string": "text", "integer": "a whole number", "number": "a number", "boolean": "true or false",
    "object": "a map of keys", "array": "a list", "null": "empty",
}


def check(document: Document, schema: str) -> list[Problem]:
    """Return what is wrong with a document by the schema `<schema>.schema.json`.

    Conditions are left to the condition reader, which says more about them.

    Raises:
        ImportError: jsonschema is not installed.
    """
    problems: list[Problem] = []
    errors = list(_validator(schema).iter_errors(document.data))
    strange = {tuple(e.absolute_path) for e in errors if e.validator == "additionalProperties"}
    for error in errors:
        # Where a key is unknown, what seems to be missing is most likely that key.
        if not (error.validator in ("oneOf", "anyOf") and tuple(error.absolute_path) in strange):
            problems += _problems(document, error)
    return problems


@lru_cache(maxsize=32)
def _validator(schema: str) -> Any:
    try:
        from jsonschema import Draft202012Validator
        from referencing import Registry, Resource
        from referencing.jsonschema import DRAFT202012
    except ImportError as missing:
        raise ImportError(
            "Reading rulesets and cases needs the package 'jsonschema': pip install jsonschema"
        ) from missing
    folder = (shipped("schemas") / f"{schema}.schema.json").parent
    resources = [
        (file.name, Resource.from_contents(_loose(file.name, json.loads(file.read_text("utf-8"))),
                                           default_specification=DRAFT202012))
        for file in sorted(folder.glob("*.schema.json"))
    ]
    registry: Any = Registry().with_resources(resources)
    name = f"{schema.rsplit('/', 1)[-1]}.schema.json"
    return Draft202012Validator({"$ref": name}, registry=registry)


def _loose(name: str, schema: Any) -> Any:
    return {} if name == "condition.schema.json" else schema


def _problems(document: Document, error: Any) -> Iterator[Problem]:
    path: Path_ = tuple(error.absolute_path)
    if error.validator in ("oneOf", "anyOf") and error.context:
        known = _known_keys(error)
        if known:
            yield from _unknown_keys(document, path, error.instance, known)
            return
        nearest = _nearest(error)
        if nearest is not None:
            yield from _problems(document, nearest)
            return
    if error.validator == "additionalProperties":
        yield from _unknown_keys(document, path, error.instance, error.schema.get("properties", {}))
        return
    if error.validator == "pattern" and "propertyNames" in error.absolute_schema_path:
        right = _described(error) or phrase("text that matches {pattern}",
                                            pattern=error.validator_value)
        yield document.problem((*path, error.instance), phrase(
            "the key `{key}` is not well formed; write {right}", key=error.instance, right=right))
        return
    named = [part for part in path if isinstance(part, str)]
    says = _sentence(error)
    yield document.problem(path, phrase("`{name}` {wrong}", name=named[-1], wrong=says)
                           if named else says)


def _unknown_keys(
    document: Document, path: Path_, written: Iterable[str], known: Collection[str]
) -> Iterator[Problem]:
    for key in written:
        if key not in known:
            unknown = phrase("unknown key `{key}`", key=key)
            says = hinted(unknown, key, known)
            yield document.problem((*path, key), says if says != unknown else phrase(
                "{wrong}; known here: {keys}", wrong=unknown, keys=", ".join(known)))


def _known_keys(error: Any) -> dict[str, Any]:
    """Return the keys of all alternatives, if what is written is a map with a key of none."""
    if not isinstance(error.instance, dict):
        return {}
    closed = [option for option in error.schema[error.validator]
              if isinstance(option, dict) and option.get("additionalProperties") is False]
    known = {key: None for option in closed for key in option["properties"]}
    return known if set(error.instance) - set(known) else {}


def _nearest(error: Any) -> Any | None:
    """Return the error of the alternative that fits best, None if all fail at once on type."""
    by_branch: dict[Any, list[Any]] = {}
    for inner in error.context:
        by_branch.setdefault(inner.schema_path[0], []).append(inner)
    fitting = [
        errors for errors in by_branch.values()
        if not any(e.validator in ("type", "const") and not e.relative_path for e in errors)
        and not all(e.validator == "required" for e in errors)
    ]
    if not fitting:
        return None
    return max(sorted(fitting, key=len)[0], key=lambda e: len(e.absolute_path))


def _described(error: Any) -> Phrase | None:
    """Return what the schema says should stand here; None where it says nothing."""
    text = error.schema.get("description", "") if isinstance(error.schema, dict) else ""
    return _template(text.replace("{", "{{").replace("}", "}}")) if text else None


def _template(described: str) -> Phrase:
    """Return a description as a phrase; those of a case are translated."""
    return phrase(described)


def _sentence(error: Any) -> Phrase:
    # What describes a whole file does not say what to write in its place.
    right = _described(error) if error.absolute_path else None
    value, wanted = error.instance, error.validator_value
    shown = _short(value)
    match error.validator:
        case "required":
            missing = [key for key in wanted if key not in value]
            return phrase("lacks {keys}", keys=tuple(f"`{key}`" for key in missing))
        case "type":
            kinds = wanted if isinstance(wanted, list) else [wanted]
            if kinds == ["string"] and isinstance(value, float):
                # Its value is not shown: 2026.10 has become 2026.1.
                return phrase("must be text, and is a number; put quotes around it, as it stands")
            if kinds == ["array"] and isinstance(value, str):
                return phrase("must be a list, and is text ({shown}); put it in brackets: "
                              "[{written}]", shown=shown, written=value)
            says = phrase("must be {kinds}, and is {kind}", kind=_is(value),
                          kinds=Either(tuple(phrase(_KINDS[kind]) for kind in kinds)))
        case "enum":
            words = [word for word in wanted if not isinstance(word, bool)]
            return hinted(phrase("must be one of {words}, and is {shown}", shown=shown,
                                 words=", ".join(map(str, words))), value, map(str, words))
        case "const":
            return phrase("must be {wanted}, and is {shown}", wanted=str(wanted), shown=shown)
        case "pattern":
            right = right or phrase("text that matches {pattern}", pattern=wanted)
            return phrase("is {shown}; write {right}", shown=shown, right=right)
        case "minItems" | "minProperties" | "minLength":
            return phrase("is empty; leave it out or fill it in")
        case "anyOf" if any("sources" in str(option) for option in wanted):
            return phrase("names no source; every entry, or each of its editions, needs `sources`")
        case "oneOf" if all(set(option) == {"required"} for option in wanted):
            ways = joined(*(phrase("{keys}", keys=tuple(f"`{key}`" for key in option["required"]))
                            for option in wanted))
            return phrase("takes one of these ways, and no more: {ways}", ways=ways)
        case "oneOf" | "anyOf":
            says = phrase("cannot be {shown}", shown=shown)
        case _:
            says = phrase("is wrong: {message}", message=error.message)
    return phrase("{wrong}; write {right}", wrong=says, right=right) if right else says


def _short(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=repr)
    return text if len(text) <= 60 else text[:57] + "…"


def _is(value: Any) -> Phrase:
    if value is None:
        return phrase("empty")
    kind = {bool: "boolean", int: "number", float: "number", str: "string", list: "array"}
    return phrase("{kind} ({shown})", kind=phrase(_KINDS[kind.get(type(value), "object")]),
                  shown=_short(value))
