"""By when something must be done, how far it has come, and what lateness costs. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import TYPE_CHECKING

from regkit.language import Phrase, Text, plural

if TYPE_CHECKING:
    from regkit.model.bill import Amount


class Progress(StrEnum):
    """How far a requirement has come on the day of assessment."""

    TO_DO = "to do"
    PERHAPS_OVERDUE = "perhaps overdue"
    OVERDUE = "overdue"
    DONE = "done"
    PERHAPS_DONE_LATE = "perhaps done late"
    DONE_LATE = "done late"

    @property
    def finished(self) -> bool:
        """Whether it has been done, in time or not."""
        return self in (Progress.DONE, Progress.PERHAPS_DONE_LATE, Progress.DONE_LATE)


@dataclass(frozen=True, slots=True)
class Fulfilment:
    """What shows that a requirement has been met.

    Attributes:
        on: the day it was met; None where only an undated paper shows it.
        reference: the reference the case gives for it.
        evidence: the paper that shows it; empty where the case's list of done steps does.
        until: the last day on which it counts; then it is to be met again. None for ever.
    """

    on: date | None
    reference: str = ""
    evidence: str = ""
    until: date | None = None


@dataclass(frozen=True, slots=True)
class DaysLate:
    """How many days after the last day, at least and at most; 0 is in time.

    Attributes:
        due: the last day by the safe reading, from which `most` is counted.
        acted: the day of the act, or of the assessment while nothing was done.
        running: whether the count still grows.
    """

    least: int
    most: int
    due: date
    acted: date
    running: bool

    def said(self) -> Phrase:
        """Return the words for this lateness."""
        if self.least == self.most:
            return plural("{count} day late", "{count} days late", count=self.most)
        return plural("{least} to {count} day late", "{least} to {count} days late",
                      count=self.most, least=self.least)


@dataclass(frozen=True, slots=True)
class LateCharge:
    """What a charge or penalty for lateness comes to on the day of assessment.

    Attributes:
        amount: exact, or the range that the case and the rule leave open.
        certain: whether the conditions of the charge are met; else it may be charged.
        grows: whether it still grows from day to day or step to step.
    """

    charge: str
    title: Text
    amount: Amount
    certain: bool
    grows: bool
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Deadline:
    """The last day of a window.

    Attributes:
        event: the date fact the window runs from; empty while none of them is told.
        event_day: the day of that event in words, which may be inexact; None likewise.
        at_once: whether the rule says 'forthwith' and names no number of days.
        first: the last day by the safe reading and the earliest possible event; act by this day.
            None while it cannot be told.
        last: the last day by the mildest reading and the latest possible event; None if open.
        days_left: days from the day of assessment to `first`, negative once it has passed; None
            where it is done or cannot be told.
        overdue_since: the first day after `first`, once that has passed and nothing was done.
        late: how late it is, or was; None where that cannot be told.
        charges: what lateness costs, by the charges the ruleset states for it.
        notes: what to know about the count: a safe reading, a day that is estimated, who may
            extend it.
        sources: identifiers of the sources of the counting rule and of overridden days.
        calendar: the version of the holiday calendar used; empty where none was.
    """

    event: str
    at_once: bool
    first: date | None
    last: date | None
    days_left: int | None = None
    overdue_since: date | None = None
    late: DaysLate | None = None
    charges: tuple[LateCharge, ...] = ()
    notes: tuple[Phrase, ...] = ()
    sources: tuple[str, ...] = ()
    calendar: str = ""
    event_day: Phrase | None = None

    @property
    def exact(self) -> bool:
        """Whether there is exactly one last day."""
        return self.first is not None and self.first == self.last
