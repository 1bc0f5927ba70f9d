'''What it takes to get one old vehicle lawfully onto the register, and why.

Four things to know: a `Ruleset` is the law of a jurisdiction as data; a `Case` is what is told
about one vehicle; `assess` judges the one by the other on a day; the `Assessment` says what
applies, with a `Finding` for each requirement, explained to its source.

    >>> from datetime import date
    >>> import regkit
    >>> "GB" in regkit.jurisdictions()
    True
    >>> ruleset = regkit.load("GB")
    >>> case = regkit.read_case({
    ...     "jurisdiction": "GB",
    ...     "facts": {"vehicle.kind": "motorcycle", "vehicle.built": "1962~"},
    ... })
    >>> assessment = regkit.assess(case, ruleset, on=date(2026, 4, 1))
    >>> [c.outcome.value for c in assessment.classes
    ...  if c.id == "exempt-from-vehicle-tax-by-age"]
    ['yes']

Shape is versioned semantically, rulesets by calendar; see the promises in the documentation.
Importing this module imports no third-party package.
'''

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from regkit.judge.assess import assess
from regkit.model.assessment import Assessment, Finding
from regkit.model.case import Case
from regkit.model.engine import ENGINE
from regkit.model.ruleset import Ruleset
from regkit.read.problems import Unreadable

__version__ = ENGINE

__all__ = [
    "Assessment",
    "Case",
    "Finding",
    "Ruleset",
    "Unreadable",
    "assess",
    "jurisdictions",
    "load",
    "read_case",
    "report",
]


def load(where: str | Path) -> Ruleset:
    """Return a ruleset by its code (GB), as a released version (GB@2026.1), or from a folder.

    Raises:
        Unreadable: there is no such ruleset or something in it is wrong; every problem is listed
            with file and line, and nothing was taken.
    """
    from regkit.read.ruleset import read_ruleset

    return read_ruleset(where)


def read_case(source: str | Path | Mapping[str, Any], ruleset: Ruleset | None = None) -> Case:
    """Return the case in a YAML or JSON file, or given as a mapping of the same shape.

    Args:
        source: a path, or a mapping with `jurisdiction` and `facts`.
        ruleset: that of its jurisdiction, if it is not the shipped one.

    Raises:
        Unreadable: something in it is wrong; every problem is listed, and nothing was taken.

    >>> read_case({"jurisdiction": "GB", "facts": {"vehicle.biult": "1962"}})
    Traceback (most recent call last):
    regkit.read.problems.Unreadable: <case>:1: the vocabulary has no fact `vehicle.biult` \
(did you mean `vehicle.built`?)
    """
    from regkit.read.case import read_case

    return read_case(source, ruleset)


def jurisdictions() -> tuple[str, ...]:
    """Return the codes of the jurisdictions whose rulesets ship with this version."""
    from regkit.read.ruleset import available

    return available()


def report(assessment: Assessment, language: str = "en") -> str:
    """Return the report of an assessment for its keeper: one HTML file that needs nothing else.

    What to do now and by when, papers, bill, reasons that unfold, sources; for screen and paper.

    Args:
        language: en, de or sv, also as a tag such as de-AT.

    Raises:
        ImportError: the package jinja2 or babel is not installed; the message says which.
        ValueError: the language is none of these.
    """
    from regkit.show.report import report

    return report(assessment, language)
