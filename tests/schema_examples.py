"""The examples inside the published schemas: what the program makes of one small invented case.

``python -m tests.schema_examples`` writes them anew after a change of shape.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import regkit
from regkit.compare.changes import compare
from regkit.model.changes_document import changes_document
from regkit.model.plan_document import plan_document
from regkit.read.ruleset import read_ruleset
from tests.small_ruleset import DEFINITIONS, write

SCHEMAS = Path(__file__).resolve().parent.parent / "schemas"
ON = date(2026, 4, 1)
CASE = {"jurisdiction": "QA", "facts": {"thing.made": "1959/1960", "thing.kind": "cart"}}
LATER = DEFINITIONS.replace("1960-01-01", "1960-01-02")


def made() -> Mapping[str, Any]:
    """Return for each schema what the program makes now."""
    with tempfile.TemporaryDirectory() as folder:
        old = read_ruleset(write(Path(folder, "old")))
        new = read_ruleset(write(Path(folder, "new"), definitions=LATER))
        read_ruleset.cache_clear()
    case = regkit.read_case(CASE, old)
    assessment = regkit.assess(case, old, ON)
    changes = compare(old, new, ON, date(2026, 12, 31), ON)
    found = {
        "assessment": assessment.to_dict(),
        "plan": plan_document(assessment),
        "changes": changes_document(changes),
    }
    return {name: json.loads(json.dumps(document)) for name, document in found.items()}


def file(name: str) -> Path:
    """Return the schema that a document follows."""
    return SCHEMAS / f"{name}.schema.json"


if __name__ == "__main__":
    for one, document in made().items():
        data = json.loads(file(one).read_text("utf-8"))
        data["examples"] = [document]
        file(one).write_text(json.dumps(data, ensure_ascii=False, indent=2) + "\n", "utf-8")
