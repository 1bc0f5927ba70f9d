"""The JSON Schema of conditions, put together from the kinds of test.

    python -m regkit.keep.condition_schema > schemas/ruleset/condition.schema.json

A test holds the file against this, so adding a kind of test cannot leave the editors behind.
"""

from __future__ import annotations

import json
from typing import Any

from regkit.conditions.kinds import KINDS


def condition_schema() -> dict[str, Any]:
    """Return the schema of a condition (JSON Schema, draft 2020-12)."""
    group = {"type": "array", "items": {"$ref": "#"}, "minItems": 1}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A condition",
        "description": "all, any or none of several conditions, a definition, an open question, "
        "or a test on one fact",
        "type": "object",
        "minProperties": 1,
        "maxProperties": 1,
        "properties": {
            "all": {**group, "description": "holds if every one holds"},
            "any": {**group, "description": "holds if at least one holds"},
            "none": {**group, "description": "holds if not one holds"},
            "holds": {"type": "string", "description": "the name of a definition"},
            "question": {
                "type": "string",
                "description": "the name of an open question: always undecided",
            },
        },
        "patternProperties": {
            r"^[a-z_]+(\.[a-z_0-9]+)+$": {
                "description": "a test on this fact",
                "anyOf": [kind.schema for kind in KINDS],
            }
        },
        "additionalProperties": False,
        "examples": [
            {"all": [{"vehicle.kind": "motorcycle"}, {"vehicle.built": {"before": "1980-01-01"}}]}
        ],
    }


def main() -> None:
    """Print the schema."""
    print(json.dumps(condition_schema(), indent=2, ensure_ascii=False))


if __name__ == "__main__":
    main()
