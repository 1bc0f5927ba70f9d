"""Words as HTML: everything escaped, what somebody wrote kept apart, other languages marked.

What a user wrote may hold anything. Control characters are shown as U+FFFD, marks that turn the
direction of writing (UAX 9) are left out, and a text that runs from right to left is isolated.
"""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape
from typing import Any
from unicodedata import bidirectional

from regkit.language import Phrase, Speaker, Text

# The characters that HTML does not allow in a document (HTML, preprocessing the input stream).
_NOT_ALLOWED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
# UAX 9, table 3: explicit formatting characters and implicit marks.
_DIRECTION = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")


class Html(str):
    """A text that is HTML already; templates leave it as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        return str(self)


def harmless(written: str) -> str:
    """Return a text somebody wrote without what would disturb the text around it."""
    return _DIRECTION.sub("", _NOT_ALLOWED.sub("\ufffd", written))


def own_words(written: str) -> Html:
    """Return a text somebody wrote as HTML, isolated where it runs from right to left."""
    text = harmless(written)
    safe = escape(text)
    if any(bidirectional(letter) in ("R", "AL", "AN") for letter in text):
        return Html(f"<bdi>{safe}</bdi>")
    return Html(safe)


class HtmlSpeaker(Speaker):
    """Says everything as HTML, and marks what is in another language than the page.

    Raises:
        ImportError: Babel is not installed.
        ValueError: the language is none of those spoken.
    """

    def say(self, said: Any) -> Html:
        """Return the words for what a `Speaker` says, as HTML."""
        if isinstance(said, Html):
            return said
        words = super().say(said)
        return words if isinstance(words, Html) else Html(escape(words))

    def _phrase(self, said: Phrase) -> str:
        arguments = {name: self.say(argument) for name, argument in said.arguments}
        return Html(escape(self._template(said)).format(**arguments))

    def _string(self, said: str) -> str:
        return own_words(said)

    def _text(self, said: Text) -> str:
        language, words = self.wording(said)
        safe = escape(harmless(words))
        if language == self.language or not safe:
            return Html(safe)
        return Html(f'<span lang="{escape(language)}">{safe}</span>')

    def _list(self, parts: tuple[Any, ...]) -> str:
        return Html(super()._list(parts))

    def _either(self, either: Any) -> str:
        return Html(super()._either(either))


@lru_cache(maxsize=16)
def html_speaker(language: str = "en") -> HtmlSpeaker:
    """Return the speaker of a language; it is made once."""
    return HtmlSpeaker(language)

