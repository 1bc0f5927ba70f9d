"""What differs between two rulesets, or between the law of two days. Frozen values."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any

from regkit.language import Phrase, Text


class Reach(StrEnum):
    """When, and whether, a change changes an answer."""

    FROM_NOW_ON = "from now on"
    BACK_DATED = "back-dated"
    NAMES_ONLY = "names only"
    WORDS_ONLY = "words only"


@dataclass(frozen=True, slots=True)
class Witness:
    """A vehicle for which two sides differ: the facts of a case as written, and a day."""

    facts: Mapping[str, Any]
    on: date


@dataclass(frozen=True, slots=True)
class Limit:
    """What one fact must be for a vehicle to lie in a region.

    Attributes:
        says, says_later: the words on the first and on the last day; they differ where a limit
            moves with the day of assessment.
        spans: for a date, first and last day of each span of it on the first day; None is open.
        spans_later: the same on the last day.
        label: for a date, its name.
    """

    key: str
    says: Phrase
    says_later: Phrase
    spans: tuple[tuple[date | None, date | None], ...] = ()
    spans_later: tuple[tuple[date | None, date | None], ...] = ()
    label: Phrase | None = None

    @property
    def moves(self) -> bool:
        """Whether it moves with the day of assessment."""
        return self.says != self.says_later


@dataclass(frozen=True, slots=True)
class Region:
    """All vehicles and days of assessment for which one outcome became another.

    Attributes:
        before, after: the outcome on either side.
        limits: what must hold of the vehicle; none is every vehicle.
        days: first and last days of assessment, in order and without overlap.
    """

    before: str
    after: str
    limits: tuple[Limit, ...]
    days: tuple[tuple[date, date], ...]
    witness: Witness | None


@dataclass(frozen=True, slots=True)
class Effect:
    """How the answers on one entry differ.

    Attributes:
        kind: `requirement`, `definition`, `window`, `need` or `charge`.
        item: which window, need or figure it is about; None for the entry itself.
        complete: whether all regions are listed; false where they were too many or too large, or
            where a region that is empty on its first day was not tried on every later one.
    """

    kind: str
    id: str
    title: Text
    item: Phrase | None
    regions: tuple[Region, ...]
    complete: bool = True

    def reach(self, today: date) -> Reach:
        """Return whether it changes answers for days before `today`."""
        first = min((start for region in self.regions for start, _ in region.days),
                    default=today)
        return Reach.BACK_DATED if first < today else Reach.FROM_NOW_ON


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field of an entry as written before and after; None where it was not there."""

    field: str
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class EntryChange:
    """What was changed in the writing of one entry.

    Attributes:
        kind: the file it stands in, such as `requirements`.
        what: `added`, `removed`, `changed` or `renamed`.
        was: the old identifier of one that was renamed.
    """

    kind: str
    id: str
    what: str
    fields: tuple[FieldChange, ...] = ()
    was: str = ""

    @property
    def touches_more(self) -> bool:
        """Whether it changes what an answer shows beside its outcomes, which alone are compared."""
        return self.kind in ("routes", "crosschecks") or any(
            name in _BESIDE for change in self.fields
            for name in (*_STEP.split(change.field), *_keys(change.before), *_keys(change.after)))


_BESIDE = frozenset({
    "dissents", "gives", "takes", "inspects", "late", "charges", "stage", "authority", "as",
    "no older than", "named", "shows", "stands in for", "from outside", "language", "class",
    "no later than", "known from", "question",
})


_STEP = re.compile(r"[.\[\]]+")


def _keys(written: Any) -> Iterator[str]:
    """Yield the keys at every depth of a written value."""
    if isinstance(written, dict):
        yield from written
    for inner in written.values() if isinstance(written, dict) else (
            written if isinstance(written, list) else ()):
        yield from _keys(inner)


@dataclass(frozen=True, slots=True)
class CaseChange:
    """An answer that differs for one of the cases that were given."""

    case: str
    on: date
    kind: str
    id: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a comparison."""

    label: str
    jurisdiction: str
    version: str
    digest: str


@dataclass(frozen=True, slots=True)
class Changes:
    """Everything that differs between two sides.

    Attributes:
        first, last: the days of assessment that were compared, all of them.
        today: what 'from now on' counts from.
        compared: how many outcomes were compared.
        cases: answers that differ for the cases that were given, out of `tried`.
    """

    old: Side
    new: Side
    first: date
    last: date
    today: date
    compared: int
    effects: tuple[Effect, ...]
    entries: tuple[EntryChange, ...]
    cases: tuple[CaseChange, ...] = ()
    tried: int = 0

    @property
    def no_difference(self) -> bool:
        """Whether it is proven that no case is answered differently on any day compared."""
        return not self.effects

    def entry_reach(self, entry: EntryChange) -> Reach | None:
        """Return whether an entry's change is one of names or words; None if it may be more."""
        if entry.what == "renamed" and not entry.fields:
            return Reach.NAMES_ONLY
        return None if self.effects or entry.touches_more else Reach.WORDS_ONLY
