"""Who says what a fact is, compared: papers, told facts and the vehicle; and numbers in doubt."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Phrase, Text
from regkit.model.case import Paper
from regkit.model.likeness import Likeness


@dataclass(frozen=True, slots=True)
class Said:
    """What one paper, or the case, says a fact is."""

    by: Phrase
    label: Text
    value: Phrase
    paper: Paper | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """What two or more papers, the case or the vehicle say of one thing.

    Attributes:
        about: the cross-check, the fact, or the pair of dates it is about.
        likeness: how far apart those are who say most different things.
        said: who says what, each value once with everyone who says it.
    """

    about: str
    title: Text
    likeness: Likeness
    said: tuple[Said, ...]
    why: Text | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something about a number or a date that looks wrong; a caution, never a refusal."""

    fact: str
    says: Phrase


@dataclass(frozen=True, slots=True)
class PaperTrouble:
    """All that was compared in a case, and all that is in doubt.

    Attributes:
        comparisons: the contradictions first.
    """

    comparisons: tuple[Comparison, ...] = ()
    doubts: tuple[Doubt, ...] = ()

    @property
    def disagreements(self) -> tuple[Comparison, ...]:
        """What does not agree, or cannot be compared."""
        return tuple(one for one in self.comparisons if one.likeness != Likeness.SAME)

    @property
    def contradictions(self) -> tuple[Comparison, ...]:
        """What an application would come back for: contradictions and probable misreadings."""
        return tuple(one for one in self.comparisons if one.likeness.contradicts)

    @property
    def agreements(self) -> tuple[Comparison, ...]:
        """What was compared and agrees."""
        return tuple(one for one in self.comparisons if one.likeness == Likeness.SAME)
