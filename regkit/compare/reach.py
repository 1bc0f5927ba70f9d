"""What a ruleset can never reach: rules no vehicle or every vehicle meets, thresholds and
definitions that never decide, classes that meet though they exclude each other, gaps in time.

Exact over every vehicle and every day of a span: each answer is worked out on the first day of each
era, on whose other days nothing differs. Where a picture grows too large nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from itertools import pairwise
from typing import Any

from regkit.compare.eras import Eras, Span, events, law_tests, reached, stretches
from regkit.compare.witnesses import witness
from regkit.conditions import Condition, Holds, Test
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, TRUE, TooLarge, Variable, WordSet, asked_by
from regkit.judge.exact import Exact
from regkit.judge.law import Law, law_on
from regkit.judge.possible import Possible
from regkit.model.case import Case
from regkit.model.changes import Witness
from regkit.model.ruleset import Edition, History, Ruleset

EARLIEST = date(1980, 1, 1)
YEARS_AHEAD = 30


def looked_at(ruleset: Ruleset, today: date) -> Span:
    """Return the days on which rules are looked at: from the first known, to years ahead."""
    return (min(ruleset.known_from or EARLIEST, today),
            date(today.year + YEARS_AHEAD, 12, 31))


@dataclass(frozen=True)
class Gap:
    """The days between two enacted editions of an entry on which there was no rule."""

    first: date
    last: date
    before: Edition
    after: Edition


def gaps(history: History[Any]) -> Iterator[Gap]:
    """Yield the gaps between the enacted editions of an entry, oldest first."""
    enacted = [edition for edition in history.editions if edition.state == "enacted"]
    for before, after in pairwise(enacted):
        if before.last is not None and after.first is not None:
            first, last = before.last + timedelta(days=1), after.first - timedelta(days=1)
            if first <= last:
                yield Gap(first, last, before, after)


@dataclass(frozen=True)
class Reach:
    """Asks a ruleset what it can reach.

    Attributes:
        today: looked at first, since it mostly settles the question; then all of `looked_at`.
    """

    ruleset: Ruleset
    today: date

    def always(self, kind: str, name: str) -> bool | None:
        """Return True if every vehicle meets an entry's condition whenever it is in force, False if
        none ever does, and None if some do or nothing can be said.

        Args:
            kind: `definitions` or `requirements`.
        """
        seen = None
        for law in self._laws([(kind, name)]):
            condition = _condition(law, kind, name)
            if condition is None:
                continue
            drawn = Exact(law.view(self._nobody)).open_part(condition)
            if drawn not in (TRUE, FALSE) or seen not in (None, drawn is TRUE):
                return None
            seen = drawn is TRUE
        return seen

    def idle_tests(self, kind: str, name: str) -> Iterator[tuple[Edition, Test]]:
        """Yield the tests an edition makes whose answer never changes that of its condition."""
        history: History[Any] = getattr(self.ruleset, kind)[name]
        idle: dict[int, dict[Test, None]] = {}
        for law in self._laws([(kind, name)]):
            for at, edition in enumerate(history.editions):
                if edition.state == "enacted" and (
                    history.governed_by or edition.in_force(law.day.on)
                ):
                    here = self._idle_here(law, edition.when)
                    before = idle.get(at)
                    idle[at] = here if before is None else {
                        test: None for test in before if test in here}
            if not any(idle.get(at, True) for at in range(len(history.editions))):
                return
        for at, tests in idle.items():
            yield from ((history.editions[at], test) for test in tests)

    def never_matters(self, name: str) -> bool:
        """Return whether rules name a definition and none of them ever depends on it."""
        users = [user for user in self._rules() if any(
            name in _held(condition) for condition in self._written(*user))]
        for law in self._laws(users) if users else ():
            for user in users:
                for condition in self._counting(law, *user):
                    if name in _held(condition) and self._matters(law, name, condition):
                        return False
        return bool(users)

    def together(self, one: str, other: str) -> Witness | None:
        """Return a vehicle, and a day, for which two definitions hold; None if there is none."""
        for law in self._laws([("definitions", one), ("definitions", other)]):
            cells = Cells(law.view(self._nobody))
            try:
                both = cells.diagrams.both(cells.holds(one), cells.holds(other))
            except TooLarge:
                continue
            if both is not FALSE and Possible(cells).world(both) is not None:
                return witness(cells, both, law.day.on)
        return None

    @property
    def _nobody(self) -> Case:
        return Case(self.ruleset.jurisdiction, {}, vocabulary=self.ruleset.vocabulary)

    def _laws(self, entries: Iterable[tuple[str, str]]) -> Iterator[Law]:
        """Yield the law of today, then that of the first day of each era of some entries."""
        entries = list(entries)
        ruleset = self.ruleset
        yield law_on(ruleset, self.today)
        written = [condition for entry in entries for condition in self._written(*entry)]
        histories = [getattr(ruleset, kind)[name] for kind, name in entries]
        happened = [event for kind, name in entries if kind == "requirements"
                    for event in events(ruleset, name)]
        for stretch in stretches((*histories, *reached(ruleset, written).values()),
                                 *self._eras.horizon):
            law = law_on(ruleset, stretch[0])
            here = [condition for entry in entries for condition in self._counting(law, *entry)]
            if here:
                tests = [*law_tests(law, here), *happened]
                yield from (law_on(ruleset, start) for start, _ in self._eras.of(tests, stretch))

    @cached_property
    def _eras(self) -> Eras:
        return Eras(self.ruleset.vocabulary, self.ruleset.leap_day,
                    looked_at(self.ruleset, self.today))

    def _rules(self) -> Iterator[tuple[str, str]]:
        for kind in ("definitions", "requirements", "charges", "evidence"):
            yield from ((kind, name) for name in getattr(self.ruleset, kind))

    def _written(self, kind: str, name: str) -> list[Condition]:
        """Return every condition of an entry, in all its enacted editions."""
        history: History[Any] = getattr(self.ruleset, kind)[name]
        return [condition for edition in history.editions if edition.state == "enacted"
                for condition in _conditions(edition)]

    def _counting(self, law: Law, kind: str, name: str) -> list[Condition]:
        """Return the conditions of an entry that count on a day; of all editions if an event does.
        """
        history: History[Any] = getattr(self.ruleset, kind)[name]
        if history.governed_by:
            return self._written(kind, name)
        edition = history.on(law.day.on)
        return [] if edition is None else list(_conditions(edition))

    def _idle_here(self, law: Law, condition: Condition) -> dict[Test, None]:
        cells = Cells(law.view(self._nobody))
        try:
            drawn = cells.draw(condition)
            asked = asked_by(drawn)
            # That the whole never decides is another remark.
            return {} if drawn in (TRUE, FALSE) else {
                test: None
                for test in law_tests(law, [condition], _held(condition))
                if any(_idle(cells.diagrams.variables[key], cuts, asked.get(key, ()))
                       for key, cuts in asked_by(cells.draw(test)).items())}
        except TooLarge:
            return {}

    def _matters(self, law: Law, name: str, condition: Condition) -> bool:
        cells = Cells(law.view(self._nobody), kept_whole={name: f"holds {name}"})
        try:
            return f"holds {name}" in asked_by(cells.draw(condition))
        except TooLarge:
            return True


def _idle(variable: Variable, cuts: Iterable[Any], asked: Iterable[Any]) -> bool:
    """Return whether a condition asks for a variable nowhere where a test cuts it.

    Words are cut off from the rest, so which of them a diagram names says nothing by itself.
    """
    return not set(asked) if isinstance(variable, WordSet) else not set(cuts) & set(asked)


def _condition(law: Law, kind: str, name: str) -> Condition | None:
    if kind == "definitions":
        return law.definitions[name].condition
    return law.requirements[name]


def _conditions(edition: Any) -> Iterator[Condition]:
    """Yield the conditions an edition states: its own, and those of its parts."""
    parts = [edition, *(part for need in getattr(edition, "needs", ()) for part in need.walk()),
             *(part for name in ("figures", "dissents", "fresh")
               for part in getattr(edition, name, ()))]
    yield from (when for part in parts if (when := getattr(part, "when", None)) is not None)


def _held(condition: Condition) -> set[str]:
    return {part.definition for part in condition.walk() if isinstance(part, Holds)}
