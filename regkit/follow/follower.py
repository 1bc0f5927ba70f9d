"""The follower: takes events, keeps cases, calls back what is due, possible or changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import regkit
from regkit.compare.watching import answers_on, last_days
from regkit.follow.alarms import WARN_DAYS, Alarm, Alarms, PlainAlarms
from regkit.follow.events import (
    CaseData,
    CaseEvent,
    CaseOpened,
    DayPassed,
    Event,
    read,
    written,
)
from regkit.follow.journal import Journal
from regkit.model.case import Case
from regkit.model.plan import StepState
from regkit.model.ruleset import Ruleset


@dataclass(frozen=True, slots=True)
class Notice:
    """Something the keeper of a case should hear.

    Attributes:
        kind: `due soon`, `overdue`, `now possible` or `answer changed`.
        about: the requirement or class.
        says: the last day, or the new answer.
        cause: the name of the event that brought it; with the rest it makes `name`, which is the
            same whenever the notice is given again.
    """

    case: str
    kind: str
    about: str
    says: str
    cause: str

    @property
    def name(self) -> str:
        """What this notice is called; give it to whoever must not act on it twice."""
        return f"{self.cause}/{self.case}/{self.kind}/{self.about}/{self.says}"

    def __str__(self) -> str:
        return f"{self.case}: {self.kind}: {self.about}" + (f", {self.says}" if self.says else "")


@dataclass
class _Open:
    """One case as it stands; what was last known of it is worked out when it is needed.

    Attributes:
        rules: where its ruleset is, as the event says that opened it.
        answers: its verdicts and classes on the day it is.
        possible: the steps that are ready on that day.
    """

    data: CaseData
    case: Case
    rules: str = ""
    answers: Mapping[str, str] | None = None
    possible: frozenset[str] | None = None

    @property
    def ruleset(self) -> Ruleset:
        """The ruleset it is judged by, read again in each process, as the shipped ones are."""
        return _ruleset(self.rules, self.case.jurisdiction)


class Follower:
    """Follows all cases of one journal.

    Args:
        journal: the file; it is made if it is not there.
        callback: called with each notice, in order.
        alarms: what matches days against windows; the plain way by default.
        warn_days: how many days before a last day a window is 'due soon'.

    Raises:
        Damaged: the journal is not as it was written, or is open elsewhere.
    """

    def __init__(
        self, journal: Path, callback: Callable[[Notice], object], alarms: Alarms | None = None,
        warn_days: int = WARN_DAYS,
    ) -> None:
        self.callback = callback
        self.warn_days = warn_days
        self.day: date | None = None
        self.cases: dict[str, _Open] = {}
        self._alarms: Alarms = PlainAlarms() if alarms is None else alarms
        self._rung: set[tuple[str, str, str, str]] = set()
        self._waiting: list[tuple[str, list[Notice]]] = []
        self.journal = Journal(journal)
        for entry in list(self.journal.entries):
            if "event" in entry:
                self._replay(entry)
            elif "notice" in entry and f"told {entry['notice']['cause']}" in self.journal.names:
                told = entry["notice"]
                self._note(told["case"], told["about"], told["kind"], told["says"])
        self._give()

    def take(self, event: Event, name: str = "") -> bool:
        """Take an event: write it down, then call back what it brings.

        Args:
            name: what the event is called by whoever sends it; one that was taken already is left
                alone. Without a name every event counts as a new one.

        Returns:
            Whether the event was new.

        If a callback raises, what is left is given again with the next event, or when the journal
        is opened again.

        Raises:
            ValueError: the event makes no sense (an unknown case, a fact that cannot be read, a day
                that lies before the last); nothing was written.
        """
        name = name or f"event {len(self.journal.entries)}"
        if name in self.journal.names:
            return False
        self._give()
        self._check(event)
        self.journal.add(name, written(event))
        self._waiting.append((name, list(self._fold(event, name))))
        self._give()
        return True

    def state(self) -> dict[str, Any]:
        """Return what is known now as JSON data; the same events always come to the same."""
        return {
            "day": self.day.isoformat() if self.day else None,
            "cases": {name: open_.data for name, open_ in sorted(self.cases.items())},
        }

    def close(self) -> None:
        """Close the journal."""
        self.journal.close()

    # -------------------------------------------------------------- events

    def _check(self, event: Event) -> None:
        if isinstance(event, DayPassed):
            try:
                day = date.fromisoformat(event.day)
            except ValueError:
                raise ValueError(f"{event.day!r} is no day; write for example 2026-04-01") from None
            if self.day is not None and day < self.day:
                raise ValueError(f"{day} lies before {self.day}, the day it is already")
            return
        known = event.case in self.cases
        if isinstance(event, CaseOpened) == known:
            raise ValueError(f"the case `{event.case}` is "
                             + ("open already" if known else "not open"))
        self._opened(event)

    def _opened(self, event: CaseEvent) -> _Open:
        """Return a case as it stands after an event about it."""
        known = self.cases.get(event.case)
        rules = event.ruleset if isinstance(event, CaseOpened) else known.rules if known else ""
        data = event.after(known.data if known else {})
        ruleset = _ruleset(rules, str(data.get("jurisdiction", ""))) if rules else None
        return _Open(data, regkit.read_case(data, ruleset), rules)

    def _apply(self, event: Event) -> None:
        """Take an event into the state, without looking at what it brings."""
        if isinstance(event, DayPassed):
            self.day = date.fromisoformat(event.day)
            for open_ in self.cases.values():
                open_.answers = open_.possible = None
        else:
            self.cases[event.case] = self._opened(event)

    def _fold(self, event: Event, cause: str) -> Iterator[Notice]:
        touched = list(self.cases) if isinstance(event, DayPassed) else [event.case]
        before = {name: self._known(name) for name in touched if name in self.cases}
        earlier = self.day
        self._apply(event)
        for name in touched:
            after = self._known(name)
            old = before.get(name)
            if old is not None and old.answers is not None and earlier is not None:
                if old.answers == after.answers and isinstance(event, DayPassed):
                    after.possible = old.possible
                else:
                    yield from self._differences(name, old, earlier, after, cause)
        yield from self._ring(cause)

    def _known(self, name: str) -> _Open:
        """Return a copy of a case with its answers on the day it is, and set its alarms."""
        open_ = self.cases[name]
        if self.day is not None and open_.answers is None:
            open_.answers = answers_on(open_.case, open_.ruleset, self.day)
            self._alarms.set(name, self._alarms_of(name, open_, self.day))
        return open_ if self.day is None else replace(open_)

    def _differences(
        self, name: str, old: _Open, earlier: date, new: _Open, cause: str
    ) -> Iterator[Notice]:
        assert self.day is not None and old.answers is not None and new.answers is not None
        for about in sorted(new.answers):
            if new.answers[about] != old.answers.get(about):
                yield Notice(name, "answer changed", about, new.answers[about], cause)
        possible = _possible(new, self.day)
        self.cases[name].possible = possible
        for about in sorted(possible - (old.possible or _possible(old, earlier))):
            yield Notice(name, "now possible", about, "", cause)

    def _alarms_of(self, name: str, open_: _Open, day: date) -> Iterator[Alarm]:
        for requirement, due in last_days(open_.case, open_.ruleset, day):
            soon, over = due - timedelta(days=self.warn_days), due + timedelta(days=1)
            for kind, rings in (("due soon", soon), ("overdue", over)):
                if (name, requirement, kind, due.isoformat()) not in self._rung:
                    yield Alarm(name, requirement, kind, due, rings.toordinal())

    def _ring(self, cause: str) -> Iterator[Notice]:
        if self.day is None:
            return
        rung = self._alarms.ring(self.day)
        for alarm in rung:
            self._note(alarm.case, alarm.requirement, alarm.kind, alarm.due.isoformat())
        late = {(alarm.case, alarm.requirement) for alarm in rung if alarm.kind == "overdue"}
        for alarm in rung:
            if alarm.kind == "overdue" or (alarm.case, alarm.requirement) not in late:
                yield Notice(alarm.case, alarm.kind, alarm.requirement, alarm.due.isoformat(),
                             cause)

    # -------------------------------------------------------------- notices

    def _note(self, case: str, requirement: str, kind: str, due: str) -> None:
        """Remember that an alarm rang; what is overdue is no longer due soon."""
        for one in {kind, "due soon"}:
            self._rung.add((case, requirement, one, due))

    def _replay(self, entry: Mapping[str, Any]) -> None:
        """Take an event from the journal; what was not told of it before is told again."""
        name = entry["name"]
        event = read({key: value for key, value in entry.items() if key != "name"})
        if f"told {name}" in self.journal.names:
            self._apply(event)
            return
        notices = list(self._fold(event, name))
        left = [n for n in notices if f"notice {n.name}" not in self.journal.names]
        self._waiting.append((name, left))

    def _give(self) -> None:
        while self._waiting:
            name, notices = self._waiting[0]
            while notices:
                self.callback(notices[0])
                self.journal.add(f"notice {notices[0].name}", {"notice": asdict(notices[0])})
                del notices[0]
            self.journal.add(f"told {name}", {})
            del self._waiting[0]


def _possible(open_: _Open, day: date) -> frozenset[str]:
    """Return the steps that are ready on a day."""
    plan = regkit.assess(open_.case, open_.ruleset, day).plan
    return frozenset(step.requirement for step in plan.in_state(StepState.READY))


def _ruleset(rules: str, jurisdiction: str) -> Ruleset:
    """Return the ruleset at a place, or the shipped one of a jurisdiction.

    Raises:
        Unreadable: there is none, or something in it is wrong.
    """
    if not rules:
        return regkit.load(jurisdiction)
    return regkit.load(Path(rules) if Path(rules).is_dir() else rules)
