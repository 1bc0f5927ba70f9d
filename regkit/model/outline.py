"""A rule in outline: the words of its condition, part below part, as a page lists them."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Phrase


@dataclass(frozen=True, slots=True)
class Outline:
    """One line of a rule and the lines below it.

    Attributes:
        says: its words, the same as in an explanation.
        kind: as in `Reason`: `all`, `any`, `none`, `definition`, `test`, `question` or `rule`.
        name: the definition or question it stands for.
    """

    says: Phrase
    kind: str
    name: str = ""
    parts: tuple[Outline, ...] = ()
