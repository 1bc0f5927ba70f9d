"""What falls back to English, when something is said in another language."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from gettext import NullTranslations
from typing import Any

from regkit.language import languages, speaker

OTHER = tuple(language for language in languages() if language != "en")


def has_words(template: str) -> bool:
    """Whether a template says anything besides its arguments; else it needs no translation."""
    return re.search(r"[^\W\d_]", re.sub(r"\{\w+\}", "", template)) is not None


class Untranslated(NullTranslations):
    """Notes what falls back to English for want of a translation."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: set[str] = set()

    def gettext(self, message: str) -> str:
        self.texts.add(message)
        return message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.texts.add(msgid1)
        return super().ngettext(msgid1, msgid2, n)

    def pgettext(self, context: str, message: str) -> str:
        self.texts.add(message)
        return message


@contextmanager
def untranslated(language: str) -> Iterator[Untranslated]:
    """Yield what falls back to English meanwhile."""
    speech: Any = speaker(language)
    noted = Untranslated()
    speech._translations.add_fallback(noted)
    yield noted
    speech._translations._fallback = None


def in_english_only(said: Iterable[Any]) -> set[str]:
    """Return the templates that some language lacks, of all that is to be said."""
    lacking: set[str] = set()
    for language in OTHER:
        with untranslated(language) as noted:
            for one in said:
                speaker(language).say(one)
        lacking |= {text for text in noted.texts if has_words(text)}
    return lacking
