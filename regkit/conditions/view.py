"""A case as a law sees it on one day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from regkit.conditions.cut import Cut
from regkit.conditions.truth import NO, Truth
from regkit.language import Text
from regkit.model.assessment import Reason
from regkit.model.calendar import LeapDay
from regkit.model.case import Case

if TYPE_CHECKING:
    from regkit.conditions.tree import Condition, Test


@dataclass(frozen=True, slots=True)
class LawDay:
    """The day the law is asked about, and how that law counts anniversaries of 29 February."""

    on: date
    leap_day: LeapDay = "1 March"


@dataclass(frozen=True, slots=True)
class Named:
    """A definition as it stands on a day; `condition` is None where no rule is in force."""

    title: Text
    condition: Condition | None
    sources: tuple[str, ...] = ()
    layer: str = ""


@dataclass(frozen=True)
class View:
    """One case seen on one day under one law; remembers the truth of definitions it has met."""

    case: Case
    day: LawDay
    definitions: Mapping[str, Named]
    questions: Mapping[str, Text]
    known_truths: dict[str, Truth] = field(default_factory=dict)
    known_reasons: dict[str, Reason] = field(default_factory=dict)
    known_tests: dict[Test, Truth] = field(default_factory=dict)
    cuts: dict[Test, Cut] = field(default_factory=dict)

    def cut(self, test: Test) -> Cut:
        """Return where a test cuts on this day; `cuts` may be shared by all views of one law."""
        found = self.cuts.get(test)
        if found is None:
            found = self.cuts[test] = test.cut(self.day)
        return found

    def holds(self, definition: str) -> Truth:
        """Return whether a definition is fulfilled; no where none is in force."""
        found = self.known_truths.get(definition)
        if found is None:
            condition = self.definitions[definition].condition
            found = NO if condition is None else condition.truth(self)
            self.known_truths[definition] = found
        return found
