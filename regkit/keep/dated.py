"""First and last days, each a day too early or too late; and what is other on the day between."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Generic, TypeVar

from regkit.model.ruleset import Dissent, Edition, History

ONE_DAY = timedelta(days=1)
_MOVES = {"a day earlier": -ONE_DAY, "a day later": ONE_DAY}

_ASKED: Mapping[str, tuple[str, ...]] = {
    "definitions": (),
    "requirements": ("window", "needs", "charges", "late"),
    "charges": ("when", "figures", "rounding", "currency"),
    "counting": ("day_of_event", "rest_day", "holidays", "special_days", "least_working", "season"),
    "evidence": ("form", "fresh", "named", "stands_in_for", "charges"),
    "routes": ("when", "facts"),
}
"""What an example can ask of an entry, beside when a definition holds or a requirement applies."""

D = TypeVar("D", bound=Edition | Dissent)


@dataclass(frozen=True)
class Misdated(Generic[D]):
    """An edition or dissent that begins or ends a day early or late.

    Attributes:
        day: the only day on which it differs.
    """

    says: str
    changed: D
    day: date


def misdated(dated: D) -> Iterator[Misdated[D]]:
    """Yield an edition or dissent with its first or its last day moved."""
    for says, by in _MOVES.items():
        if dated.first is not None:
            first = dated.first + by
            yield Misdated(f"first day, {says}", replace(dated, first=first),
                           min(dated.first, first))
        if dated.last is not None:
            last = dated.last + by
            yield Misdated(f"last day, {says}", replace(dated, last=last), max(dated.last, last))


def has_days(dated: Edition | Dissent) -> bool:
    """Return whether it is in force on any day at all."""
    return dated.first is None or dated.last is None or dated.first <= dated.last


def follows(before: Edition, after: Edition) -> bool:
    """Return whether an enacted edition follows on another without a day between."""
    return (before.state == after.state == "enacted" and before.last is not None
            and before.last + ONE_DAY == after.first)


def more_is_other(kind: str, before: History[Any], after: History[Any], day: date) -> bool:
    """Return whether an example could ask, of a day, for more than a condition that is other.

    Where only one of two has an edition of a definition or requirement, its condition tells.
    """
    one, other = _counts(kind, before, day), _counts(kind, after, day)
    if one is None or other is None:
        return one is not other and kind not in ("definitions", "requirements")
    return any(getattr(one, name) != getattr(other, name) for name in _ASKED[kind]) or (
        _speaking(one, day) != _speaking(other, day))


def _counts(kind: str, history: History[Any], day: date) -> Any:
    """Return the edition that counts on a day; of papers and of counting, else the latest."""
    return history.on(day) or (history.latest if kind in ("counting", "evidence") else None)


def _speaking(edition: Any, day: date) -> list[Any]:
    dissents = getattr(edition, "dissents", ())
    return [dissent.when for dissent in dissents if dissent.in_force(day)]
