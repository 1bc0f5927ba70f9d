"""Where papers, told facts and the vehicle do not tell the same, and numbers that look wrong."""

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
class Disagreement:
    """Papers, case and vehicle do not tell the same.

    Attributes:
        about: the cross-check, the fact, or the pair of dates it is about.
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
    """All that does not agree in a case, the contradictions first, and all that is in doubt."""

    disagreements: tuple[Disagreement, ...] = ()
    doubts: tuple[Doubt, ...] = ()
