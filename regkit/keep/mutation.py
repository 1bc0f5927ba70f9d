"""Which small mistakes in a ruleset its worked examples would not notice.

A mutant is noticed if one expected answer comes out otherwise. One that is the same rule for every
vehicle on every day looked at is equivalent, and held against nobody: its diagram is the same node,
or the two differ only where no vehicle can be. A survivor that no example could notice is explained
in survivors.yaml; an explanation that explains nothing any more is reported.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from regkit.keep.mutants import Mutant, mutants
from regkit.keep.telling import Telling, Told
from regkit.keep.trials import trials
from regkit.model.explained import Explained
from regkit.model.ruleset import Ruleset


@dataclass(frozen=True)
class Survivor:
    """A mutant that no example notices, and a case that would tell it apart, if one is known."""

    mutant: Mutant
    told: Told

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
    all_trials, telling = trials(ruleset), Telling(ruleset, today)
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
        likeliest = sorted(all_trials, key=lambda trial: mutant.entry not in trial.named)
        if any(trial.notices(mutant) for trial in likeliest):
            noticed += 1
            if mutant.name in explained:
                because[mutant.name] = "an example notices it"
            continue
        told = telling.apart(mutant)
        if told is None:
            equivalent += 1
            if mutant.name in explained:
                because[mutant.name] = "it is the same rule for every vehicle"
        else:
            survivors.append(Survivor(mutant, told))
    stale = (Stale(one, because[name]) for name, one in explained.items() if name in because)
    return Score(noticed, equivalent, tuple(survivors), tuple(stale))
