"""What one case comes to under one law, for worked examples to be held against.

Two ways to the same answers: `Assessed` reads them from the assessment a user gets. `Piecewise`
works out only what is asked, which is many times faster where most mutants want one answer; a
test compares the two on every worked example.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Protocol

from regkit.judge.bill import bill_as_told, route_open
from regkit.judge.either_way import settled_view
from regkit.judge.exact import Exact
from regkit.judge.explain import finding_on
from regkit.judge.law import Law, law_on
from regkit.judge.packet import need_checks
from regkit.model.assessment import VERDICT_OF, Assessment, Finding, Outcome, Verdict
from regkit.model.bill import Line
from regkit.model.case import Case
from regkit.model.packet import NeedCheck
from regkit.model.ruleset import Requirement, Ruleset


class ComesTo(Protocol):
    """What one case comes to under one law."""

    @property
    def law(self) -> Law:
        """The law of the day."""

    @property
    def case(self) -> Case:
        """The case."""

    @property
    def exact(self) -> Exact:
        """The case as it is told."""

    @property
    def settled(self) -> Exact:
        """The case, its definitions settled."""

    def verdict(self, name: str) -> Verdict:
        """Return the verdict on a requirement."""

    def finding(self, name: str) -> Finding:
        """Return the finding on a requirement."""

    def needs(self, name: str) -> tuple[NeedCheck, ...]:
        """Return what a requirement needs, and what the case has for it."""

    def line(self, charge: str) -> Line | None:
        """Return the line of a charge on the bill of the case as told; None if it is not on it."""

    def route(self, name: str) -> Outcome:
        """Return whether a route is open; no where it is not in force."""


@dataclass(frozen=True)
class Assessed:
    """The answers as an assessment gives them."""

    assessment: Assessment

    @property
    def law(self) -> Law:
        return law_on(self.assessment.ruleset, self.assessment.on)

    @property
    def case(self) -> Case:
        return self.assessment.case

    @cached_property
    def exact(self) -> Exact:
        return Exact(self.law.view(self.case))

    @cached_property
    def settled(self) -> Exact:
        return settled_view(self.law, self.case)

    def verdict(self, name: str) -> Verdict:
        return self.assessment.verdicts[name]

    def finding(self, name: str) -> Finding:
        return self.assessment.finding(name)

    def needs(self, name: str) -> tuple[NeedCheck, ...]:
        return self.assessment.packet(name).needs

    def line(self, charge: str) -> Line | None:
        return self.assessment.bills[0].line(charge)

    def route(self, name: str) -> Outcome:
        return next((bill.open for bill in self.assessment.bills if bill.route == name),
                    Outcome.NO)


@dataclass(frozen=True)
class Piecewise:
    """The same answers, each worked out by itself when it is asked for.

    Attributes:
        like: the case under a law with the same definitions, so that they need no settling anew.
    """

    law: Law
    case: Case
    like: Piecewise | None = None

    @cached_property
    def exact(self) -> Exact:
        return Exact(self.law.view(self.case))

    @cached_property
    def settled(self) -> Exact:
        return settled_view(self.law, self.case) if self.like is None else self.like.settled

    def verdict(self, name: str) -> Verdict:
        condition = self.law.requirements[name]
        if condition is None:
            return Verdict.NOT_REQUIRED
        return VERDICT_OF[Outcome(self.exact.truth(condition).word)]

    def finding(self, name: str) -> Finding:
        return finding_on(self.law, self.settled, name)

    def needs(self, name: str) -> tuple[NeedCheck, ...]:
        edition = self.law.edition(self.law.ruleset.requirements[name], self.case)
        return need_checks(self.law, self.settled, edition, self.law.day.on)

    def line(self, charge: str) -> Line | None:
        levying = charging(self.law.ruleset, charge)
        requirements = {name: condition for name, condition in self.law.requirements.items()
                        if name in levying}
        part = replace(self.law, requirements=requirements)
        return bill_as_told(part, self.settled).line(charge)

    def route(self, name: str) -> Outcome:
        edition = self.law.ruleset.routes[name].on(self.law.day.on)
        return Outcome.NO if edition is None else route_open(self.law, self.case, edition)


def charging(ruleset: Ruleset, charge: str) -> set[str]:
    """Return the requirements that in any edition levy a charge."""
    return {name for name, history in ruleset.requirements.items()
            if any(levies(ruleset, edition, charge) for edition in history.editions)}


def levies(ruleset: Ruleset, edition: Requirement, charge: str) -> bool:
    """Return whether an edition names a charge, or one that is reckoned from it, or a paper that
    costs one."""
    wanted, papers = _resting_on(ruleset, charge)
    return bool(wanted & {*edition.charges, *edition.late}) or any(
        part.evidence in papers for need in edition.needs for part in need.walk())


@lru_cache(maxsize=256)
def _resting_on(ruleset: Ruleset, charge: str) -> tuple[frozenset[str], frozenset[str]]:
    """Return a charge with all that are reckoned from it, and the papers that cost any of these."""
    wanted, more = {charge}, {charge}
    while more:
        more = {name for name, history in ruleset.charges.items() if name not in wanted
                and any(wanted & set(figure.facts) for edition in history.editions
                        for figure in edition.figures)}
        wanted |= more
    return frozenset(wanted), frozenset(
        name for name, history in ruleset.evidence.items()
        if any(wanted & set(edition.charges) for edition in history.editions))
