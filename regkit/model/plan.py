"""A plan: the steps of a case in order, when each can start, and the ways to choose from.

The order is nowhere written down; it follows from what each requirement needs and gives. All
values are frozen.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from regkit.language import Phrase


class StepState(StrEnum):
    """Whether a step can be taken."""

    DONE = "done"
    READY = "ready"
    NEEDS_PAPERS = "needs papers"
    WAITING = "waiting"
    STUCK = "stuck"


@dataclass(frozen=True, slots=True)
class Days:
    """A day that is known as a range.

    Attributes:
        first, last: the earliest and the latest, if everything takes as long as stated.
        or_later: whether something on the way takes a time nobody states, counted as no time.
    """

    first: date
    last: date
    or_later: bool = False


@dataclass(frozen=True, slots=True)
class Cost:
    """What something costs, in one currency.

    Attributes:
        least: without the charges of what may turn out not to apply.
        unknown: identifiers of the charges that cannot be told.
    """

    least: Decimal
    most: Decimal
    currency: str
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Missing:
    """A paper that a step still lacks, on the way chosen.

    Attributes:
        step: the step that gives it; empty where it comes from outside or from nowhere.
        outside: whether it comes from outside: a seller, an archive, a club.
        perhaps: whether it is not settled that it is needed.
    """

    evidence: str
    step: str = ""
    outside: bool = False
    perhaps: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One requirement as a step.

    Attributes:
        perhaps: whether it is not settled that it applies.
        demanded: whether the law demands it for itself; else it is taken for the paper it gives.
        missing: what it still lacks; what it waits for.
        start, finish: the earliest days; None for a step that is done or stuck.
        spare: days by which it may slip without moving the end of the plan.
        critical: whether it lies on the critical path.
        margin: days from its latest finish to its deadline; negative: it may come too late. None
            without a deadline.
        hopeless: whether its deadline cannot be met even if everything goes as fast as stated.
        duration_kind: the weakest kind of source of how long it takes; empty where nobody says.
    """

    requirement: str
    state: StepState
    perhaps: bool = False
    demanded: bool = True
    missing: tuple[Missing, ...] = ()
    start: Days | None = None
    finish: Days | None = None
    spare: int | None = None
    critical: bool = False
    margin: int | None = None
    hopeless: bool = False
    duration_kind: str = ""


@dataclass(frozen=True, slots=True)
class ToGet:
    """A paper to get from outside on the way chosen, and the steps that need it."""

    evidence: str
    steps: tuple[str, ...]
    ready: Days
    cost: Cost
    duration_kind: str = ""


@dataclass(frozen=True, slots=True)
class Way:
    """One of several ways to meet a need, and what the whole plan comes to if it is taken.

    Attributes:
        papers: papers from outside that it takes.
        steps: steps that give its other papers.
        finish: when the plan ends on the fastest whole way that goes here; None if it cannot end.
        cost: what the plan costs on the cheapest whole way that goes here; None likewise.
        papers_to_get: how many papers from outside that cheapest way takes in all.
        undecided, open_questions: how many steps of the fastest way may not apply, and how many
            open questions of the ruleset they rest on: what makes it risky.
        untimed: papers of this way for which nobody states how long they take to get.
        weakest: the weakest kind of source this way rests on.
    """

    papers: tuple[str, ...]
    steps: tuple[str, ...]
    finish: Days | None
    cost: Cost | None
    papers_to_get: int = 0
    undecided: int = 0
    open_questions: int = 0
    untimed: tuple[str, ...] = ()
    weakest: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """A need that can be met in several ways.

    Attributes:
        fastest, cheapest: indices of the best ways; chosen is the one the plan goes.
    """

    requirement: str
    ways: tuple[Way, ...]
    chosen: int
    fastest: int
    cheapest: int


@dataclass(frozen=True)
class Plan:
    """How to get everything done from a day on.

    Attributes:
        steps: what is done, then the rest in an order in which they can be taken.
        to_get: papers to get from outside.
        path: the critical path, papers by identifier of the evidence, then steps.
        finish: when all of it is done; None if it never can be.
        cost: what the way chosen costs.
        choices: where several ways lead on, side by side.
        dead_ends: sentences for papers that nothing gives.
        circles: steps that wait for each other, each a row whose first name is also its last.
        exact: whether cheapest and fastest were found among all combinations of ways; else the
            fastest is exact and the cheapest is the best of each choice by itself.
        waits: standing duties that wait for an event, by requirement.
    """

    on: date
    steps: tuple[Step, ...]
    to_get: tuple[ToGet, ...]
    path: tuple[str, ...]
    finish: Days | None
    cost: Cost
    choices: tuple[Choice, ...] = ()
    dead_ends: tuple[Phrase, ...] = ()
    circles: tuple[tuple[str, ...], ...] = ()
    exact: bool = True
    waits: tuple[str, ...] = ()

    @property
    def end(self) -> Days | None:
        """When all of it is done; None if it never can be, or nobody states how long any takes."""
        found = self.finish
        return None if found is not None and found.or_later and found.last == self.on else found

    def step(self, requirement: str) -> Step:
        """Return the step of a requirement.

        Raises:
            KeyError: the plan has no such step.
        """
        for step in self.steps:
            if step.requirement == requirement:
                return step
        raise KeyError(requirement)

    def in_state(self, *states: StepState) -> tuple[Step, ...]:
        """Return the steps in one of some states, in the order of the plan."""
        return tuple(step for step in self.steps if step.state in states)
