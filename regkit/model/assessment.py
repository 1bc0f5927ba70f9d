"""An assessment: what applies to one case on one day, and why. Frozen; JSON by `to_dict`."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING, Any

from regkit.language import Phrase, Text
from regkit.model.case import Case
from regkit.model.deadline import Deadline, Fulfilment, Progress
from regkit.model.plan import Plan
from regkit.model.ruleset import Requirement, Ruleset, Source

if TYPE_CHECKING:
    from regkit.model.bill import Bill
    from regkit.model.comparison import PaperTrouble
    from regkit.model.handover import Handover
    from regkit.model.packet import Packet


class Outcome(StrEnum):
    """Whether a condition holds."""

    NO = "no"
    UNDECIDED = "undecided"
    YES = "yes"


class Verdict(StrEnum):
    """Whether a requirement applies."""

    NOT_REQUIRED = "not required"
    UNDECIDED = "undecided"
    REQUIRED = "required"


VERDICT_OF = {
    Outcome.NO: Verdict.NOT_REQUIRED,
    Outcome.UNDECIDED: Verdict.UNDECIDED,
    Outcome.YES: Verdict.REQUIRED,
}


Wording = Phrase | Callable[[], Phrase]
"""Words, or what makes them when somebody asks: most reasons are never read."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One node of the tree that explains an outcome.

    Attributes:
        kind: `all`, `any`, `none`, `definition`, `by date`, `question`, `rule`, `test`, or `either
            way`: settled whatever is still open turns out to be.
        says: the words for this node alone.
        name: the definition or question it stands for.
        fact, value, cut: for a test, the fact it looks at, what the fact may be, and the rule.
        sources: identifiers of the sources this node itself rests on.
        layer: the jurisdiction whose ruleset states it, where that is another one.
        settles: facts that are not known well enough, one of which might settle this test.
        told: whether the case gives the fact a value, be it too inexact.
        minor: whether it only says that something is told, and need not be said first.
        decisive: whether the parent's outcome rests on this node.
    """

    kind: str
    outcome: Outcome
    saying: Wording
    name: str = ""
    fact: str = ""
    value_said: Wording | None = None
    cut_said: Wording | None = None
    sources: tuple[str, ...] = ()
    layer: str = ""
    children: tuple[Reason, ...] = ()
    settles: tuple[str, ...] = ()
    told: bool = True
    minor: bool = False
    decisive: bool = True

    @property
    def says(self) -> Phrase:
        """The words for this node alone."""
        return self.saying() if callable(self.saying) else self.saying

    @property
    def value(self) -> Phrase | None:
        """For a test, what its fact may be."""
        return self.value_said() if callable(self.value_said) else self.value_said

    @property
    def cut(self) -> Phrase | None:
        """For a test, its rule."""
        return self.cut_said() if callable(self.cut_said) else self.cut_said

    def decisive_if(self, decisive: bool) -> Reason:
        """Return this reason, marked as bearing its parent's outcome or not."""
        return self if decisive == self.decisive else replace(self, decisive=decisive)

    def deciding(self) -> Iterator[Reason]:
        """Yield this node and those below it that bear the outcome, top down."""
        yield self
        for child in self.children:
            if child.decisive:
                yield from child.deciding()


@dataclass(frozen=True, slots=True)
class OtherReading:
    """What another official source says, shown because it would change the answer here."""

    says: Text
    verdict: Verdict | Outcome
    sources: tuple[str, ...]
    about: str


@dataclass(frozen=True, slots=True)
class Announced:
    """A rule that is announced, not enacted: the answer may change on a day."""

    on: date | None
    verdict: Verdict
    title: Text
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Exactness:
    """How exact a date must be told: the year is enough, unless it is one of `years`.

    In these years it takes `unit`, `month` or `day`. Of no years, `unit` is `year`.
    """

    fact: str
    unit: str
    years: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class WaysToSettle:
    """What would settle an undecided answer.

    Attributes:
        smallest: the smallest sets of facts, to each of which some answers settle it whatever
            else is found out; names in alphabetical order. None where it takes very many, or
            where only an open question of the ruleset stands in the way.
        exactness: how exact each open date must be.
    """

    smallest: tuple[tuple[str, ...], ...] = ()
    exactness: tuple[Exactness, ...] = ()


