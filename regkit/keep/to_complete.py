"""Worked examples ready to be completed: everything filled in but the outcome.

The outcome is what the maintainer reads out of the source. If the engine filled it in, the example
would agree with the rule however wrong that is.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from regkit.keep.boundaries import Boundary
from regkit.keep.mutation import Survivor
from regkit.language import phrase, speaker
from regkit.model.ruleset import Edition, Ruleset

_PLAIN = re.compile(r"[A-Za-z0-9._-]+( [A-Za-z0-9._-]+)*")


def at_boundary(found: Boundary, ruleset: Ruleset) -> str:
    """Return the YAML of an example for a cut-off that none touches."""
    say = speaker().say
    rule = say(found.test.rule())
    title = say(phrase("{rule}: {where}", rule=rule, where=found.where))
    side = found.where.removeprefix("the ").removeprefix("a ").replace(" ", "-")
    name = f"{found.entry}-{_id(found.test.fact.name)}-{side}"
    return _example(name, title, found.on, found.facts, found.entry, found.edition, ruleset)


def for_survivor(survivor: Survivor, ruleset: Ruleset) -> str | None:
    """Return the YAML of an example that would notice a mutant; None if no case is known."""
    if survivor.facts is None or survivor.on is None:
        return None
    mutant = survivor.mutant
    return _example(f"{mutant.entry}-notices", f"Notices: {mutant.says}", survivor.on,
                    survivor.facts, mutant.entry, mutant.was, ruleset)


def _example(
    name: str, title: str, on: date, facts: Mapping[str, Any], entry: str, edition: Edition,
    ruleset: Ruleset,
) -> str:
    kind = "definitions" if entry in ruleset.definitions else "requirements"
    outcomes = "yes, no or undecided" if kind == "definitions" else (
        "required, not required or undecided")
    return "\n".join([
        f"{name}:",
        f"  title: {_quoted(title)}",
        f"  on: {on}",
        "  facts:",
        *(f"    {fact}: {_quoted(str(value))}" for fact, value in _facts(facts, ruleset)),
        f"  expect: {{{kind}: {{{entry}: }}}}  # write: {outcomes}",
        "  basis: derived",
        f"  sources: [{', '.join(edition.sources)}]",
    ])


def _facts(facts: Mapping[str, Any], ruleset: Ruleset) -> Iterator[tuple[str, Any]]:
    """Yield the facts in the order of the vocabulary, as people read them."""
    yield from ((name, facts[name]) for name in ruleset.vocabulary if name in facts)


def _id(name: str) -> str:
    return name.replace(".", "-").replace("_", "-")


def _quoted(text: str) -> str:
    """Return a text as YAML, in quotes where it could be read as something else."""
    if _PLAIN.fullmatch(text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
