"""Effects: for every outcome of two rulesets, the exact regions in which they differ.

Each entry is compared era by era. Where nothing it rests on differs, or the diagrams of both sides
are one node, that is a proof for every vehicle and every day of the era.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from itertools import pairwise
from typing import Any

from regkit.compare.eras import ONE_DAY, Eras, Span, reached, stretches
from regkit.compare.growing import Growing, Way
from regkit.compare.leap_days import follows_leap_day, turning_days
from regkit.compare.limits import Sayer
from regkit.compare.outcomes import NEVER, Entry, Item, Items, entries, items
from regkit.compare.regions import MOST_BOXES
from regkit.conditions import Condition, Holds, Test
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import Diagrams
from regkit.conditions.view import LawDay
from regkit.judge.law import Law, law_on
from regkit.language import Text
from regkit.model.calendar import LeapDay
from regkit.model.changes import Effect
from regkit.model.facts import Vocabulary
from regkit.model.ruleset import History, Ruleset

REMEMBERED = 40
"""Days whose drawings are kept."""


@dataclass
class Comparison:
    """Two rulesets over a stretch of days of assessment."""

    old: Ruleset
    new: Ruleset
    first: date
    last: date
    compared: int = 0
    _items: dict[tuple[Ruleset, date, Entry], Items] = field(default_factory=dict)
    _same: dict[tuple[date, str], bool] = field(default_factory=dict)
    _turning: dict[Test, list[date]] = field(default_factory=dict)
    _found: dict[Entry, dict[Item, Growing]] = field(default_factory=dict)
    _concrete: dict[date, list[Cells]] = field(default_factory=dict)

    def effects(self) -> Iterator[Effect]:
        """Yield how the answers differ, for each entry and item in the order of writing."""
        known = set(entries(self.old))
        old_names = {new: old for old, new in self.new.renamed.items()}
        pairs: dict[Entry, Entry] = {}
        for kind, name in entries(self.new):
            was = kind, old_names.get(name, name)
            renamed = (kind, name) not in known and was in known
            pairs[kind, name] = was if renamed else (kind, name)
        gone = known - set(pairs.values())
        pairs.update((entry, entry) for entry in entries(self.old) if entry in gone)
        for entry, was in pairs.items():
            yield from self._entry(entry, was)

    def _entry(self, entry: Entry, was: Entry) -> Iterator[Effect]:
        for item, growing in self._grown(entry, was).items():
            regions = growing.regions()
            if regions or not growing.complete:
                says = item.says if item.key else None
                yield Effect(entry[0], entry[1], self._title(entry, was), says, regions,
                             growing.complete)

    def _grown(self, entry: Entry, was: Entry) -> dict[Item, Growing]:
        """Return the regions of each item of an entry that may differ; worked out once."""
        if entry in self._found:
            return self._found[entry]
        found = self._found[entry] = {}
        for span in self._stretches(entry, was):
            old, new = law_on(self.old, span[0]), law_on(self.new, span[0])
            before, after = self.items(old, was), self.items(new, entry)
            for item in dict.fromkeys((*before, *after)):
                self.compared += 1
                pair = before.get(item, NEVER), after.get(item, NEVER)
                if not self.equal(*pair, old, new):
                    found.setdefault(item, Growing(self, entry, was, item)).add(span)
        return found

    def items(self, law: Law, entry: Entry) -> Items:
        """Return the outcomes of an entry under the law of a side on a day; worked out once."""
        asked = law.ruleset, law.day.on, entry
        if asked not in self._items:
            self._items[asked] = items(law, entry)
        return self._items[asked]

    def _stretches(self, entry: Entry, was: Entry) -> Iterator[Span]:
        """Yield the spans of days in which no edition changes.

        A day on which the sides reckon otherwise how long ago a date is stands alone.
        """
        histories = self._histories(entry, was)
        alone = {turn for day in self._turning_days(histories) for turn in (day, day + ONE_DAY)}
        for span in stretches(histories, self.first, self.last):
            turns = sorted(turn for turn in alone if span[0] < turn <= span[1])
            for start, following in pairwise([span[0], *turns, span[1] + ONE_DAY]):
                yield start, following - ONE_DAY

    @cached_property
    def leap_days(self) -> tuple[LeapDay, ...]:
        """The rules for 29 February, that of the new side first."""
        return tuple(dict.fromkeys((self.new.leap_day, self.old.leap_day)))

    def placed_within(self, span: Span) -> Span:
        """Return the days over which to see whether the bounds of a region move.

        What differs on 28 February of one year does so in others, with other bounds: one region.
        """
        alone = len(self.leap_days) > 1 and span[0] == span[1]
        return (self.first, self.last) if alone else span

    def _turning_days(self, histories: Iterable[History[Any]]) -> set[date]:
        if len(self.leap_days) == 1:
            return set()
        tests = {part for history in histories for condition in _conditions(history)
                 for part in condition.walk() if isinstance(part, Test)}
        return {day for test in tests for day in self._turns_on(test)}

    def _turns_on(self, test: Test) -> list[date]:
        """Return the days on which the two sides cut a test otherwise."""
        if test not in self._turning:
            self._turning[test] = [
                day for day in turning_days(self.first, self.last)
                if len({test.cut(LawDay(day, rule)) for rule in self.leap_days}) > 1]
        return self._turning[test]

    def boxes_of(self, definition: str, span: Span) -> int:
        """Return in how many regions a definition changed within a stretch of days; 0: proven none.

        A change that hangs on an open question counts as one.
        """
        entry = ("definition", definition)
        grown = self._grown(entry, entry).values()
        if not all(growing.complete for growing in grown):
            return MOST_BOXES
        return any(growing.hidden for growing in grown) + sum(
            any(first <= span[1] and span[0] <= last for first, last in found.days)
            for growing in grown for found in growing.found.values()
        )

    def may_change(self, definition: str, ways: Collection[Way], span: Span) -> bool:
        """Return whether a definition may come to hold, or to hold no more, on a day of a span."""
        entry = ("definition", definition)
        return any(
            not growing.complete or growing.hidden or any(
                way in ways and first <= span[1] and span[0] <= last
                for (way, _), found in growing.found.items() for first, last in found.days)
            for growing in self._grown(entry, entry).values()
        )

    def _title(self, entry: Entry, was: Entry) -> Text:
        history = _history(self.new, entry) or _history(self.old, was)
        assert history is not None
        title: Text = history.latest.title
        return title

    def _histories(self, entry: Entry, was: Entry) -> list[History[Any]]:
        found: list[History[Any]] = []
        for ruleset, own in ((self.old, was), (self.new, entry)):
            history = _history(ruleset, own)
            if history is None:
                continue
            found.append(history)
            found += ruleset.counting.values() if own[0] == "window" else []
            conditions = list(_conditions(history))
            found += reached(ruleset, conditions).values()
        return found

    def equal(self, before: Condition, after: Condition, old: Law, new: Law) -> bool:
        """Return whether two conditions are the same in all they lead to, without drawing."""
        return before == after and all(
            self.same_definition(part.definition, old, new) if isinstance(part, Holds)
            else part.cut(old.day) == part.cut(new.day) and (
                len(self.leap_days) == 1 or not follows_leap_day(part))
            for part in before.walk() if isinstance(part, (Holds, Test))
        )

    def same_definition(self, name: str, old: Law, new: Law) -> bool:
        asked = (old.day.on, name)
        if asked not in self._same:
            before, after = old.definitions.get(name), new.definitions.get(name)
            self._same[asked] = before is not None and after is not None and self.equal(
                before.condition or NEVER, after.condition or NEVER, old, new)
        return self._same[asked]

    @cached_property
    def vocabulary(self) -> Vocabulary:
        """The facts of both sides; where both have one, as the new side has it."""
        return Vocabulary({**self.old.vocabulary, **self.new.vocabulary})

    def concrete(self, day: date, growing: Growing) -> list[Cells]:
        """Return the drawing of each side with nothing kept whole; that of the last days stays."""
        if day not in self._concrete:
            while len(self._concrete) >= REMEMBERED:
                del self._concrete[next(iter(self._concrete))]
            self._concrete[day] = growing.cells(day, Diagrams(), ({}, {}))
        return self._concrete[day]

    @cached_property
    def eras(self) -> Eras:
        return Eras(self.vocabulary, self.new.leap_day, (self.first, self.last))

    @cached_property
    def sayer(self) -> Sayer:
        titles = {name: history.latest.title
                  for ruleset in (self.old, self.new)
                  for name, history in ruleset.definitions.items()}
        return Sayer(self.vocabulary, titles)


def _history(ruleset: Ruleset, entry: Entry) -> History[Any] | None:
    kind, name = entry
    where: Mapping[str, Mapping[str, History[Any]]] = {
        "definition": ruleset.definitions, "charge": ruleset.charges,
    }
    return where.get(kind, ruleset.requirements).get(name)


def _conditions(history: History[Any]) -> Iterator[Condition]:
    for edition in history.editions:
        if getattr(edition, "when", None) is not None:
            yield edition.when
        for need in getattr(edition, "needs", ()):
            yield from (part.when for part in need.walk() if part.when is not None)
        yield from (f.when for f in getattr(edition, "figures", ()) if f.when is not None)
