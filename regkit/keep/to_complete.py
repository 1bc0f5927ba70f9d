"""Worked examples ready to be completed: everything filled in but the outcome.

The outcome is what the maintainer reads out of the source. If the engine filled it in, the example
would agree with the rule however wrong that is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from regkit.keep.boundaries import Boundary
from regkit.keep.mutants import Mutant
from regkit.keep.mutation import Survivor
from regkit.keep.telling import Told
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
    kind = "definitions" if found.entry in ruleset.definitions else "requirements"
    return _example(name, title, found.on, found.facts, f"{{{kind}: {{{found.entry}: }}}}",
                    _OUTCOMES[kind], found.edition, ruleset)


def for_survivor(survivor: Survivor, ruleset: Ruleset) -> str | None:
    """Return the YAML of an example that would notice a mutant; None if no case is known."""
    told, mutant = survivor.told, survivor.mutant
    if told.facts is None or told.on is None:
        return None
    expect, outcomes = _asked(mutant, told)
    return _example(f"{mutant.entry}-notices", f"Notices: {mutant.says}", told.on, told.facts,
                    expect, outcomes, mutant.was, ruleset, told.papers)


def _asked(mutant: Mutant, told: Told) -> tuple[str, str]:
    """Return what an example must expect to notice a mutant, its outcome left out."""
    part = mutant.mistake.parts[0] if mutant.mistake.parts else mutant.kind
    if mutant.kind == "counting":
        part, period = "periods", f"10 days from {told.on}"
        return f"{{{part}: {{{mutant.entry}: {{{period}: }}}}}}", _OUTCOMES[part]
    if part == "papers":
        requirement = told.requirement or mutant.entry
        if mutant.kind == "evidence" and any(
                mutant.entry in edition.gives
                for edition in mutant.original.requirements[requirement].editions):
            return f"{{done: {{{requirement}: }}}}", _OUTCOMES["done"]
        return f"{{papers: {{{requirement}: {{{mutant.mistake.item}: }}}}}}", _OUTCOMES[part]
    about = mutant.mistake.item if part == "charges" and mutant.mistake.item else mutant.entry
    return f"{{{part}: {{{about}: }}}}", _OUTCOMES[part]


_OUTCOMES = {
    "definitions": "yes, no or undecided",
    "requirements": "required, not required or undecided",
    "windows": "the last day, such as 2026-04-14",
    "periods": "the last day, such as 2026-04-14",
    "papers": "needed, one of several, undecided, not needed, in order or not in order",
    "done": "yes or no",
    "charges": "the amount, such as 55 GBP",
    "cautions": "yes or no",
    "routes": "yes, no or undecided",
}


def _example(
    name: str, title: str, on: date, facts: Mapping[str, Any], expect: str, outcomes: str,
    edition: Edition, ruleset: Ruleset, papers: Iterable[Mapping[str, Any]] = (),
) -> str:
    written = [f"    {fact}: {_quoted(str(value))}" for fact, value in _facts(facts, ruleset)]
    held = [f"{{{', '.join(f'{key}: {value}' for key, value in paper.items())}}}"
            for paper in papers]
    return "\n".join([
        f"{name}:",
        f"  title: {_quoted(title)}",
        f"  on: {on}",
        *(["  facts:", *written] if written else ["  facts: {}"]),
        *([f"  papers: [{', '.join(held)}]"] if held else []),
        f"  expect: {expect}  # write: {outcomes}",
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
