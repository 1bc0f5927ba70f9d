"""The plan of a case: from findings, papers and what is done to steps in order.

A step is a requirement that applies or may apply. A requirement that applies but whose papers can
all be had by another step too is one of several ways, not a step everybody takes. A requirement
that does not apply by itself becomes a step only where nothing else gives a paper that is needed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal

from regkit.conditions.truth import NO, YES
from regkit.judge.choices import Tried, best
from regkit.judge.exact import Exact
from regkit.judge.lateness import Amounts
from regkit.judge.law import Law
from regkit.judge.needs import OpenNeed, Supply
from regkit.judge.network import Network, paper_task
from regkit.judge.order import circle, givers
from regkit.judge.reckoning import Reckoner
from regkit.judge.windows import told_event
from regkit.language import Phrase, phrase
from regkit.model.assessment import Finding, Verdict
from regkit.model.plan import Days, Missing, Plan, Step, StepState, ToGet
from regkit.model.ruleset import SOURCE_KINDS, Requirement, Ruleset
from regkit.model.values import day_of
from regkit.model.window import Duration


def make_plan(law: Law, exact: Exact, findings: Iterable[Finding]) -> Plan:
    """Return the plan of a case on the day of its findings.

    Args:
        exact: the case, its definitions settled.
    """
    return _Planner(law, exact, tuple(findings)).plan()


class _Planner:
    def __init__(self, law: Law, exact: Exact, findings: tuple[Finding, ...]) -> None:
        self.law = law
        self.exact = exact
        self.view = exact.view
        self.on = law.day.on
        self.reckoner = Reckoner(law, exact)
        self.ruleset: Ruleset = law.ruleset
        self.findings = {finding.id: finding for finding in findings}

    def plan(self) -> Plan:
        network = self._network()
        tried, choices, exact = best(network)
        plan, outcome = tried.outcome.schedule, tried.outcome
        path = plan.path()
        return Plan(
            on=self.on,
            steps=(*self._done(), *self._steps(network, tried, path)),
            to_get=tuple(self._to_get(network, tried, paper) for paper in outcome.papers),
            path=tuple(name.removeprefix("paper ") for name in path),
            finish=None if plan.stuck else _last(plan.finish.values()),
            cost=outcome.cost,
            choices=choices,
            dead_ends=tuple(self._dead_ends(network, tried)),
            circles=self._circles(network, tried),
            exact=exact,
            waits=tuple(f.id for f in self.findings.values() if f.waits_for),
        )

    # -------------------------------------------------------------- the network

    def _network(self) -> Network:
        steps = {
            f.id: f.requirement for f in self.findings.values()
            if f.verdict != Verdict.NOT_REQUIRED and not f.waits_for and not f.progress.finished
        }
        needs: dict[str, tuple[OpenNeed, ...]] = {}
        while True:
            needs = self._needs(steps)
            extra = self._givers_of_last_resort(needs, steps)
            if not extra:
                break
            steps |= extra
        return Network(
            self.ruleset, self.on, steps, needs,
            goals=tuple(self._goals(steps, needs)),
            not_before={name: self._not_before(steps[name]) for name in steps},
            price=self._price,
            perhaps=frozenset(name for name in steps
                              if self.findings[name].verdict == Verdict.UNDECIDED),
        )

    def _needs(self, steps: dict[str, Requirement]) -> dict[str, tuple[OpenNeed, ...]]:
        demanded = frozenset(
            name for name in steps if self.findings[name].verdict == Verdict.REQUIRED)
        supply = Supply(self.ruleset, self.exact, givers(steps.values()), demanded,
                        self._from_done())
        return {name: supply.open_needs(step) for name, step in steps.items()}

    def _from_done(self) -> frozenset[str]:
        return frozenset(
            evidence for finding in self.findings.values() if finding.progress.finished
            for evidence in finding.requirement.gives
        )

    def _givers_of_last_resort(
        self, needs: dict[str, tuple[OpenNeed, ...]], steps: dict[str, Requirement]
    ) -> dict[str, Requirement]:
        """Return requirements in force that give a paper which is needed and nothing else gives."""
        lacking = {name for found in needs.values() for need in found if not need.perhaps
                   for name in need.lacking}
        return {
            f.id: f.requirement for f in self.findings.values()
            if f.id not in steps and not f.requirement.on_event
            and self.law.requirements[f.id] is not None
            and lacking.intersection(f.requirement.gives)
        }

    def _goals(
        self, steps: dict[str, Requirement], needs: dict[str, tuple[OpenNeed, ...]]
    ) -> Iterator[str]:
        given_by = givers(steps.values())
        wanted = {part.evidence for found in needs.values() for need in found
                  for way in need.ways for part in way}
        for name, step in steps.items():
            if self.findings[name].verdict == Verdict.NOT_REQUIRED:
                continue
            one_of_several = step.gives and step.window is None and all(
                len(given_by[evidence]) > 1 and evidence in wanted for evidence in step.gives)
            if not one_of_several:
                yield name

    def _not_before(self, step: Requirement) -> date:
        """Return the first day a step can start: not before the event its window runs from."""
        event = told_event(step.window, self.view.case) if step.window else ""
        day = day_of(self.view.case.value(event).low) if event else None
        return max(self.on, day or self.on)

    def _price(self, charge: str) -> Amounts | None:
        """Return what a charge comes to, from nothing if it may not be due; None if not known."""
        reckoned = self.reckoner.reckon(charge)
        least, most = reckoned.amount.least, reckoned.amount.most
        if reckoned.edition is None or reckoned.due == NO:
            return Decimal(0), Decimal(0)
        if most is None:
            return None
        return least if reckoned.due == YES else Decimal(0), most

    # -------------------------------------------------------------- what is shown

    def _done(self) -> Iterator[Step]:
        done = [f for f in self.findings.values() if f.progress.finished]
        for finding in sorted(done, key=lambda f: (f.met and f.met.on) or date.min):
            yield Step(finding.id, StepState.DONE,
                       demanded=finding.verdict != Verdict.NOT_REQUIRED)

    def _steps(self, network: Network, tried: Tried, path: tuple[str, ...]) -> Iterator[Step]:
        plan = tried.outcome.schedule
        order = [name for name in plan.finish if name in network.steps]
        order.sort(key=lambda name: plan.start[name].last)
        for name in (*order, *(name for name in plan.stuck if name in network.steps)):
            finding, missing = self.findings[name], network.missing(name, tried.selection)
            finish = plan.finish.get(name)
            due = finding.deadline.first if finding.deadline and finish else None
            yield Step(
                requirement=name,
                state=_state(missing, finish),
                perhaps=finding.verdict == Verdict.UNDECIDED,
                demanded=finding.verdict != Verdict.NOT_REQUIRED,
                missing=missing,
                start=plan.start.get(name),
                finish=finish,
                spare=plan.spare.get(name),
                critical=name in path,
                margin=(due - finish.last).days if due and finish else None,
                hopeless=bool(due and finish and finish.first > due),
                duration_kind=self._kind(network.steps[name].takes),
            )

    def _to_get(self, network: Network, tried: Tried, paper: str) -> ToGet:
        steps = (name for name in tried.outcome.steps if any(
            part.outside and part.evidence == paper
            for part in network.missing(name, tried.selection)))
        return ToGet(
            evidence=paper,
            steps=tuple(steps),
            ready=tried.outcome.schedule.finish[paper_task(paper)],
            cost=network.cost_of_paper(paper),
            duration_kind=self._kind(self.ruleset.evidence[paper].latest.takes),
        )

    def _kind(self, takes: Duration | None) -> str:
        kinds = [self.ruleset.sources[name].kind for name in takes.sources] if takes else []
        return max(kinds, key=SOURCE_KINDS.index, default="")

    def _dead_ends(self, network: Network, tried: Tried) -> Iterator[Phrase]:
        for name in tried.outcome.steps:
            for part in network.missing(name, tried.selection):
                if not part.step and not part.outside:
                    yield phrase("nothing gives this paper: {paper}; so this cannot be done: "
                                 "{step}", paper=self.ruleset.evidence[part.evidence].latest.title,
                                 step=network.steps[name].title)

    def _circles(self, network: Network, tried: Tried) -> tuple[tuple[str, ...], ...]:
        plan = tried.outcome.schedule
        found = circle({name: plan.tasks[name].needs for name in plan.stuck})
        return (found,) if found else ()


def _state(missing: tuple[Missing, ...], finish: Days | None) -> StepState:
    if finish is None:
        return StepState.STUCK
    if any(part.step for part in missing):
        return StepState.WAITING
    return StepState.NEEDS_PAPERS if missing else StepState.READY


def _last(days: Iterable[Days]) -> Days | None:
    found = tuple(days)
    if not found:
        return None
    return Days(max(day.first for day in found), max(day.last for day in found),
                any(day.or_later for day in found))
