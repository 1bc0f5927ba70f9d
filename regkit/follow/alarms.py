"""Which windows of which cases a new day touches: due soon, or overdue.

Two ways that agree: a plain one, and one that hands the windows of all cases to durable-rules as
facts and matches a day against them. What durable-rules was found fit and unfit for is told in
docs/windows-and-plans.rst; here it holds no state that the journal does not hold too.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import count
from typing import Any, Protocol

WARN_DAYS = 7


@dataclass(frozen=True, slots=True, order=True)
class Alarm:
    """A notice that a day brings: from `rings` on, as ordinal.

    Attributes:
        kind: `due soon` or `overdue`.
        due: the last day.
    """

    case: str
    requirement: str
    kind: str
    due: date
    rings: int


class Alarms(Protocol):
    """Knows all alarms that have not rung."""

    def set(self, case: str, alarms: Iterable[Alarm]) -> None:
        """Replace all alarms of a case."""

    def ring(self, day: date) -> list[Alarm]:
        """Return, and forget, every alarm that rings on a day or before, in order."""


class PlainAlarms:
    """Looks through all alarms each day."""

    def __init__(self) -> None:
        self._alarms: dict[str, set[Alarm]] = {}

    def set(self, case: str, alarms: Iterable[Alarm]) -> None:
        self._alarms[case] = set(alarms)

    def ring(self, day: date) -> list[Alarm]:
        found = sorted(alarm for alarms in self._alarms.values() for alarm in alarms
                       if alarm.rings <= day.toordinal())
        for alarm in found:
            self._alarms[alarm.case].discard(alarm)
        return found


_names = count()


class DurableAlarms:
    """Lets durable-rules match a day against the alarms of all cases.

    One session serves all cases (each open session costs memory, and the 1,024th fails). The name
    of a ruleset is global to the process and cannot be taken back, so each object takes a new one.

    Raises:
        ImportError: durable-rules is not installed.
    """

    def __init__(self) -> None:
        try:
            from durable import lang
        except ImportError as missing:
            raise ImportError("Following with durable-rules needs that package: pip install "
                              "durable-rules") from missing
        self._lang: Any = lang
        self._name = f"alarms-{next(_names)}"
        self._set: dict[str, dict[str, Alarm]] = {}
        self._numbers = count()
        self._rung: list[tuple[str, str]] = []
        m, c = lang.m, lang.c
        with lang.ruleset(self._name):
            lang.when_all(c.alarm << m.rings > 0, c.now << m.day >= c.alarm.rings)(self._match)

    def _match(self, match: Any) -> None:
        self._rung.append((match.alarm.case, match.alarm.id))

    def set(self, case: str, alarms: Iterable[Alarm]) -> None:
        for name, alarm in self._set.pop(case, {}).items():
            self._lang.retract_fact(self._name, self._fact(name, alarm))
        self._set[case] = {f"a{next(self._numbers)}": alarm for alarm in sorted(set(alarms))}
        for name, alarm in self._set[case].items():
            self._lang.assert_fact(self._name, self._fact(name, alarm))

    def ring(self, day: date) -> list[Alarm]:
        now = {"id": f"d{next(self._numbers)}", "day": day.toordinal()}
        self._rung.clear()
        self._lang.assert_fact(self._name, now)
        self._lang.retract_fact(self._name, now)
        found = []
        for case, name in self._rung:
            alarm = self._set[case].pop(name)
            self._lang.retract_fact(self._name, self._fact(name, alarm))
            found.append(alarm)
        return sorted(found)

    def _fact(self, name: str, alarm: Alarm) -> dict[str, Any]:
        return {"id": name, "case": alarm.case, "rings": alarm.rings}
