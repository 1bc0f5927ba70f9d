"""One case under several jurisdictions: what was carried over, and what each makes of it. Frozen.

The picture is that of a choice not yet made: the same vehicle, brought to another country instead,
on the same day and in the same way. What is told of one country is not taken to hold in another.
"""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Phrase
from regkit.model.assessment import Assessment
from regkit.model.case import Case
from regkit.model.scenarios import NONE, Row


@dataclass(frozen=True)
class Carried:
    """A case as it counts under another jurisdiction.

    Attributes:
        left_behind: facts that are told of the case's own country and so not of this one.
        not_asked: facts in words of other jurisdictions, which no rule here knows.
        notes: how the case was carried: what was left out or taken otherwise, and why.
    """

    case: Case
    left_behind: tuple[str, ...] = ()
    not_asked: tuple[str, ...] = ()
    notes: tuple[Phrase, ...] = ()


@dataclass(frozen=True)
class Country:
    """What one jurisdiction makes of a case that was carried there."""

    carried: Carried
    assessment: Assessment

    @property
    def code(self) -> str:
        """The code of the jurisdiction."""
        return self.assessment.ruleset.jurisdiction


@dataclass(frozen=True)
class Across:
    """One case across several jurisdictions.

    Attributes:
        case: the case as its keeper wrote it.
        rows: what the countries are compared by; a fact that a country does not ask, or a class,
            step, paper or charge it does not know, has `NONE` for an answer.
    """

    case: Case
    countries: tuple[Country, ...]
    rows: tuple[Row, ...]

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of the jurisdictions, in the order asked for."""
        return tuple(country.code for country in self.countries)

    def part(self, name: str) -> tuple[Row, ...]:
        """Return the rows of one part."""
        return tuple(row for row in self.rows if row.part == name)

    def having(self, row: Row) -> tuple[str, ...]:
        """Return the codes of the jurisdictions that know what a row is about."""
        return tuple(code for code, answer in zip(self.codes, row.answers, strict=True)
                     if answer != NONE)

