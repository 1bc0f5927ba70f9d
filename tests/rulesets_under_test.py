"""The rulesets that tests run on: the invented Zedland, and every shipped one."""

from __future__ import annotations

from pathlib import Path

import regkit
from regkit.model.ruleset import Ruleset

TESTS = Path(__file__).resolve().parent
ROOT = TESTS.parent
SCHEMAS = ROOT / "schemas"
INVENTED = TESTS / "rulesets"

NAMES = ("ZZ", *regkit.jurisdictions())


def ruleset(name: str) -> Ruleset:
    """Return a ruleset by its code; ZZ is the invented one."""
    return regkit.load(INVENTED / "zz" if name == "ZZ" else name)
