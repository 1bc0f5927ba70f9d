"""Errors for people: what is wrong and what would be right, in the language of who reads it."""

from __future__ import annotations

from regkit.language.phrase import Phrase
from regkit.language.speaker import speaker


class Wrong(ValueError):
    """Something given is wrong; `says` is what, and what would be right. `str` says it in English.
    """

    def __init__(self, says: Phrase) -> None:
        super().__init__(says)
        self.says = says

    def __str__(self) -> str:
        return speaker().say(self.says)
