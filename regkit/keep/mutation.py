"""Which small mistakes in a ruleset its worked examples would not notice.

A mutant is noticed if one expected answer comes out otherwise. One that is the same rule for every
vehicle on every day looked at is equivalent, and held against nobody: its diagram is the same node,
or the two differ only where no vehicle can be. A survivor that no example could notice is explained
in survivors.yaml; an explanation that explains nothing any more is reported.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from regkit.compare.eras import Eras, events, law_tests, reached, stretches
from regkit.compare.witnesses import witness
from regkit.conditions import Condition, Holds
from regkit.conditions.cells import Cells
from regkit.conditions.diagram import FALSE, TooLarge
from regkit.judge.law import law_on
from regkit.judge.possible import Possible
from regkit.keep.examples import comes_out, example_case
from regkit.keep.mutants import Mutant, mutants
from regkit.model.case import Case
from regkit.model.explained import Explained
from regkit.model.ruleset import Example, Ruleset

EARLIEST = date(1980, 1, 1)
YEARS_AHEAD = 20


@dataclass(frozen=True)
class Survivor:
    """A mutant that no example notices, and a case that would tell it apart, if one is known."""

    mutant: Mutant
    on: date | None = None
    facts: dict[str, Any] | None = None

    @property
    def explained(self) -> Explained | None:
        """Why no example could notice it, if the keeper says so."""
        return self.mutant.original.survivors.get(self.mutant.name)


@dataclass(frozen=True)
class Stale:
    """An explanation that explains nothing: its mutant is noticed, the same rule, or gone."""

    explained: Explained
    because: str


@dataclass(frozen=True)
class Score:
    """How many mutants the worked examples notice.

    Attributes:
        stale: the explanations to take out of survivors.yaml.
    """

    noticed: int
    equivalent: int
    survivors: tuple[Survivor, ...]
    stale: tuple[Stale, ...] = ()

    @property
    def explained(self) -> tuple[Survivor, ...]:
        """The survivors of which the keeper says why no example could notice them."""
        return tuple(survivor for survivor in self.survivors if survivor.explained)

    @property
    def unexplained(self) -> tuple[Survivor, ...]:
        """The survivors that want an example, or a reason."""
        return tuple(survivor for survivor in self.survivors if not survivor.explained)

    @property
    def told_apart(self) -> int:
        """How many mutants are not equivalent."""
        return self.noticed + len(self.survivors)

    @property
    def percent(self) -> int:
        """Noticed of those that are not equivalent, rounded down; 100 if there are none."""
        return 100 if not self.told_apart else self.noticed * 100 // self.told_apart


def score(ruleset: Ruleset, today: date, only: Iterable[str] = ()) -> Score:
    """Try every mutant on the worked examples of a ruleset, all of which must come out right.

    Args:
        only: the entries whose mutants to try; by default all.

    Raises:
        Unreadable: the case of an example is wrong.
    """
    wanted = frozenset(only)
    trials = [_Trial(ruleset, example) for example in ruleset.examples.values()]
    noticed = equivalent = 0
    survivors = []
    explained = {name: one for name, one in ruleset.survivors.items()
                 if not wanted or name.partition(":")[0] in wanted}
    because = dict.fromkeys(explained, "there is no such mutant")
    for mutant in mutants(ruleset):
        if wanted and mutant.entry not in wanted:
            continue
        because.pop(mutant.name, None)
        # Examples that name the entry are the likeliest to notice.
        likely = [trial for trial in trials if mutant.entry in trial.named]
        others = [trial for trial in trials if mutant.entry not in trial.named]
        if any(trial.notices(mutant) for trial in (*likely, *others)):
            noticed += 1
            if mutant.name in explained:
                because[mutant.name] = "an example notices it"
            continue
        survivor = _apart(mutant, today)
        if survivor is None:
            equivalent += 1
            if mutant.name in explained:
                because[mutant.name] = "it is the same rule for every vehicle"
        else:
            survivors.append(survivor)
    stale = (Stale(one, because[name]) for name, one in explained.items() if name in because)
    return Score(noticed, equivalent, tuple(survivors), tuple(stale))


class _Trial:
    """One example, and what it takes to see quickly that it cannot notice a mutant."""

    def __init__(self, ruleset: Ruleset, example: Example) -> None:
        self.ruleset = ruleset
        self.example = example
        self.law = law_on(ruleset, example.on)
        self.view = self.law.view(example_case(example, ruleset))
        self.named = {ruleset.renamed.get(name, name)
                      for part in example.expect.values() for name in part}
        self.reached = self._reach()

    def _reach(self) -> frozenset[str]:
        """Return the entries an expected answer may rest on."""
        rules = self.ruleset
        charges = {name for name in self.named if name in rules.charges}
        waiting = list(charges)
        while waiting:
            bases = {base for edition in rules.charges[waiting.pop()].editions
                     for figure in edition.figures for base in figure.of}
            waiting += (bases & set(rules.charges)) - charges
            charges |= bases & set(rules.charges)
        requirements = {
            name for name, history in rules.requirements.items()
            if name in self.named or any(charges & {*edition.charges, *edition.late}
                                         for edition in history.editions)
        }
        editions: list[Any] = [
            edition for name in (*requirements, *charges)
            for edition in (rules.requirements.get(name) or rules.charges[name]).editions
        ]
        conditions = [Holds(name, rules.definitions[name].latest.title)
                      for name in self.named if name in rules.definitions]
        conditions += [part.when for edition in editions
                       for part in (edition, *getattr(edition, "dissents", ()),
                                    *getattr(edition, "figures", ())) if part.when is not None]
        return frozenset(self.named | charges | requirements | set(reached(rules, conditions)))

    def notices(self, mutant: Mutant) -> bool:
        """Return whether an expected answer comes out otherwise."""
        if mutant.entry not in self.reached:
            return False
        if mutant.changes_condition and not self._differs_here(mutant):
            return False
        return not comes_out(self.example, mutant.ruleset)

    def _differs_here(self, mutant: Mutant) -> bool:
        """Return whether the changed condition may come out otherwise for this case."""
        history = mutant.history
        if not history.governed_by and not mutant.was.in_force(self.example.on):
            return False
        before, after = self._condition(self.ruleset, mutant), self._condition(
            mutant.ruleset, mutant)
        if before is None or after is None:
            return before is not after
        truths = before.truth(self.view), after.truth(self.view)
        hides = mutant.entry in self.law.may_hide or (
            mutant.entry in self.law.definitions_that_may_hide)
        return truths[0] != truths[1] or (hides and truths[0].word == "undecided")

    def _condition(self, ruleset: Ruleset, mutant: Mutant) -> Condition | None:
        return condition_on(ruleset, mutant.kind, mutant.entry, self.example.on)


def condition_on(ruleset: Ruleset, kind: str, entry: str, on: date) -> Condition | None:
    """Return the condition of a definition or requirement on a day; None if not in force."""
    law = law_on(ruleset, on)
    return law.definitions[entry].condition if kind == "definitions" else law.requirements[entry]


def _apart(mutant: Mutant, today: date) -> Survivor | None:
    """Return the mutant with a case that tells it from its original; None if there can be none."""
    if not mutant.changes_condition:
        return Survivor(mutant)
    for on in _days(mutant, today):
        before = condition_on(mutant.original, mutant.kind, mutant.entry, on)
        after = condition_on(mutant.ruleset, mutant.kind, mutant.entry, on)
        nobody = Case(mutant.original.jurisdiction, {}, vocabulary=mutant.original.vocabulary)
        cells = Cells(law_on(mutant.original, on).view(nobody))
        try:
            differ = cells.diagrams.differ(cells.draw(before), cells.draw(after))
        except TooLarge:
            return Survivor(mutant)
        if differ is not FALSE and Possible(cells).world(differ) is not None:
            found = witness(cells, differ, on, ("", ""), lambda _: ("", ""))
            return Survivor(mutant, on, dict(found.facts) if found else None)
    return None


def _days(mutant: Mutant, today: date) -> Iterator[date]:
    """Yield days that stand for all on which original and mutant may differ, today's first."""
    ruleset = mutant.original
    first = min(ruleset.known_from or EARLIEST, today)
    last = date(today.year + YEARS_AHEAD, 12, 31)
    history = getattr(ruleset, mutant.kind)[mutant.entry]
    rules = [edition.when for h in (history, mutant.history) for edition in h.editions]
    eras = Eras(ruleset.vocabulary, ruleset.leap_day)
    happened = list(events(ruleset, mutant.entry)) if mutant.kind == "requirements" else []
    spans = [span for span in stretches((history, *reached(ruleset, rules).values()), first, last)
             if history.governed_by or mutant.was.in_force(span[0])]
    if any(start <= today <= end for start, end in spans):
        yield today
    for span in spans:
        law = law_on(ruleset, span[0])
        own = [c for rules_ in (ruleset, mutant.ruleset)
               if (c := condition_on(rules_, mutant.kind, mutant.entry, span[0])) is not None]
        yield from (start for start, _ in eras.of([*law_tests(law, own), *happened], span))
