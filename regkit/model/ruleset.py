"""A ruleset: the law of one jurisdiction as frozen data, with its whole history.

Every entry is a `History` of editions. An edition is one wording of the rule with the days it is
in force; outside all editions there is no rule. Conditions are trees of `regkit.conditions`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Any, Generic, Literal, TypeVar

from regkit.language import Text
from regkit.model.calendar import LeapDay, Period
from regkit.model.facts import Fact, Vocabulary
from regkit.model.figure import Figure, Rounding
from regkit.model.window import Duration, SpecialDay, Window

if TYPE_CHECKING:
    from regkit.conditions import Condition
    from regkit.model.crosscheck import CrossCheck
    from regkit.model.explained import Explained
    from regkit.model.route import Route

State = Literal["announced", "enacted", "withdrawn", "not here"]

SOURCE_KINDS = (
    "law", "standard", "guidance", "form notes", "second-hand", "common practice", "from memory",
)
"""Kinds of source, strongest first. `second-hand`: only a third party's text was seen."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a rule is stated.

    Attributes:
        kind: one of `SOURCE_KINDS`.
        checked: the day it was last looked at.
        look_again: the day by which to look again.
        seen: which edition or copy was seen, where that matters.
    """

    id: str
    kind: str
    citation: str
    address: str
    checked: date
    look_again: date
    seen: str = ""
    copy: bool = False
    note: str = ""
    layer: str = ""

    @property
    def rank(self) -> int:
        """0 for the strongest kind; more is weaker."""
        return SOURCE_KINDS.index(self.kind)


@dataclass(frozen=True, slots=True)
class Dissent:
    """Another official source that says otherwise, and the condition it would put in place."""

    says: Text
    when: Condition
    sources: tuple[str, ...]
    first: date | None = None
    last: date | None = None

    def in_force(self, on: date) -> bool:
        """Whether it speaks on a day."""
        return _within(on, self.first, self.last)


@dataclass(frozen=True, kw_only=True)
class Edition:
    """What every edition of every entry has.

    Attributes:
        first, last: the first and last day in force; None leaves that end open.
        state: only enacted law decides; announced law shows as 'may change on'; `not here` is a
            rule of the layer below that does not hold in this jurisdiction.
        line: where it is written, `file:line`.
        layer: the jurisdiction whose ruleset states it.
    """

    id: str
    title: Text
    first: date | None = None
    last: date | None = None
    state: State = "enacted"
    sources: tuple[str, ...] = ()
    note: str = ""
    questions: tuple[str, ...] = ()
    line: str = ""
    layer: str = ""

    def in_force(self, on: date) -> bool:
        """Whether it is enacted and in force on a day."""
        return self.state == "enacted" and _within(on, self.first, self.last)


E = TypeVar("E", bound=Edition)


@dataclass(frozen=True)
class History(Generic[E]):
    """All editions of one entry, oldest first.

    Attributes:
        governed_by: the date fact whose day selects the edition; empty for the day of assessment.
    """

    id: str
    editions: tuple[E, ...]
    governed_by: str = ""

    def on(self, day: date) -> E | None:
        """Return the edition in force on a day, None if there is none."""
        return next((edition for edition in self.editions if edition.in_force(day)), None)

    @property
    def latest(self) -> E:
        """The newest edition, for titles and the like."""
        return self.editions[-1]


@dataclass(frozen=True, kw_only=True)
class Definition(Edition):
    """A named condition. A class is a definition a keeper cares about by name.

    Attributes:
        excludes: definitions that cannot hold of the same vehicle; for those who check the rules.
    """

    when: Condition
    dissents: tuple[Dissent, ...] = ()
    is_class: bool = False
    excludes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Counting(Edition):
    """How periods are counted: is the day of the event counted, does a rest day move the end?

    Attributes:
        rest_day: `stays`, `moves to the next working day` or `not stated`.
        holidays: whose rest days count, by ISO 3166 code; empty for the weekend alone.
        special_days: days that rest or work whatever the calendar says.
        least_working: how many working days a period of two days or more holds at least.
        last_moment: when on the last day it ends, and what must have happened by then.
        season: the facts that name the first and last month of a season; a last day outside it
            moves to the end of the next season's first month.
    """

    day_of_event: Literal["counted", "not counted", "not stated"] = "not stated"
    rest_day: str = "not stated"
    holidays: str = ""
    special_days: tuple[SpecialDay, ...] = ()
    least_working: int = 0
    last_moment: Text | None = None
    season: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Need:
    """Evidence that a requirement needs: one type, or so many of several needs.

    Attributes:
        evidence: the evidence type; empty for a group.
        count: of a group, how many of its parts are needed.
        when: the condition under which it is needed; None for always.
        form: the form it must have, `original`, `certified copy` or `copy`.
        fresh: how old it may be.
    """

    evidence: str = ""
    parts: tuple[Need, ...] = ()
    count: int = 0
    when: Condition | None = None
    form: str = ""
    fresh: Period | None = None

    def walk(self) -> Iterator[Need]:
        """Yield this need and every need below it."""
        yield self
        for part in self.parts:
            yield from part.walk()


@dataclass(frozen=True, slots=True)
class Inspected:
    """One thing an inspection looks at; `right` is the answer to its fact that passes."""

    looks_at: Text
    fact: str = ""
    sources: tuple[str, ...] = ()
    right: str = "yes"


@dataclass(frozen=True, kw_only=True)
class Requirement(Edition):
    """What must be done, or held."""

    why: Text
    stage: str
    authority: str
    when: Condition
    on_event: str = ""
    window: Window | None = None
    needs: tuple[Need, ...] = ()
    gives: tuple[str, ...] = ()
    takes: Duration | None = None
    charges: tuple[str, ...] = ()
    late: tuple[str, ...] = ()
    inspects: tuple[Inspected, ...] = ()
    cautions: tuple[Text, ...] = ()
    dissents: tuple[Dissent, ...] = ()


@dataclass(frozen=True, slots=True)
class Fresh:
    """How old a paper may be; `when` is the condition of this period among several."""

    period: Period
    when: Condition | None = None


@dataclass(frozen=True, kw_only=True)
class Evidence(Edition):
    """A type of paper: who issues it, what it shows, in which form it counts.

    Attributes:
        fresh: how old it may be; of several periods the first whose condition holds counts.
    """

    issued_by: Text | None = None
    from_outside: bool = False
    from_seller: bool = False
    shows: tuple[str, ...] = ()
    form: str = ""
    fresh: tuple[Fresh, ...] = ()
    named: str = ""
    language: Text | None = None
    stands_in_for: tuple[str, ...] = ()
    takes: Duration | None = None
    charges: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Charge(Edition):
    """A fee, duty, tax or penalty, or an intermediate base of one."""

    figures: tuple[Figure, ...]
    when: Condition | None = None
    payable: bool = True
    paid_to: str = ""
    currency: str = ""
    rounding: Rounding | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """A question of the ruleset, open or closed: its case law."""

    id: str
    asks: Text
    opened: date
    closed: date | None = None
    answer: Text | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Example:
    """A worked case with its expected outcome, beside the rules it tries."""

    id: str
    title: str
    on: date
    facts: Mapping[str, Any]
    expect: Mapping[str, Mapping[str, Any]]
    basis: str
    sources: tuple[str, ...]
    papers: tuple[Any, ...] = ()
    done: tuple[Any, ...] = ()
    line: str = ""


@dataclass(frozen=True, slots=True)
class Authority:
    """Who a requirement is owed to."""

    id: str
    title: Text
    address: str = ""


@dataclass(frozen=True)
class Ruleset:
    """The rules of one jurisdiction.

    Attributes:
        jurisdiction: ISO 3166-1 alpha-2 or ISO 3166-2 code.
        version: calendar version of the ruleset, such as 2026.1.
        digest: SHA-256 of its canonical JSON, in hexadecimal.
        known_from: the first day whose law it states.
        layers: the jurisdictions it builds on, itself last.
    """

    jurisdiction: str
    title: Text
    version: str
    digest: str
    languages: tuple[str, ...]
    currency: str
    leap_day: LeapDay
    known_from: date | None
    covers: tuple[Text, ...]
    does_not_cover: tuple[Text, ...]
    cautions: tuple[Text, ...]
    authorities: Mapping[str, Authority]
    stages: Mapping[str, Text]
    vocabulary: Vocabulary
    definitions: Mapping[str, History[Definition]]
    requirements: Mapping[str, History[Requirement]]
    evidence: Mapping[str, History[Evidence]]
    charges: Mapping[str, History[Charge]]
    counting: Mapping[str, History[Counting]]
    sources: Mapping[str, Source]
    questions: Mapping[str, Question]
    examples: Mapping[str, Example]
    renamed: Mapping[str, str] = field(default_factory=dict)
    crosschecks: Mapping[str, History[CrossCheck]] = field(default_factory=dict)
    routes: Mapping[str, History[Route]] = field(default_factory=dict)
    layers: tuple[str, ...] = ()
    survivors: Mapping[str, Explained] = field(default_factory=dict)

    @cached_property
    def asked(self) -> tuple[Fact, ...]:
        """The facts any rule of this ruleset looks at, in the order of the vocabulary."""
        used = {
            fact.name
            for condition in self._conditions() for node in condition.walk() for fact in node.facts
        }
        used.update(self._plainly_named())
        return tuple(fact for fact in self.vocabulary.values() if fact.name in used)

    def _conditions(self) -> Iterator[Condition]:
        for definition in _editions(self.definitions):
            yield definition.when
            yield from (dissent.when for dissent in definition.dissents)
        for requirement in _editions(self.requirements):
            yield requirement.when
            yield from (dissent.when for dissent in requirement.dissents)
            yield from (n.when for need in requirement.needs for n in need.walk() if n.when)
        yield from (route.when for route in _editions(self.routes))
        for evidence in _editions(self.evidence):
            yield from (fresh.when for fresh in evidence.fresh if fresh.when)
        for charge in _editions(self.charges):
            yield from (w for w in (charge.when, *(f.when for f in charge.figures)) if w)

    def _plainly_named(self) -> Iterator[str]:
        yield from (history.governed_by for history in self.definitions.values())
        yield from (history.governed_by for history in self.requirements.values())
        for requirement in _editions(self.requirements):
            yield requirement.on_event
            yield from requirement.window.of if requirement.window else ()
            if requirement.window is not None and requirement.window.counting in self.counting:
                for rule in self.counting[requirement.window.counting].editions:
                    yield from rule.season
            yield from (item.fact for item in requirement.inspects)
        for charge in _editions(self.charges):
            yield from (name for figure in charge.figures for name in figure.facts)
        yield from (name for check in _editions(self.crosschecks) for name in check.agree)
        yield from (name for route in _editions(self.routes) for name in route.facts)

    def __hash__(self) -> int:
        return hash(self.digest)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Ruleset) and other.digest == self.digest

    def __repr__(self) -> str:
        return f"<Ruleset {self.jurisdiction}@{self.version} {self.digest[:12]}>"


def _editions(histories: Mapping[str, History[E]]) -> Iterator[E]:
    for history in histories.values():
        yield from history.editions


def _within(on: date, first: date | None, last: date | None) -> bool:
    return (first is None or first <= on) and (last is None or on <= last)
