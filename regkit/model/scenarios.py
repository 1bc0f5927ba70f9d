"""Several cases side by side: where their answers differ, and why. Frozen values."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Phrase, Text
from regkit.model.assessment import Assessment

NONE = Phrase("–")
"""The answer of one that knows nothing of what a row is about."""
THERE, TO_GET = Phrase("there"), Phrase("to get")
"""The answers of one that needs a paper."""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that the cases are compared by.

    Attributes:
        part: `fact`, `class`, `requirement`, `plan`, `paper` or `charge`.
        id: the identifier of the fact, class, requirement, paper or charge; of the plan, what is
            compared.
        answers: one for each case, in their order.
        why: for each case what decides its answer; empty where the answer says it all.
    """

    part: str
    id: str
    title: Text | Phrase
    answers: tuple[Phrase, ...]
    why: tuple[Phrase, ...] = ()

    @property
    def differs(self) -> bool:
        """Whether the cases have different answers."""
        return len(set(self.answers)) > 1


@dataclass(frozen=True)
class Scenarios:
    """Cases side by side.

    Attributes:
        names: what the cases are called.
        rows: all that differs, and of the plan also what does not.
    """

    names: tuple[str, ...]
    assessments: tuple[Assessment, ...]
    rows: tuple[Row, ...]

    def part(self, name: str) -> tuple[Row, ...]:
        """Return the rows of one part."""
        return tuple(row for row in self.rows if row.part == name)
