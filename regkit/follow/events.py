"""What can happen to a case that is followed. Events are plain values that go into a journal."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

CaseData = dict[str, Any]
"""A case as a case file would say it: jurisdiction, facts, papers, done."""


@dataclass(frozen=True)
class CaseOpened:
    """A case is followed from now on.

    Attributes:
        ruleset: the folder of the ruleset it is judged by, or a released version such as
            GB@2026.1; empty for the shipped one of its jurisdiction.
    """

    case: str
    data: Mapping[str, Any]
    ruleset: str = ""

    def after(self, data: CaseData) -> CaseData:
        """Return the case as it stands after this event."""
        return {"facts": {}, "papers": [], "done": [], **self.data}


@dataclass(frozen=True)
class FactLearnt:
    """A fact is told, or told otherwise than before; written as in a case file."""

    case: str
    fact: str
    value: Any

    def after(self, data: CaseData) -> CaseData:
        """Return the case as it stands after this event."""
        return {**data, "facts": {**data["facts"], self.fact: self.value}}


@dataclass(frozen=True)
class PaperReceived:
    """A paper has come; written as in a case file."""

    case: str
    paper: Mapping[str, Any]

    def after(self, data: CaseData) -> CaseData:
        """Return the case as it stands after this event."""
        return {**data, "papers": [*data["papers"], dict(self.paper)]}


@dataclass(frozen=True)
class StepDone:
    """A requirement has been met, on a day in ISO 8601, under a reference."""

    case: str
    requirement: str
    on: str
    reference: str = ""

    def after(self, data: CaseData) -> CaseData:
        """Return the case as it stands after this event."""
        entry = {"requirement": self.requirement, "on": self.on}
        if self.reference:
            entry["reference"] = self.reference
        return {**data, "done": [*data["done"], entry]}


@dataclass(frozen=True)
class DayPassed:
    """It is this day now, in ISO 8601; for all cases."""

    day: str


CaseEvent = CaseOpened | FactLearnt | PaperReceived | StepDone
Event = CaseEvent | DayPassed

_KINDS: dict[str, type[Any]] = {
    kind.__name__: kind for kind in (CaseOpened, FactLearnt, PaperReceived, StepDone, DayPassed)
}


def written(event: Event) -> dict[str, Any]:
    """Return an event as JSON data."""
    return {"event": type(event).__name__, **asdict(event)}


def read(data: Mapping[str, Any]) -> Event:
    """Return the event that JSON data is.

    Raises:
        KeyError: there is no such kind of event.
    """
    rest = {key: value for key, value in data.items() if key != "event"}
    event: Event = _KINDS[data["event"]](**rest)
    return event
