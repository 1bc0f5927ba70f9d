"""A ruleset with one small mistake in it: what worked examples ought to notice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from regkit.keep.dated import more_is_other
from regkit.keep.mistakes import KINDS, Mistake, mistakes
from regkit.model.ruleset import Edition, History, Ruleset


@dataclass(frozen=True)
class Mutant:
    """One mistake in one edition of an entry.

    Attributes:
        kind: such as `definitions`.
        at: which edition of the entry.
        again: of mistakes that would have the same name, which this is, from 1.
    """

    original: Ruleset
    kind: str
    entry: str
    at: int
    mistake: Mistake
    again: int = 1

    @property
    def says(self) -> str:
        """What was changed, in which edition of several."""
        again = f" (no. {self.again})" if self.again > 1 else ""
        return f"{self.mistake.says}{again}{self._period}"

    @property
    def _period(self) -> str:
        history = self._histories[self.entry]
        if len(history.editions) == 1:
            return ""
        return f", from {self.was.first}" if self.was.first else f", until {self.was.last}"

    @property
    def name(self) -> str:
        """Entry and change: no other mutant's, and the same as long as the rule is."""
        return f"{self.entry}: {self.says}"

    @property
    def _histories(self) -> Mapping[str, History[Any]]:
        return getattr(self.original, self.kind)  # type: ignore[no-any-return]

    @property
    def was(self) -> Edition:
        """The edition as it is written."""
        return self._histories[self.entry].editions[self.at]  # type: ignore[no-any-return]

    @property
    def edition(self) -> Edition | None:
        """The changed edition; None if it was dropped."""
        return self.mistake.edition

    @property
    def changes_condition(self) -> bool:
        """Whether it may change when a definition holds or a requirement applies."""
        return self.kind in ("definitions", "requirements") and not self.mistake.parts

    @cached_property
    def changes_more(self) -> bool:
        """Whether it may change anything that is no condition, and that an example can ask for."""
        day = self.mistake.day
        if self.mistake.where is not None or day is None:
            return self.mistake.where is None and not self.changes_condition
        return more_is_other(self.kind, self._histories[self.entry], self.history, day)

    @property
    def goes_by(self) -> str:
        """The date fact whose day selects the edition; empty for the day of assessment."""
        return self._histories[self.entry].governed_by

    @cached_property
    def history(self) -> History[Any]:
        """The entry with the change."""
        before = self._histories[self.entry]
        # A dropped edition never counts, but keeps its words for whoever asks for them.
        changed = self.edition or replace(self.was, state="withdrawn")
        editions = [*before.editions[: self.at], changed, *before.editions[self.at + 1:]]
        if self.mistake.before is not None:
            editions[self.at - 1] = self.mistake.before
        return replace(before, editions=tuple(editions))

    @cached_property
    def ruleset(self) -> Ruleset:
        """The whole ruleset with the change, under a digest of its own."""
        digest = f"{self.original.digest} {self.kind} {self.at} {self.name}"
        changed: dict[str, Any] = {self.kind: {**self._histories, self.entry: self.history}}
        return replace(self.original, digest=digest, **changed)


def mutants(ruleset: Ruleset) -> Iterator[Mutant]:
    """Yield every mutant of a ruleset's own enacted entries."""
    met: Counter[str] = Counter()
    for kind in KINDS:
        entries: Mapping[str, History[Any]] = getattr(ruleset, kind)
        for name, history in entries.items():
            for at, edition in enumerate(history.editions):
                if edition.state != "enacted" or edition.layer != ruleset.jurisdiction:
                    continue
                for mistake in mistakes(ruleset, kind, history, at):
                    mutant = Mutant(ruleset, kind, name, at, mistake)
                    met[mutant.name] += 1
                    yield replace(mutant, again=met[mutant.name])