@dataclass(frozen=True)
class Finding:
    """What one requirement means for the case.

    Attributes:
        requirement: the edition of the requirement that counts.
        sentence: the answer in one sentence, most deciding facts first.
        reason: the whole tree.
        sources: every source the answer rests on, this requirement's own first.
        settles: facts still open, any of which might settle an undecided answer; first the ones
            that appear in most open tests.
        waits_for: the date fact of the event this standing duty waits for, if it has not happened.
        weakest: the weakest kind of source the answer rests on.
        oldest_check: the day the longest unchecked of these sources was last looked at.
        progress: how far it has come on the day of assessment.
        met: what shows that it has been done, if it has.
        deadline: by when it must be done, if there is a window; also where it is undecided.
    """

    requirement: Requirement
    verdict: Verdict
    sentence: Phrase
    reason: Reason
    sources: tuple[Source, ...]
    settles: tuple[str, ...] = ()
    waits_for: str = ""
    other_readings: tuple[OtherReading, ...] = ()
    announced: tuple[Announced, ...] = ()
    open_questions: tuple[str, ...] = ()
    progress: Progress = Progress.TO_DO
    met: Fulfilment | None = None
    deadline: Deadline | None = None
    find_ways: Callable[[], WaysToSettle] = field(
        default=lambda: WaysToSettle(), repr=False, compare=False)

    @cached_property
    def ways_to_settle(self) -> WaysToSettle:
        """What would settle an undecided answer; worked out when first read."""
        return self.find_ways()

    @property
    def id(self) -> str:
        """The identifier of the requirement."""
        return self.requirement.id

    @property
    def weakest(self) -> str:
        """The weakest kind of source the answer rests on."""
        return max(self.sources, key=lambda source: source.rank).kind

    @property
    def oldest_check(self) -> date:
        """The day the longest unchecked of the sources was last looked at."""
        return min(source.checked for source in self.sources)

    @property
    def asks_for_papers(self) -> bool:
        """Whether it applies, or may, without waiting for an event, and papers are needed."""
        applies = self.verdict != Verdict.NOT_REQUIRED and not self.waits_for
        return applies and bool(self.requirement.needs)

    def text(self, language: str = "en") -> str:
        """Return the answer in one sentence."""
        from regkit.language import speaker

        return speaker(language).say(self.sentence)


@dataclass(frozen=True, slots=True)
class ClassFinding:
    """Whether the case belongs to a class its keeper cares about, such as an age class."""

    id: str
    title: Text
    outcome: Outcome
    sentence: Phrase
    reason: Reason
    sources: tuple[Source, ...]
    other_readings: tuple[OtherReading, ...] = ()


@dataclass(frozen=True, slots=True)
class Explanation:
    """The parts of an assessment that are worked out when they are first read."""

    finding: Callable[[str], Finding] = field(repr=False, compare=False)
    findings: Callable[[], tuple[Finding, ...]] = field(repr=False, compare=False)
    classes: Callable[[], tuple[ClassFinding, ...]] = field(repr=False, compare=False)
    cautions: tuple[Phrase, ...]
    plan: Callable[[], Plan] = field(repr=False, compare=False)
    packet: Callable[[Finding, date], Packet] = field(repr=False, compare=False)
    paper_trouble: Callable[[], PaperTrouble] = field(repr=False, compare=False)
    bills: Callable[[], tuple[Bill, ...]] = field(repr=False, compare=False)
    handover: Callable[[str], Handover] = field(repr=False, compare=False)


@dataclass(frozen=True)
class Assessment:
    """The answer for one case, on one day, under one ruleset.

    Attributes:
        verdicts: the verdict on each requirement by its identifier, without reasons.
    """

    case: Case
    ruleset: Ruleset
    on: date
    verdicts: Mapping[str, Verdict]
    explain: Callable[[], Explanation] = field(repr=False, compare=False)

    @cached_property
    def _explanation(self) -> Explanation:
        return self.explain()

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """One finding for each requirement, in the order of stages; worked out when first read."""
        return self._explanation.findings()

    @cached_property
    def classes(self) -> tuple[ClassFinding, ...]:
        """The classes of the ruleset, and whether the case belongs to them."""
        return self._explanation.classes()

    @property
    def cautions(self) -> tuple[Phrase, ...]:
        """What to bear in mind about the whole assessment."""
        return self._explanation.cautions

    @cached_property
    def plan(self) -> Plan:
        """The steps in order, with the earliest days, the critical path and the ways to choose."""
        return self._explanation.plan()

    def packet(self, requirement: str, sent: date | None = None) -> Packet:
        """Return the papers of one application: what meets each need, and what does not agree.

        Args:
            sent: the day it is to be sent; by default the day of assessment.

        Raises:
            KeyError: the ruleset has no such requirement.
            ValueError: it would be sent before the day of assessment.
        """
        sent = sent or self.on
        if sent < self.on:
            raise ValueError(f"papers cannot be sent on {sent}, before the day of assessment, "
                             f"{self.on}; name that day or a later one")
        return self._explanation.packet(self.finding(requirement), sent)

    def handover(self, route: str = "") -> Handover:
        """Return what to have in hand before paying for the vehicle.

        Args:
            route: the identifier of a route; by default what the case tells.

        Raises:
            KeyError: there is no such route in force on the day of assessment.
        """
        return self._explanation.handover(route)

    @cached_property
    def paper_trouble(self) -> PaperTrouble:
        """What papers, told facts and vehicle do not agree on, and numbers and dates in doubt."""
        return self._explanation.paper_trouble()

    @cached_property
    def bills(self) -> tuple[Bill, ...]:
        """What each route costs, the route the case tells first."""
        return self._explanation.bills()

    def finding(self, requirement: str) -> Finding:
        """Return the finding on one requirement, by its name or one it had before.

        Raises:
            KeyError: the ruleset has no such requirement.
        """
        name = self.ruleset.renamed.get(requirement, requirement)
        if name not in self.ruleset.requirements:
            raise KeyError(requirement)
        return self._explanation.finding(name)

    def to_dict(self, language: str = "en") -> dict[str, Any]:
        """Return the assessment as JSON data; `schemas/assessment.schema.json` describes it."""
        from regkit.model.document import assessment_document

        return assessment_document(self, language)
