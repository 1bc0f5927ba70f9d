"""In which case a changed number counts: a requirement that applies, a figure that is reached."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from regkit.conditions import Condition, NoneOf
from regkit.judge.law import Law
from regkit.keep.mutants import Mutant
from regkit.model.ruleset import Charge, Edition, Evidence, Need, Requirement

SINCE = timedelta(days=3)


def where_it_counts(mutant: Mutant, law: Law) -> Iterator[tuple[str, list[Condition]]]:
    """Yield each requirement by which a changed number may count, and all that must hold for it."""
    was: Any = mutant.was
    own = _own(mutant, was)
    for name, condition in law.requirements.items():
        edition = law.ruleset.requirements[name].on(law.day.on)
        if condition is not None and edition is not None:
            yield from ((name, [condition, *more, *own]) for more in _used(mutant, edition))


def _own(mutant: Mutant, was: Edition) -> list[Condition]:
    """Return what must hold for the changed figure of a charge to be the one that counts."""
    if not isinstance(was, Charge) or not isinstance(mutant.edition, Charge):
        return []
    pairs = zip(was.figures, mutant.edition.figures, strict=True)
    at = next(at for at, (before, after) in enumerate(pairs) if before != after)
    earlier = [figure.when for figure in was.figures[:at] if figure.when is not None]
    found = [condition for condition in (was.when, was.figures[at].when) if condition is not None]
    return [*found, NoneOf(tuple(earlier))] if earlier else found


def _used(mutant: Mutant, edition: Requirement) -> Iterator[list[Condition]]:
    """Yield the further conditions under which a requirement looks at what was changed."""
    if mutant.kind == "requirements":
        yield from [[]] if edition.id == mutant.entry else []
    elif mutant.kind == "charges":
        yield from [[]] if mutant.entry in (*edition.charges, *edition.late) else []
    elif mutant.kind == "evidence":
        yield from (conditions for need in edition.needs
                    for conditions in _needing(need, mutant.entry))


def _needing(need: Need, paper: str) -> Iterator[list[Condition]]:
    own = [] if need.when is None else [need.when]
    if need.evidence == paper:
        yield own
    for part in need.parts:
        yield from ([*own, *more] for more in _needing(part, paper))


def beside(mutant: Mutant, on: date, facts: dict[str, Any]) -> tuple[
        dict[str, Any], tuple[dict[str, Any], ...]]:
    """Return facts with the event that a window runs from, and the paper that must be fresh."""
    was: Any = mutant.was
    window = was.window if isinstance(was, Requirement) else None
    if window is not None and not any(name in facts for name in window.of):
        facts = {**facts, window.of[0]: str(on - SINCE)}
    fresh = was.fresh if isinstance(was, Evidence) else None
    if fresh is None:
        return facts, ()
    # The oldest that still serves, so that one less shows; one more shows a step before.
    least = fresh if "less" in mutant.mistake.says else replace(fresh, count=fresh.count + 1)
    return facts, ({"evidence": mutant.entry, "dated": str(least.before(on))},)
