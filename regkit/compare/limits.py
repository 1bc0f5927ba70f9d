"""Boxes in words: what a vehicle must be to lie inside, on the first day and on the last."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from regkit.compare.leap_days import NO_ANNIVERSARY
from regkit.conditions.diagram import BEGINNING, NEVER_DAY, Line, Part, Variable
from regkit.language import Either, Phrase, Text, joined, phrase
from regkit.model.changes import Limit
from regkit.model.facts import Fact, Vocabulary
from regkit.model.values import UNKNOWN, day_of

HOLDS, BEFORE, AFTER = "holds", "before", "after"
"""How the variable of a definition that is kept whole begins: the same on both sides, or of one."""

_STEP = Decimal("0.0000001")
_BETWEEN = re.compile(r"(?P<start>\S+) \+ (?P<length>\d+ [a-z ]+) to (?P<end>\S+)")
_WITHOUT = re.compile(rf"\S+ \+ (?P<length>\d+ [a-z ]+) {NO_ANNIVERSARY}")
_EXACTLY = {-1: "a day less than {length}", 0: "exactly {length}", 1: "a day more than {length}"}
_LENGTH: Mapping[Any, str] = {
    (False, 0): "at least {length}", (False, 1): "more than {length}",
    (True, 0): "less than {length}", (True, 1): "at most {length}"}
_ORDER: Mapping[Any, str] = {
    (False, 0): "'{end}' not before '{start}'", (False, 1): "'{end}' after '{start}'",
    (True, 0): "'{end}' before '{start}'", (True, 1): "'{end}' not after '{start}'"}


@dataclass(frozen=True)
class Sayer:
    """Says boxes with the labels of a vocabulary."""

    vocabulary: Vocabulary
    titles: Mapping[str, Text]

    def limit(
        self, variable: Variable, first: tuple[Part, ...], last: tuple[Part, ...],
        grid: tuple[Part, ...],
    ) -> Limit:
        """Return the limit that a variable lies in some parts on the first and the last day.

        Args:
            grid: all parts of its domain, to say few words by what they are not.
        """
        spans = _days(variable, first)
        label = phrase("{label}", label=self._fact(variable).label) if spans else None
        return Limit(
            variable.key, self.say(variable, first, grid), self.say(variable, last, grid),
            spans, _days(variable, last), label,
        )

    def _fact(self, variable: Variable) -> Fact:
        return self.vocabulary.get(variable.facts[0].name, variable.facts[0])

    def say(
        self, variable: Variable, parts: tuple[Part, ...], grid: tuple[Part, ...]
    ) -> Phrase:
        """Return the words for the parts a variable lies in."""
        if variable.about == "definition":
            when, name = variable.key.split(" ", 1)
            template = {HOLDS: "'{title}': {words}", BEFORE: "'{title}' before: {words}",
                        AFTER: "'{title}' now: {words}"}[when]
            return phrase(template, title=self.titles[name], words=parts)
        fact = self._fact(variable)
        if variable.about == UNKNOWN:
            template = "{label} said to be unknown" if parts == ("yes",) else (
                "{label} not said to be unknown")
            return phrase(template, label=fact.label)
        if isinstance(variable, Line):
            return self._say_line(variable, fact, parts)
        return _say_words(fact, parts, grid)

    def _say_line(self, variable: Line, fact: Fact, parts: tuple[Part, ...]) -> Phrase:
        spans = merged(parts)
        without = _WITHOUT.fullmatch(variable.key)
        if without is not None:
            template = ("{label} on a 29 February that has no anniversary after {length}"
                        if spans[0][0] == 1 else
                        "{label} not on a 29 February that has no anniversary after {length}")
            return phrase(template, label=fact.label, length=without["length"])
        if len(variable.facts) > 1 and fact.type != "date":
            other = self.vocabulary.get(variable.facts[1].name, variable.facts[1])
            said = joined(*(_say_numbers(low, high, fact.unit) for low, high in spans), by=" or ")
            return phrase("{label} less {other}: {said}", label=fact.label, other=other.label,
                          said=said)
        if len(variable.facts) > 1:
            between = self._say_between(variable, spans)
            if between is not None:
                return between
            labels = tuple(self.vocabulary.get(f.name, f).label for f in variable.facts)
            said = joined(*(_say_count(low, high) for low, high in spans), by=" or ")
            return phrase("days between {labels} ({key}): {said}", labels=labels,
                          key=variable.key, said=said)
        say = _say_days if fact.type == "date" else _say_numbers
        unit = fact.unit or variable.key.rsplit(" in ", 1)[-1]
        said = joined(*(say(low, high, unit) for low, high in spans), by=" or ")
        return phrase("{label} {said}", label=fact.label, said=said)

    def _say_between(self, variable: Line, spans: list[tuple[Any, Any]]) -> Phrase | None:
        """Say a bound on what lies between two dates as the rule does; None for other bounds."""
        found = _BETWEEN.fullmatch(variable.key)
        dated = [span for span in spans if span[0] != NEVER_DAY]
        if found is None or len(dated) != 1:
            return None
        (low, high), = dated
        ahead, behind = low == BEGINNING, high in (None, NEVER_DAY)
        exactly = _EXACTLY.get(low) if not behind and high == low + 1 else None
        bound = (high if ahead else low) if ahead != behind else None
        if exactly is None and bound not in (0, 1):
            return None
        facts = {fact.name: self.vocabulary.get(fact.name, fact) for fact in variable.facts}
        start, end = (facts[found[name]].label for name in ("start", "end"))
        never = ", or never" if high is None or len(spans) > 1 else ""
        if found["length"].startswith("0 "):
            template = _ORDER[ahead, bound]
            return phrase(template + never, start=start, end=end)
        return phrase("from '{start}' to '{end}' " + (exactly or _LENGTH[ahead, bound]) + never,
                      start=start, end=end, length=found["length"])


def merged(parts: Iterable[Part]) -> list[tuple[Any, Any]]:
    """Return the parts of a line with those that touch put together."""
    found: list[tuple[Any, Any]] = []
    for low, high in parts:
        if found and found[-1][1] == low:
            found[-1] = (found[-1][0], high)
        else:
            found.append((low, high))
    return found


def _days(
    variable: Variable, parts: tuple[Part, ...]
) -> tuple[tuple[date | None, date | None], ...]:
    """Return first and last day of each span of a date; `never` is left out."""
    if not (isinstance(variable, Line) and variable.key == variable.facts[0].name
            and variable.facts[0].type == "date"):
        return ()
    return tuple(
        (day_of(low), None if high in (None, NEVER_DAY) else day_of(high - 1))
        for low, high in merged(parts) if low != NEVER_DAY
    )


def _say_days(low: Any, high: Any, _: str) -> Phrase:
    first = day_of(low)
    if low == NEVER_DAY:
        return phrase("never")
    if high is None or high == NEVER_DAY:
        tail = ", or never" if high is None else ""
        if first is None:
            return phrase("on some day" + tail)
        return phrase("from {first} on" + tail, first=first)
    last = day_of(high - 1)
    assert last is not None
    if first is None:
        return phrase("before {day}", day=day_of(high) or last)
    if first == last:
        return phrase("on {day}", day=first)
    return phrase("from {first} to {last}", first=first, last=last)


def _say_numbers(low: Any, high: Any, unit: str) -> Phrase:
    parts = []
    if low != BEGINNING:
        parts.append(_bound(low, "at least", "more than", unit))
    if high is not None:
        parts.append(_bound(high, "less than", "at most", unit))
    return joined(*parts, by=" and ")


def _bound(number: Decimal, plain: str, stepped: str, unit: str) -> Phrase:
    whole = number - _STEP
    # A bound one step past a number of six places stands for that number itself.
    if whole == whole.quantize(Decimal("0.000001")):
        return phrase(stepped + " {number} {unit}", number=whole.normalize() + 0, unit=unit)
    return phrase(plain + " {number} {unit}", number=number, unit=unit)


def _say_count(low: Any, high: Any) -> Phrase:
    if low == NEVER_DAY:
        return phrase("never")
    if low == BEGINNING:
        return phrase("less than {high}", high=high)
    if high in (None, NEVER_DAY):
        return phrase("{low} or more", low=low)
    return phrase("{low} to {high}", low=low, high=high - 1)


def _say_words(
    fact: Fact, parts: tuple[Part, ...], everything: Iterable[Part]
) -> Phrase:
    others = [word for word in everything if word not in parts]
    if None in parts or len(others) < len(parts) - 1:
        words = Either(tuple(fact.say_word(word) for word in others))
        return phrase("{label}: anything but {words}", label=fact.label, words=words)
    return phrase("{label}: {words}", label=fact.label,
                  words=Either(tuple(fact.say_word(word) for word in parts)))
