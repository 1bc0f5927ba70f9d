"""What a maintainer's editor needs of the schemas: every key explained, every file kind shown.

An editor with a YAML mode that knows JSON Schema reads the first line of a file, completes its keys
and shows their descriptions. That the schemas are valid, that an independent program reads every
shipped file by them, and that every file names its schema is tried in `test_schemas.py`.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from regkit.read.check import check
from regkit.read.folder import HEAD, KINDS
from regkit.read.text import read_text
from tests.rulesets_under_test import ROOT, SCHEMAS

FILES = [SCHEMAS / "ruleset" / f"{kind}.schema.json" for kind in (HEAD, *KINDS)]


def schema(file: Path) -> dict[str, Any]:
    """Return a schema."""
    data: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return data


def keys(part: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield every key a file may have, with what the schema says of it.

    Conditions of a schema (`if`) name keys without defining them.
    """
    if isinstance(part, list):
        for inner in part:
            yield from keys(inner, path)
    if not isinstance(part, dict):
        return
    for name, inner in part.get("properties", {}).items():
        defines = set(inner) & {"type", "enum", "oneOf", "const", "$ref"}
        if defines:
            yield f"{path}/{name}", inner
        yield from keys(inner, f"{path}/{name}")
    for name, inner in part.items():
        if name not in ("properties", "if", "examples"):
            yield from keys(inner, path)


ANYWHERE = {"text", "id", "fact", "date", "period", "money", "rate", "form"}
"""Parts that stand behind many keys: what they are does not say what a key is for."""


def explained(said: dict[str, Any], file: Path) -> bool:
    """Return whether a key has a description, its own or that of the part it refers to."""
    if said.get("description"):
        return True
    reference = said.get("$ref", "")
    if reference.rpartition("/")[2] in ANYWHERE | {"condition.schema.json"}:
        return False
    name, _, inside = reference.partition("#/")
    part: Any = schema(file.parent / name if name else file)
    for step in inside.split("/") if inside else ():
        part = part[step]
    return bool(reference) and bool(part.get("description"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_key_is_explained(file: Path) -> None:
    """Hovering over a key says what it is for."""
    assert [path for path, said in keys(schema(file)) if not explained(said, file)] == []


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_kind_of_file_has_title_description_and_example(file: Path) -> None:
    """So that the editor can say what the file is for, and show one."""
    data = schema(file)

    assert data["title"] and data["description"] and data["examples"]


@pytest.mark.parametrize("file", [*FILES, SCHEMAS / "ruleset" / "common.schema.json"],
                         ids=lambda file: file.name)
def test_every_key_stands_in_the_page_on_the_language(file: Path) -> None:
    """`docs/language.rst` leaves out no key that a file may have."""
    page = (ROOT / "docs" / "language.rst").read_text("utf-8")
    known = {path.rpartition("/")[2] for path, _ in keys(schema(file))}

    assert [key for key in sorted(known) if not re.search(rf"[`{{, \n]{re.escape(key)}[`:]", page)
            ] == []


SHOWN = {"Definitions": "definitions", "Requirements": "requirements", "Evidence": "evidence",
         "Windows": "counting", "Charges": "charges", "Facts": "facts",
         "Worked examples": "examples", "Explained survivors": "survivors", "Sources": "sources",
         "The head": HEAD}


@pytest.mark.parametrize("section", SHOWN)
def test_entries_shown_in_the_page_on_the_language_fit_their_schema(section: str) -> None:
    """A reader copies them."""
    page = (ROOT / "docs" / "language.rst").read_text("utf-8")
    body = re.split(r"\n[^\n]+\n[-=]{3,}\n", page.split(f"\n{section}\n---", 1)[1], maxsplit=1)[0]
    blocks = [textwrap.dedent(block) for block in re.findall(
        r"^\.\. code-block:: yaml\n\n((?:   .*\n|\n)+)", body, re.M)]
    whole = [block for block in blocks if block.strip().count("\n") > 1
             and not re.match(r"(window|needs|dissents|no older than):", block.strip())]

    assert whole
    for block in whole:
        assert [str(wrong) for wrong in check(read_text(block), f"ruleset/{SHOWN[section]}")] == []


def test_the_walk_finds_keys_at_every_depth() -> None:
    """Else the tests above would pass on schemas they never looked into."""
    found = {path for path, _ in keys(schema(SCHEMAS / "ruleset" / "requirements.schema.json"))}

    assert {"/window", "/window/within", "/inspects/looks at", "/why"} <= found
