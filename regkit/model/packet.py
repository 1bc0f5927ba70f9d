"""The packet: the papers of one application, each need with what meets it, and what does not agree.

Frozen values; `judge.packet` makes them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from regkit.language import Phrase, Text
from regkit.model.assessment import Finding
from regkit.model.case import Paper
from regkit.model.comparison import PaperTrouble
from regkit.model.ruleset import Authority, Evidence, Need, Source


class NeedState(StrEnum):
    """Whether a need for evidence is met."""

    IN_ORDER = "in order"
    NOT_IN_ORDER = "not in order"
    MISSING = "missing"
    OPEN = "cannot be told"
    NOT_NEEDED = "not needed"


class FaultKind(StrEnum):
    """What is wrong with a paper, or cannot be told of it."""

    STALE = "too old"
    STALE_WHEN_SENT = "too old when it is sent"
    PERHAPS_STALE = "perhaps too old"
    NOT_YET_ISSUED = "dated in the future"
    FORM = "wrong form"
    NAMED = "wrongly named"
    UNDATED = "date not known"
    UNNAMED = "name not known"

    @property
    def certain(self) -> bool:
        """Whether the paper cannot be used; else it only cannot be told."""
        return self not in (FaultKind.PERHAPS_STALE, FaultKind.UNDATED, FaultKind.UNNAMED)


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong with a paper for a need."""

    kind: FaultKind
    says: Phrase


@dataclass(frozen=True)
class Offered:
    """A paper, or a step already taken, that is offered for a need.

    Attributes:
        paper: the paper; None where a step in the case's `done` list gave the evidence.
        title: what it is.
        stands_in: whether it stands in for the evidence that is asked for.
        reminders: what else the paper has to be, which nothing in the case can show.
    """

    title: Text
    paper: Paper | None
    faults: tuple[Fault, ...] = ()
    stands_in: bool = False
    reminders: tuple[Phrase, ...] = ()

    @property
    def in_order(self) -> bool:
        """Whether nothing is wrong with it."""
        return not self.faults


@dataclass(frozen=True)
class NeedCheck:
    """One need of a requirement, and what the case has for it.

    Attributes:
        evidence: the type of paper; None for a group.
        count: of a group, how many of its parts are needed.
        offered: what the case has for it, the best first.
        where: where to get it, for a paper that is missing or not in order.
        given_by: the requirement that gives it, if one does.
        hangs_on: what must be known to tell whether it is needed.
    """

    need: Need
    state: NeedState
    evidence: Evidence | None = None
    offered: tuple[Offered, ...] = ()
    where: Phrase | None = None
    given_by: str = ""
    hangs_on: tuple[Phrase, ...] = ()
    parts: tuple[NeedCheck, ...] = ()

    @property
    def count(self) -> int:
        """Of a group, how many of its parts are needed."""
        return self.need.count

    def leaves(self) -> Iterator[NeedCheck]:
        """Yield the checks of single papers."""
        if self.evidence is not None:
            yield self
        for part in self.parts:
            yield from part.leaves()


class ItemState(StrEnum):
    """How one thing an inspector looks at stands, by the case."""

    RIGHT = "as it should be"
    WRONG = "not as it should be"
    OPEN = "not known"


@dataclass(frozen=True, slots=True)
class InspectionItem:
    """One thing an inspector looks at, with the present answer of the case."""

    looks_at: Text
    state: ItemState
    answer: Phrase
    fact: str
    sources: tuple[Source, ...]

    @property
    def weakest(self) -> str:
        """The weakest kind of source it rests on."""
        return max(self.sources, key=lambda source: source.rank).kind


@dataclass(frozen=True)
class Packet:
    """What goes into one application, as the case stands.

    Attributes:
        sent: the day it is to be sent.
        needs: one check for each need.
        trouble: what does not agree in the whole case, since an application fails by any of it.
    """

    finding: Finding
    authority: Authority
    on: date
    sent: date
    needs: tuple[NeedCheck, ...]
    trouble: PaperTrouble
    inspection: tuple[InspectionItem, ...] = ()

    @property
    def ready(self) -> bool:
        """Whether every need is met for certain and nothing contradicts."""
        met = (NeedState.IN_ORDER, NeedState.NOT_NEEDED)
        return all(check.state in met for check in self.needs) and (
            not self.trouble.contradictions)

    def in_state(self, *states: NeedState) -> tuple[NeedCheck, ...]:
        """Return the needs in one of these states."""
        return tuple(check for check in self.needs if check.state in states)

    @property
    def enclosed(self) -> tuple[Offered, ...]:
        """The papers that go into the envelope: the best one for each need that is met."""
        found = [
            check.offered[0]
            for need in self.needs for check in need.leaves()
            if check.state == NeedState.IN_ORDER and check.offered
            and check.offered[0].paper is not None
        ]
        return tuple({id(offered.paper): offered for offered in found}.values())
