"""What changes by itself as days pass, for a case that stays as it is. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from regkit.language import Phrase, Text


@dataclass(frozen=True, slots=True)
class Change:
    """One answer that is another one from a day on.

    Attributes:
        on: the first day of the new answer; None for an announced rule without a day.
        kind: `class`, `requirement`, `deadline`, `progress`, `charge` or `late`.
        id: the identifier of the class, requirement or charge.
        before, after: the answers; empty where there was, or is, none.
        why: what decides the new answer.
        announced: whether it rests on a rule that is announced and not enacted: it may change.
        act: the requirement that this wakes: what to do, since nothing of it happens by itself.
    """

    on: date | None
    kind: str
    id: str
    title: Text
    before: Phrase
    after: Phrase
    why: Phrase
    announced: bool = False
    act: str = ""


@dataclass(frozen=True)
class Ahead:
    """All changes of a case after one day and up to another, the earliest first.

    Attributes:
        looked_at: how many days had to be assessed to find them.
    """

    on: date
    until: date
    changes: tuple[Change, ...]
    looked_at: int = 0

    def about(self, name: str) -> tuple[Change, ...]:
        """Return the changes of one class, requirement or charge."""
        return tuple(change for change in self.changes if change.id == name)
