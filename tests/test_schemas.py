"""The published schemas, and that every file they speak of fits them, by validators not our own."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource
from referencing.jsonschema import DRAFT202012
from ruamel.yaml import YAML

import regkit
from regkit.keep.condition_schema import condition_schema
from regkit.read.folder import HEAD, KINDS
from regkit.read.text import read_file
from tests.rulesets_under_test import INVENTED, ROOT, SCHEMAS, ruleset
from tests.schema_examples import made

FILES = sorted(SCHEMAS.rglob("*.schema.json"))
RULESETS = [folder for root in (ROOT / "rulesets", INVENTED) for folder in sorted(root.iterdir())
            if folder.is_dir()]


def schema(file: Path) -> dict[str, Any]:
    """Return a schema."""
    data: dict[str, Any] = json.loads(file.read_text("utf-8"))
    return data


def validator(file: Path) -> Draft202012Validator:
    """Return the validator of a schema, its references resolved beside it by file name."""
    registry: Registry[Any] = Registry().with_resources([
        (other.name, Resource.from_contents(schema(other), default_specification=DRAFT202012))
        for other in file.parent.glob("*.schema.json")
    ])
    return Draft202012Validator({"$ref": file.name}, registry=registry)


def names(file: Path) -> str:
    """Return the name of a schema file within its folder."""
    return str(file.relative_to(SCHEMAS))


@pytest.mark.parametrize("file", FILES, ids=names)
def test_every_schema_is_valid_draft_2020_12(file: Path) -> None:
    """Against the meta-schema, which it names; with a title."""
    data = schema(file)
    Draft202012Validator.check_schema(data)

    assert data["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert data["title"]


@pytest.mark.parametrize("file", FILES, ids=names)
def test_examples_inside_schemas_fit_them(file: Path) -> None:
    """What the schema shows as an example is one."""
    for example in schema(file).get("examples", ()):
        assert not [error.message for error in validator(file).iter_errors(example)]


@pytest.mark.parametrize("name", ["assessment", "plan", "changes"])
def test_examples_inside_schemas_are_what_the_program_makes(name: str) -> None:
    """Run again, each comes out as it stands there.

    If this fails after a change of shape: python -m tests.schema_examples
    """
    assert schema(SCHEMAS / f"{name}.schema.json")["examples"] == [made()[name]]


def test_the_example_of_a_case_can_be_assessed() -> None:
    """By the ruleset it names."""
    (example,) = schema(SCHEMAS / "case.schema.json")["examples"]

    assert regkit.assess(regkit.read_case(example), regkit.load(example["jurisdiction"]),
                         date(2026, 4, 1)).findings


def test_every_kind_of_file_has_a_schema() -> None:
    """No file of a ruleset goes unchecked, and editors can complete each."""
    assert {f"{kind}.schema.json" for kind in (HEAD, *KINDS)} <= {
        file.name for file in (SCHEMAS / "ruleset").glob("*.json")}


def test_the_schema_of_conditions_is_put_together_from_the_kinds_of_test() -> None:
    """Adding a kind of test cannot leave the editors behind.

    If this fails: python -m regkit.keep.condition_schema > schemas/ruleset/condition.schema.json
    """
    assert schema(SCHEMAS / "ruleset" / "condition.schema.json") == condition_schema()


def by_kind(folder: Path) -> list[tuple[str, list[Path]]]:
    """Return the files of a ruleset folder by kind."""
    found = []
    for kind in (HEAD, *KINDS):
        files = [folder / f"{kind}.yaml"] if (folder / f"{kind}.yaml").is_file() else []
        files += sorted((folder / kind).glob("*.yaml"))
        if files:
            found.append((kind, files))
    return found


@cache
def independent(kind: str) -> jsonschema_rs.Draft202012Validator:
    """Return the validator of a kind of file, which shares no code with the one regkit uses."""
    registry = jsonschema_rs.Registry(
        [(other.name, schema(other)) for other in (SCHEMAS / "ruleset").glob("*.schema.json")])
    return jsonschema_rs.Draft202012Validator(
        {"$ref": f"{kind}.schema.json"}, registry=registry, base_uri="json-schema:///")


def as_an_editor_reads(file: Path) -> Any:
    """Return the data of a YAML file by ruamel.yaml; dates stay text, as in JSON."""
    reader = YAML(typ="safe")
    reader.constructor.add_constructor(
        "tag:yaml.org,2002:timestamp", lambda loader, node: loader.construct_scalar(node))
    return reader.load(file.read_text("utf-8"))


@pytest.mark.parametrize("folder", RULESETS, ids=lambda folder: folder.name)
def test_files_fit_their_schema_for_an_independent_validator(folder: Path) -> None:
    """Another reader of YAML and a validator in another language agree: what an editor sees."""
    for kind, files in by_kind(folder):
        for file in files:
            wrong = [(error.message, error.instance_path)
                     for error in independent(kind).iter_errors(as_an_editor_reads(file))]
            assert wrong == [], file


@pytest.mark.parametrize(("changed", "place"), [
    ({"checked": "next spring"}, ["checked"]),
    ({"kind": "rumour"}, ["kind"]),
    ({"citation": 7}, ["citation"]),
    ({"colour": "blue"}, []),
])
def test_the_independent_validator_sees_mistakes(
    changed: dict[str, Any], place: list[str]
) -> None:
    """In an entry that fits as it stands: no day, no such word, a wrong type, no such key."""
    (file, *_) = dict(by_kind(INVENTED / "zz"))["sources"]
    name, entry = next(iter(as_an_editor_reads(file).items()))

    assert independent("sources").is_valid({name: entry})
    assert [error.instance_path for error in independent("sources").iter_errors(
        {name: {**entry, **changed}})] == [[name, *place]]


@pytest.mark.parametrize("folder", RULESETS, ids=lambda folder: folder.name)
def test_files_name_their_schema_on_the_first_line(folder: Path) -> None:
    """So that editors complete and explain; the path leads to the schema of this kind."""
    for kind, files in by_kind(folder):
        for file in files:
            first = file.read_text("utf-8").splitlines()[0]
            prefix = "# yaml-language-server: $schema="
            assert first.startswith(prefix), file
            target = (file.parent / first.removeprefix(prefix)).resolve()
            assert target.name == f"{kind}.schema.json", file
            if ROOT / "rulesets" in file.parents:
                assert target == SCHEMAS / "ruleset" / f"{kind}.schema.json", file


def _keys(data: dict[str, Any]) -> set[str]:
    """Return the keys an entry of a kind may have, or the head."""
    entry = data.get("$defs", {}).get("entry") or data.get("additionalProperties") or data
    return set(entry["properties"])


def _used(kind: str) -> set[str]:
    """Return the keys that entries of Zedland, or their editions, have."""
    used: set[str] = set()
    for name, files in by_kind(INVENTED / "zz"):
        for file in files if name == kind else ():
            data = read_file(file).data
            for entry in [data] if kind == HEAD else data.values():
                used |= set(entry)
                used |= {key for edition in entry.get("editions", ()) for key in edition}
    return used


@pytest.mark.parametrize("kind", ["definitions", "requirements", "sources", "questions", "renamed"])
def test_zedland_uses_every_key(kind: str) -> None:
    """The invented ruleset tries each key an entry can have, so that a key nobody reads shows."""
    assert _keys(schema(SCHEMAS / "ruleset" / f"{kind}.schema.json")) - _used(kind) == set()


def test_zedland_loads() -> None:
    """Else the tests that rest on it would prove nothing."""
    assert ruleset("ZZ").jurisdiction == "ZZ"
