"""What a worked example asks about one case, each answer in one word or line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from regkit.conditions import Holds
from regkit.conditions.kinds.kind import period
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.exact import Exact
from regkit.judge.readings import other_class_readings
from regkit.judge.rest_days import rest_days
from regkit.judge.windows import counting_rule, last_day, readings
from regkit.keep.comes_to import ComesTo
from regkit.model.assessment import Verdict
from regkit.model.bill import Amount
from regkit.model.packet import NeedState
from regkit.model.ruleset import Need
from regkit.model.window import Window

NO_DAY, ANY_DAY = "no day", "any day"
"""What comes out where no last day can be told, or no latest one."""

NOT_NEEDED = "not needed"
DEMANDS = ("needed", "one of several", "undecided", NOT_NEEDED)
"""How far a paper is needed, the most first: whatever the case holds."""

CHECKED = (NeedState.IN_ORDER.value, NeedState.NOT_IN_ORDER.value)
"""What may be expected of a paper that the case holds."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One answer that an example expects.

    Attributes:
        part: the key of `expect` it stands under.
        name: the definition, requirement, charge, counting rule or route it is about, by the name
            it holds now.
        item: of a requirement, the paper; of a counting rule, the period.
        wanted: the answer expected.
    """

    part: str
    name: str
    item: str
    wanted: str


def found(case: ComesTo, asked: Asked) -> str:
    """Return what one expected answer comes to."""
    return _FINDERS[asked.part](case, asked)


def _definition(case: ComesTo, asked: Asked) -> str:
    holds = Holds(asked.name, case.law.definitions[asked.name].title)
    return case.exact.truth(holds).word


def _requirement(case: ComesTo, asked: Asked) -> str:
    return case.verdict(asked.name).value


def _window(case: ComesTo, asked: Asked) -> str:
    deadline = case.finding(asked.name).deadline
    return NO_DAY if deadline is None else _days(deadline.first, deadline.last, asked.wanted)


def _period(case: ComesTo, asked: Asked) -> str:
    """Find the day on which a period ends by a rule of counting."""
    ruleset, (length, _, start) = case.law.ruleset, asked.item.rpartition(" from ")
    event = date.fromisoformat(start)
    rule = counting_rule(ruleset.counting[asked.name], event, case.law.day.on)
    window = Window(period(length.replace("working ", "")), "working" in length, (), asked.name)
    calendar = rest_days(rule.holidays, rule.special_days)
    ends = [last_day(event, window, rule, reading, calendar, ruleset.leap_day)
            for reading in readings(rule)]
    return _days(min(ends), max(ends), asked.wanted)


def _days(first: date | None, last: date | None, wanted: str) -> str:
    """Return the last day by the safe reading; where a range is wanted, that by every reading."""
    if first is None:
        return NO_DAY
    if last == first or " to " not in wanted:
        return first.isoformat()
    return f"{first} to {ANY_DAY if last is None else last}"


def _charge(case: ComesTo, asked: Asked) -> str:
    """Find a charge on the bill of the case as told, else for lateness; elsewhere it costs 0."""
    line = case.line(asked.name)
    if line is not None:
        return line.amount.written
    late = next(late_amounts(case, asked.name), None)
    return f"0 {case.law.ruleset.currency}" if late is None else late.written


def late_amounts(case: ComesTo, name: str) -> Iterator[Amount]:
    """Yield what a charge comes to for lateness, for each requirement that names it."""
    for requirement, history in case.law.ruleset.requirements.items():
        if any(name in edition.late for edition in history.editions):
            deadline = case.finding(requirement).deadline
            yield from (charge.amount for charge in (deadline.charges if deadline else ())
                        if charge.charge == name)


def _caution(case: ComesTo, asked: Asked) -> str:
    """Find whether another official reading is shown of a requirement, or of a definition."""
    if asked.name in case.law.requirements:
        return "yes" if case.finding(asked.name).other_readings else "no"
    return "yes" if other_class_readings(case.law, case.settled, asked.name) else "no"


def _paper(case: ComesTo, asked: Asked) -> str:
    """Find whether a paper is needed; where asked, whether what the case has is in order."""
    verdict = case.verdict(asked.name)
    if verdict == Verdict.NOT_REQUIRED:
        return NOT_NEEDED
    if asked.wanted in CHECKED:
        states = [leaf.state.value for check in case.needs(asked.name) for leaf in check.leaves()
                  if leaf.evidence is not None and leaf.evidence.id == asked.item]
        return min(states, key=[*CHECKED, *states].index, default=NOT_NEEDED)
    edition = case.law.edition(case.law.ruleset.requirements[asked.name], case.case)
    required = YES if verdict == Verdict.REQUIRED else UNDECIDED
    words = {word for need in edition.needs
             for name, word in _demanded(need, case.settled, required, False)
             if name == asked.item}
    return next((word for word in DEMANDS if word in words), NOT_NEEDED)


def _demanded(
    need: Need, settled: Exact, truth: Truth, several: bool
) -> Iterator[tuple[str, str]]:
    """Yield the papers of a need, with how far each is needed.

    Args:
        truth: whether what the need stands in applies.
        several: whether it is one of alternatives.
    """
    if need.when is not None:
        truth = Truth(truth & settled.truth(need.when))
    if need.evidence:
        word = {NO: NOT_NEEDED, UNDECIDED: "undecided"}.get(
            truth, "one of several" if several else "needed")
        yield need.evidence, word
    open_parts = [part for part in need.parts
                  if part.when is None or settled.truth(part.when) != NO]
    for part in need.parts:
        yield from _demanded(part, settled, truth, several or need.count < len(open_parts))


def _done(case: ComesTo, asked: Asked) -> str:
    """Find whether a requirement is met, on a day on which what shows it still counts."""
    return "yes" if case.finding(asked.name).progress.finished else "no"


def _route(case: ComesTo, asked: Asked) -> str:
    return case.route(asked.name).value


_FINDERS: Mapping[str, Callable[[ComesTo, Asked], str]] = {
    "definitions": _definition,
    "requirements": _requirement,
    "windows": _window,
    "periods": _period,
    "charges": _charge,
    "cautions": _caution,
    "papers": _paper,
    "done": _done,
    "routes": _route,
}
