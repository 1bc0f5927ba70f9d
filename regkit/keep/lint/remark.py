"""What a check has to say: one remark, made in one way."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from regkit.read.text import Path_


class Level(StrEnum):
    """How much a remark matters: gentle unless an answer is wrong or cannot be given."""

    ERROR = "error"
    WARNING = "warning"
    TO_DO = "to-do"

    @property
    def rank(self) -> int:
        """0 for what matters most."""
        return list(Level).index(self)


@dataclass(frozen=True, slots=True)
class Mend:
    """A mechanical change that puts a remark right.

    Attributes:
        path: where in the file; empty for its first line.
        old, new: the value there and what becomes of it; a `new` of None drops it from its list.
    """

    path: Path_
    old: str
    new: str | None


@dataclass(frozen=True, slots=True)
class Remark:
    """One thing to put right in a ruleset.

    Attributes:
        file: the file, beginning with the name of the ruleset's folder.
        line: its line, counted from 1; 0 where no line can be named.
        code: the check that says it; its page is `docs/lint/<code>.rst`.
        text: what is wrong.
        right: what would be right.
        mend: how a program can put it right; None if that takes a person.
    """

    file: str
    line: int
    level: Level
    code: str
    text: str
    right: str
    mend: Mend | None = None

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        right = f"; {self.right}" if self.right else ""
        return f"{place}: {self.level} [{self.code}] {self.text}{right}"

    def to_dict(self) -> dict[str, Any]:
        """Return the remark as JSON data."""
        return {
            "file": self.file, "line": self.line, "level": self.level.value, "code": self.code,
            "text": self.text, "right": self.right, "can be mended": self.mend is not None,
        }


@dataclass(frozen=True, slots=True)
class Check:
    """One check: its code, how much its remarks matter, and what it finds, in a few words."""

    code: str
    level: Level
    finds: str

    def remark(self, place: str, text: str, right: str, mend: Mend | None = None) -> Remark:
        """Return a remark of this check; the only way to make one.

        Args:
            place: `file:line`, as entries and editions name it.
            text: what is wrong, naming the entry.
            right: what would be right.
        """
        file, _, line = place.rpartition(":")
        return Remark(file, int(line), self.level, self.code, text, right, mend)
