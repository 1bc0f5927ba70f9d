"""Lines of plain text: headings, wrapped and hanging paragraphs, 80 columns wide."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

WIDTH = 80


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
