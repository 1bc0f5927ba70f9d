"""Steps, papers and what they need as a network, and what one selection of ways comes to."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from regkit.judge.lateness import Amounts
from regkit.judge.needs import OpenNeed, WayOf
from regkit.judge.schedule import Schedule, Task, schedule
from regkit.model.plan import Cost, Missing
from regkit.model.ruleset import Requirement, Ruleset

Point = tuple[str, int]
"""A need: the step that has it, and its place among that step's open needs."""

Selection = Mapping[Point, int]
"""For each need with several ways, which one is gone; the first where it is left out."""

NOWHERE = "nothing gives it"


@dataclass(frozen=True)
class Outcome:
    """What one selection of ways comes to.

    Attributes:
        steps, papers: the steps taken and the papers got from outside.
    """

    schedule: Schedule
    steps: tuple[str, ...]
    papers: tuple[str, ...]
    cost: Cost

    @property
    def fast(self) -> tuple[int, int, int, int]:
        """The key by which the faster of two comes first: less stuck, earlier end, earlier all."""
        ends = [days.last.toordinal() for days in self.schedule.finish.values()]
        firsts = [days.first.toordinal() for days in self.schedule.finish.values()]
        return (len(self.schedule.stuck), max(ends, default=0), max(firsts, default=0), sum(ends))

    @property
    def cheap(self) -> tuple[int, int, Decimal, Decimal, int]:
        """The key by which the cheaper of two comes first; then what takes fewer papers."""
        return (len(self.schedule.stuck), len(self.cost.unknown), self.cost.most, self.cost.least,
                len(self.papers))


@dataclass(frozen=True)
class Network:
    """All open steps of a case, what each needs, and which must be taken.

    Attributes:
        goals: the steps that must be taken; others are taken only for what they give.
        not_before: the first day each step can start.
        price: what a charge comes to; None where that cannot be told.
        perhaps: the goals of which it is not settled that they apply.
    """

    ruleset: Ruleset
    on: date
    steps: Mapping[str, Requirement]
    needs: Mapping[str, tuple[OpenNeed, ...]]
    goals: tuple[str, ...]
    not_before: Mapping[str, date]
    price: Callable[[str], Amounts | None]
    perhaps: frozenset[str] = frozenset()

    @property
    def points(self) -> tuple[Point, ...]:
        """The needs that can be met in several ways, of all steps that any goal may lead to."""
        reached = dict.fromkeys(self.goals)
        waiting = list(self.goals)
        while waiting:
            for need in self.needs[waiting.pop()]:
                for part in (part for way in need.ways for part in way):
                    if part.step and part.step not in reached:
                        reached[part.step] = None
                        waiting.append(part.step)
        return tuple((step, at) for step in reached
                     for at, need in enumerate(self.needs[step]) if len(need.ways) > 1)

    def ways(self, step: str, selection: Selection) -> Iterator[tuple[OpenNeed, WayOf | None]]:
        """Yield each open need of a step with the way selected; None where there is none."""
        for at, need in enumerate(self.needs[step]):
            yield need, need.ways[selection.get((step, at), 0)] if need.ways else None

    def missing(self, step: str, selection: Selection) -> tuple[Missing, ...]:
        """Return what a step lacks on the ways selected, in the order of its needs."""
        found: dict[Missing, None] = {}
        for need, way in self.ways(step, selection):
            for part in sorted(way or (), key=lambda part: (part.evidence, part.step)):
                perhaps = part.perhaps or need.perhaps
                found[Missing(part.evidence, part.step, part.outside, perhaps)] = None
            if way is None and not need.perhaps:
                found.update((Missing(name), None) for name in need.lacking)
        return tuple(found)

    def outcome(self, selection: Selection) -> Outcome:
        """Return what a selection of ways comes to."""
        steps: dict[str, None] = {}
        papers: dict[str, None] = {}
        tasks: dict[str, Task] = {}
        waiting = list(reversed(self.goals))
        while waiting:
            step = waiting.pop()
            if step in steps:
                continue
            steps[step] = None
            needs: dict[str, None] = {}
            for part in self.missing(step, selection):
                if part.step:
                    needs[part.step] = None
                    waiting.append(part.step)
                elif part.outside:
                    papers[part.evidence] = None
                    needs[paper_task(part.evidence)] = None
                else:
                    needs[NOWHERE] = None
            tasks[step] = Task(step, tuple(needs), self.steps[step].takes, self.not_before[step])
        for paper in papers:
            takes = self.ruleset.evidence[paper].latest.takes
            tasks[paper_task(paper)] = Task(paper_task(paper), (), takes, self.on)
        sure = self._charges(*self._sure(selection))
        return Outcome(schedule(tasks.values()), tuple(steps), tuple(papers),
                       self._cost(self._charges(steps, papers), sure))

    def cost_of_paper(self, paper: str) -> Cost:
        """Return what a paper costs by itself."""
        charges = self._charges((), (paper,))
        return self._cost(charges, charges)

    def _sure(self, selection: Selection) -> tuple[dict[str, None], dict[str, None]]:
        """Return the steps taken and the papers got whatever turns out of what is not settled."""
        steps: dict[str, None] = {}
        papers: dict[str, None] = {}
        waiting = [goal for goal in self.goals if goal not in self.perhaps]
        while waiting:
            step = waiting.pop()
            if step in steps:
                continue
            steps[step] = None
            for part in self.missing(step, selection):
                if part.step and not part.perhaps:
                    waiting.append(part.step)
                elif part.outside and not part.perhaps:
                    papers[part.evidence] = None
        return steps, papers

    def _charges(self, steps: Iterable[str], papers: Iterable[str]) -> dict[str, None]:
        """Return the payable charges of some steps and papers, each once."""
        charges = dict.fromkeys((
            *(name for step in steps for name in self.steps[step].charges),
            *(name for paper in papers for name in self.ruleset.evidence[paper].latest.charges),
        ))
        return {name: None for name in charges if self.ruleset.charges[name].latest.payable}

    def _cost(self, charges: Iterable[str], sure: Container[str]) -> Cost:
        """Return what charges come to together; one that is not sure counts from nothing."""
        amounts = {name: self.price(name) for name in charges}
        known = {name: amount for name, amount in amounts.items() if amount is not None}
        return Cost(
            sum((low for name, (low, _) in known.items() if name in sure), Decimal(0)),
            sum((high for _, high in known.values()), Decimal(0)),
            self.ruleset.currency,
            tuple(name for name, amount in amounts.items() if amount is None),
        )


def paper_task(evidence: str) -> str:
    """Return the name of the task of getting a paper from outside."""
    return f"paper {evidence}"
