"""Remarks as SARIF, so that code hosts show each beside its line.

Source: Static Analysis Results Interchange Format (SARIF) Version 2.1.0, OASIS Standard, 2020.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any
from urllib.parse import quote

from regkit.keep.lint import CHECKS, Check, Level, Remark, Report

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.TO_DO: "note"}


def sarif(reports: Iterable[Report], version: str, shown: Callable[[Path], Path]) -> dict[str, Any]:
    """Return one SARIF log of one run.

    Args:
        version: of regkit, the tool.
        shown: how a path is to be named, relative to the root of the sources.
    """
    rules = list(CHECKS)
    return {
        "$schema": SCHEMA,
        "version": "2.1.0",
        "runs": [{
            "tool": {"driver": {
                "name": "regkit", "version": version,
                "rules": [_rule(check) for check in CHECKS.values()],
            }},
            "columnKind": "unicodeCodePoints",
            "results": [
                _result(remark, shown(report.path(remark)), rules.index(remark.code))
                for report in reports for remark in report.remarks
            ],
        }],
    }


def _rule(check: Check) -> dict[str, Any]:
    return {
        "id": check.code,
        "shortDescription": {"text": check.finds},
        "defaultConfiguration": {"level": LEVELS[check.level]},
    }


def _result(remark: Remark, path: Path, rule: int) -> dict[str, Any]:
    place: dict[str, Any] = {"artifactLocation": {"uri": quote(path.as_posix())}}
    if remark.line:
        place["region"] = {"startLine": remark.line}
    right = f"; {remark.right}" if remark.right else ""
    return {
        "ruleId": remark.code,
        "ruleIndex": rule,
        "level": LEVELS[remark.level],
        "message": {"text": f"{remark.text}{right}"},
        "locations": [{"physicalLocation": place}],
    }
