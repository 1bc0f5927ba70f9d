"""Lines of plain text: headings, wrapped and hanging paragraphs, 80 columns wide."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from regkit.language import Phrase, Speaker

WIDTH = 80

LEADS = (
    "ahead", "as", "but", "by", "cost", "count", "done", "get", "gives", "have", "how", "if",
    "late", "look", "mind", "needs", "no", "open", "or", "round", "spare", "to", "under", "when",
    "why", "wrong",
)
"""The short words before a line that say what it is about, five letters at most if they can be."""


def heading(text: str) -> Iterator[str]:
    """Yield a heading and the line under it, after a blank line."""
    yield ""
    yield text
    yield "-" * min(len(text), WIDTH)


def wrapped(text: str, indent: str) -> Iterator[str]:
    """Yield a text in lines of at most `WIDTH` columns."""
    yield from wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent,
                    break_long_words=False, break_on_hyphens=False)


def hanging(lead: str, width: int, text: str, gap: str = " ") -> Iterator[str]:
    """Wrap a text behind a mark; colour codes in the mark do not count towards the width."""
    indent = " " * width
    lines = list(wrapped(text, indent)) or [indent]
    visible = len(lead) if "\x1b" not in lead else width - len(gap)
    first = lines[0][width:]
    yield f"{lead}{gap if visible else ''}{first}"
    yield from lines[1:]


def lead(word: str) -> Phrase:
    """Return one of `LEADS` as a phrase; other languages say it otherwise than in a sentence."""
    assert word in LEADS, word
    return Phrase(word, context="lead")


def leading(word: str, says: str, speak: Speaker, indent: str = "    ") -> Iterator[str]:
    """Yield a text behind one of `LEADS`, in a column of its own."""
    said = f"{speak.say(lead(word)):5}"
    yield from hanging(f"{indent}{said}", len(indent) + len(said) + 1, says)
