"""In which case a changed number counts: a requirement that applies, a figure that is reached."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from regkit.conditions import All, AnyOf, Condition, NoneOf
from regkit.conditions.kinds.moment import Moment
from regkit.judge.freshness import oldest_good
from regkit.judge.law import Law
from regkit.keep.comes_to import levies
from regkit.keep.mistakes import ALWAYS
from regkit.keep.mutants import Mutant
from regkit.model.ruleset import Charge, Edition, Evidence, Need, Requirement

SINCE = timedelta(days=3)


def where_it_counts(mutant: Mutant, law: Law) -> Iterator[tuple[str, list[Condition]]]:
    """Yield each requirement by which a changed number may count, and all that must hold for it."""
    was: Any = mutant.was
    own = [*_on_the_day(mutant), *_own(mutant, was), *_of_the_charge(mutant, law),
           *_of_the_paper(was, mutant.edition)]
    for name, condition in law.requirements.items():
        history = law.ruleset.requirements[name]
        now = history.editions if history.governed_by else (history.on(law.day.on),)
        for edition in now:
            if edition is not None and condition is not None:
                yield from ((name, [condition, *more, *own]) for more in _used(mutant, edition))


def _on_the_day(mutant: Mutant) -> Iterator[Condition]:
    """Yield that the event an entry goes by is on the only day on which it differs."""
    day, fact = mutant.mistake.day, mutant.goes_by
    if fact and day is not None:
        yield Moment(mutant.original.vocabulary[fact],
                     (("on or after", day), ("on or before", day)))


def _of_the_charge(mutant: Mutant, law: Law) -> Iterator[Condition]:
    """Yield the condition of a charge that was left out of what names it."""
    charge = law.ruleset.charges.get(mutant.mistake.item)
    edition = charge.on(law.day.on) if charge is not None else None
    if edition is not None and edition.when is not None:
        yield edition.when


def _own(mutant: Mutant, was: Edition) -> list[Condition]:
    """Return what must hold for the changed figure of a charge to be the one that counts."""
    if not isinstance(was, Charge) or not isinstance(mutant.edition, Charge):
        return []
    if mutant.mistake.day is not None:
        return [] if was.when is None else [was.when]
    pairs = zip(was.figures, mutant.edition.figures, strict=True)
    at = next(at for at, (before, after) in enumerate(pairs) if before != after)
    earlier = [figure.when for figure in was.figures[:at] if figure.when is not None]
    found = [condition for condition in (was.when, was.figures[at].when) if condition is not None]
    return [*found, NoneOf(tuple(earlier))] if earlier else found


def _of_the_paper(was: Edition, now: Edition | None) -> Iterator[Condition]:
    """Yield what must hold for the changed period of a paper, or condition of one, to matter."""
    if not isinstance(was, Evidence) or not isinstance(now, Evidence) or was.fresh == now.fresh:
        return
    at = next(at for at, fresh in enumerate(was.fresh) if fresh != now.fresh[at])
    before, after = was.fresh[at].when or ALWAYS, now.fresh[at].when or ALWAYS
    yield before if before == after else AnyOf((
        All((before, NoneOf((after,)))), All((after, NoneOf((before,))))))
    if at:
        yield NoneOf(tuple(fresh.when or ALWAYS for fresh in was.fresh[:at]))


def _used(mutant: Mutant, edition: Requirement) -> Iterator[list[Condition]]:
    """Yield the further conditions under which a requirement looks at what was changed."""
    if mutant.kind == "requirements":
        yield from [[]] if edition.id == mutant.entry else []
    elif mutant.kind == "charges":
        yield from [[]] if levies(mutant.original, edition, mutant.entry) else []
    elif mutant.kind == "evidence":
        yield from [[]] if mutant.entry in edition.gives else []
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
    now: Any = mutant.edition
    if not isinstance(was, Evidence) or not isinstance(now, Evidence) or was.fresh == now.fresh:
        return facts, ()
    moved = [period for before, after in zip(was.fresh, now.fresh, strict=True)
             if before.period != after.period for period in (before.period, after.period)]
    leap_day = mutant.original.leap_day
    # The oldest that still serves by the longest of what may count on either side.
    dated = min(oldest_good(on, period, leap_day)
                for period in moved or [fresh.period for fresh in was.fresh])
    return facts, ({"evidence": mutant.entry, "dated": str(dated)},)
