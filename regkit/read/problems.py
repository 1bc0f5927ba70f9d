"""What is wrong with a text, where, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from regkit.language import Phrase, phrase, speaker

MALFORMED = "malformed"
UNKNOWN_NAME = "unknown-name"
CIRCLE = "circle"
OVERLAPPING_EDITIONS = "overlapping-editions"
LOST_NAME = "lost-name"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong. A speaker says it with its place; as a string, it is English.

    Attributes:
        file: the file as the reader named it.
        line: its line, counted from 1; 0 where no line can be named.
        says: what is wrong and what would be right, in one sentence. It is a phrase where whoever
            tells a case may meet it, and English for those who keep rulesets.
        code: which sort of mistake it is; each has a page in the documentation, `docs/lint`.
        path: the keys and positions that lead to it from the whole.
    """

    file: str
    line: int
    says: Phrase | str
    code: str = MALFORMED
    path: tuple[str | int, ...] = field(default=(), compare=False)

    @property
    def text(self) -> str:
        """What is wrong, in English."""
        return speaker().say(self.says)

    def said(self) -> Phrase:
        """Return it with its place."""
        place = f"{self.file}:{self.line}" if self.line else self.file
        return phrase("{place}: {says}", place=place, says=self.says)

    def __str__(self) -> str:
        return speaker().say(self.said())


class Unreadable(ValueError):
    """A ruleset or case that cannot be read. Nothing of it was taken.

    Attributes:
        problems: everything that is wrong, in the order of file and line.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(
            set(problems), key=lambda one: (one.file, one.line, one.text, one.code)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return ' (did you mean `x`?)' for the nearest known word, or an empty string."""
    near = nearest(word, known)
    return f" (did you mean `{near}`?)" if near else ""


def hinted(says: Phrase, word: Any, known: Iterable[str]) -> Phrase:
    """Return what is wrong, with the nearest known word if one is near."""
    near = nearest(str(word), known)
    return phrase("{says} (did you mean `{word}`?)", says=says, word=near) if near else says


def nearest(word: str, known: Iterable[str]) -> str:
    """Return the known word that is nearest to one; empty if none is near."""
    return next(iter(get_close_matches(word, list(known), n=1, cutoff=0.6)), "")
