"""Does a date lie before or after a cut-off, fixed or stepped?

    vehicle.built: {before: 1980-01-01}
    vehicle.built: {before: "1 January, 40 years before the latest 1 April"}
    plates.made: {on or after: 2021-01-01, before: 2021-09-01}

A stepped cut-off moves once a year: take the latest 1 April on or before the day the law is asked
about, go back 40 calendar years from its year, and take 1 January of that year.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, ClassVar, Self

from regkit.conditions.cut import Between
from regkit.conditions.cut import day as day_number
from regkit.conditions.kinds.kind import Kind, Misread, only_keys
from regkit.conditions.truth import NO, Truth
from regkit.conditions.view import LawDay, View
from regkit.language import Phrase, phrase, plural
from regkit.model.calendar import DayOfYear
from regkit.model.facts import Fact, Vocabulary

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September",
           "October", "November", "December")
_DAY = rf"(\d{{1,2}}) ({'|'.join(_MONTHS)})"
_FIXED = re.compile(r"\d{4}-\d{2}-\d{2}")
_STEPPED = re.compile(rf"{_DAY}, (\d{{1,3}}) years? before the latest {_DAY}")
_KEYS = {"before": "not before", "on or after": "before", "after": "not after",
         "on or before": "after"}
_SAYS = {
    "before": "before {cut_off}",
    "not before": "not before {cut_off}",
    "on or after": "on or after {cut_off}",
    "after": "after {cut_off}",
    "not after": "not after {cut_off}",
    "on or before": "on or before {cut_off}",
}
_FORM = (r"^(\d{4}-\d{2}-\d{2}|\d{1,2} [A-Z][a-z]+, \d{1,3} years? before the latest "
         r"\d{1,2} [A-Z][a-z]+)$")


@dataclass(frozen=True, slots=True)
class Stepped:
    """The cut-off `day`, so many years before the year of the latest `step`."""

    day: DayOfYear
    years: int
    step: DayOfYear

    def on(self, when: date) -> date:
        """Return the cut-off that counts on a day."""
        return self.day.in_year(self.step.latest(when).year - self.years)


CutOff = date | Stepped


@dataclass(frozen=True, slots=True)
class Moment(Kind):
    """The date lies before, on or after a cut-off; with two bounds, between them."""

    fact: Fact
    bounds: tuple[tuple[str, CutOff], ...]

    types: ClassVar[tuple[str, ...]] = ("date",)
    example: ClassVar[str] = (
        "{before: 1980-01-01} or {before: 1 January, 40 years before the latest 1 April}"
    )
    schema: ClassVar[Mapping[str, Any]] = {
        "type": "object",
        "properties": {key: {"type": "string", "pattern": _FORM} for key in _KEYS},
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": 2,
        "description": "before or after a cut-off: a date, or '1 January, 40 years before the "
        "latest 1 April'",
    }

    @classmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        keys = only_keys(written, tuple(_KEYS))
        if keys is None:
            return None
        return cls(fact, tuple((key, _cut_off(keys[key])) for key in _KEYS if key in keys))

    def cut(self, day: LawDay) -> Between:
        low: list[int] = []
        high: list[int] = []
        for key, cut_off in self.bounds:
            number = day_number(_resolved(cut_off, day))
            side = high if key in ("before", "on or before") else low
            side.append(number + 1 if key in ("after", "on or before") else number)
        return Between(self.key, max(low, default=None), min(high, default=None))

    def rule(self) -> Phrase:
        parts = tuple(
            phrase(_SAYS[key], cut_off=_say_rule(cut_off)) for key, cut_off in self.bounds)
        return phrase("{label} {parts}", label=self.fact.label, parts=parts)

    def relation(self, view: View, outcome: Truth) -> Phrase:
        flipped = outcome == NO and len(self.bounds) == 1
        parts = tuple(
            phrase(_SAYS[_KEYS[key] if flipped else key], cut_off=_say(cut_off, view.day))
            for key, cut_off in self.bounds)
        said = phrase("{parts}", parts=parts)
        return phrase("not {said}", said=said) if outcome == NO and len(parts) > 1 else said


def _resolved(cut_off: CutOff, day: LawDay) -> date:
    return cut_off.on(day.on) if isinstance(cut_off, Stepped) else cut_off


def _cut_off(written: Any) -> CutOff:
    text = str(written)
    try:
        if _FIXED.fullmatch(text):
            return date.fromisoformat(text)
        if found := _STEPPED.fullmatch(text):
            return Stepped(_day_of_year(found[1], found[2]), int(found[3]),
                           _day_of_year(found[4], found[5]))
    except ValueError as wrong:
        raise Misread(f"{text!r} names a day that does not exist ({wrong})") from wrong
    raise Misread(f"{text!r} is no cut-off; write a date such as 1980-01-01, or "
                  "'1 January, 40 years before the latest 1 April'")


def _day_of_year(day: str, month: str) -> DayOfYear:
    return DayOfYear(_MONTHS.index(month) + 1, int(day))


def _say_rule(cut_off: CutOff) -> Phrase:
    if not isinstance(cut_off, Stepped):
        return phrase("{day}", day=cut_off)
    return plural("{day}, {count} year before the latest {step}",
                  "{day}, {count} years before the latest {step}",
                  count=cut_off.years, day=cut_off.day, step=cut_off.step)


def _say(cut_off: CutOff, day: LawDay) -> Phrase:
    if not isinstance(cut_off, Stepped):
        return phrase("{day}", day=cut_off)
    step = cut_off.step.latest(day.on)
    next_step = cut_off.step.in_year(step.year + 1)
    return phrase("{day}, the date that counts from {step} to {last}", day=cut_off.on(day.on),
                  step=step, last=next_step - timedelta(days=1))
