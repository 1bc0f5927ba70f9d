"""Where a test cuts its fact's domain: the one thing every reading of a test rests on.

On a given day a test divides the values its fact may take into those that pass and those that do
not. Ordered facts are cut at bounds (`Between`), others into sets (`Among`). Truth, compiled code,
exact cells and column expressions are all derived from the cut, so a new kind of test supplies
this once and has them all.

Truth of a cut over a value, which is a set of possibilities: *no* if no possibility passes, *yes*
if all do, else *undecided*. A date fact that is `never` has no possible day, so it passes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Protocol, TypeVar

from regkit.conditions.truth import NO, UNDECIDED, YES, Truth, opposite
from regkit.model.values import UNKNOWN, Bound, Value

Result = TypeVar("Result", covariant=True)


class CutReader(Protocol[Result]):
    """Does one thing for each form of cut."""

    def between(self, cut: Between) -> Result: ...
    def among(self, cut: Among) -> Result: ...


@dataclass(frozen=True, slots=True)
class Between:
    """Passes values with `low` <= value < `high`; None leaves an end open.

    Attributes:
        key: the fact, or the quantity derived from facts, that is cut.
    """

    key: str
    low: Bound | None
    high: Bound | None

    def truth(self, value: Value) -> Truth:
        """Return whether the possible values lie inside."""
        low, high = self.low, self.high
        if (high is not None and value.low >= high) or (low is not None and value.high < low):
            return NO
        if (low is None or value.low >= low) and (high is None or value.high < high):
            return YES
        return UNDECIDED

    def read(self, reader: CutReader[Result]) -> Result:
        """Return what a reader makes of it."""
        return reader.between(self)


@dataclass(frozen=True, slots=True)
class Among:
    """Passes the named words, or, where `wanted` is false, every other value.

    The words `unknown` and `never` are answers a case may give instead of a value.
    """

    key: str
    words: frozenset[str]
    wanted: bool = True

    def truth(self, value: Value) -> Truth:
        """Return whether the possible words are among those named."""
        return self.of(value.answer)

    def of(self, answer: str | frozenset[str] | None) -> Truth:
        """Return the truth for an answer, see `Value.answer`."""
        found = self._found(answer)
        return found if self.wanted else opposite(found)

    def read(self, reader: CutReader[Result]) -> Result:
        """Return what a reader makes of it."""
        return reader.among(self)

    def _found(self, answer: str | frozenset[str] | None) -> Truth:
        if answer is None:
            return UNDECIDED
        if isinstance(answer, frozenset):
            if answer <= self.words:
                return YES
            return UNDECIDED if answer & self.words else NO
        if answer in self.words:
            return YES
        # Who says `unknown` leaves open every word but `unknown` itself.
        return UNDECIDED if answer == UNKNOWN and self.words != {UNKNOWN} else NO


Cut = Between | Among


def day(when: date) -> int:
    """Return the bound for a day: its proleptic Gregorian ordinal."""
    return when.toordinal()
