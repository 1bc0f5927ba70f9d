"""What is wrong with a text, where, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches

MALFORMED = "malformed"
UNKNOWN_NAME = "unknown-name"
CIRCLE = "circle"
OVERLAPPING_EDITIONS = "overlapping-editions"
LOST_NAME = "lost-name"


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong.

    Attributes:
        file: the file as the reader named it.
        line: its line, counted from 1; 0 where no line can be named.
        text: what is wrong and what would be right, in one sentence.
        code: which sort of mistake it is; each has a page in the documentation, `docs/lint`.
        path: the keys and positions that lead to it from the whole.
    """

    file: str
    line: int
    text: str
    code: str = MALFORMED
    path: tuple[str | int, ...] = field(default=(), compare=False)

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {self.text}"


class Unreadable(ValueError):
    """A ruleset or case that cannot be read. Nothing of it was taken.

    Attributes:
        problems: everything that is wrong, in the order of file and line.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return ' (did you mean `x`?)' for the nearest known word, or an empty string."""
    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f" (did you mean `{near[0]}`?)" if near else ""
