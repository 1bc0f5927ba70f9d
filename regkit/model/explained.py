"""Why no worked example notices a small mistake in a ruleset."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Explained:
    """A mutant that no worked example notices, and the reason; in words for maintainers.

    Attributes:
        mutant: its name, as `regkit coverage --mutants` prints it.
        line: where it is written, `file:line`.
    """

    mutant: str
    why: str
    sources: tuple[str, ...] = ()
    line: str = ""
