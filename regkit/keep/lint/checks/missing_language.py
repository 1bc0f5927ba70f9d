"""Texts that are missing in a language the ruleset declares."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.read.folder import TRIALS

CHECK = Check("missing-language", Level.TO_DO, "texts missing in a language the head declares")

_TEXTS = {"title", "why", "says", "question", "label", "help", "values", "asks", "answer",
          "looks at", "cautions", "covers", "does not cover", "issued by", "extended by",
          "last moment", "stages", "authorities"}
_PLAIN = ("sources", "renamed", *TRIALS)
"""Kinds whose texts are for maintainers, in one language."""


def look(kept: Kept) -> Iterator[Remark]:
    """One remark an entry and language. Plain text counts as English."""
    others = [language for language in kept.ruleset.languages if language != "en"]
    entries = [entry for kind, entry in kept.written() if kind not in _PLAIN]
    for language in others:
        for entry in (kept.head, *entries):
            missing = list(dict.fromkeys(_missing(_texts(entry.data, kept), language)))
            if missing:
                keys = ", ".join(f"`{key}`" for key in missing)
                yield CHECK.remark(
                    entry.line, f"`{entry.id}` lacks {language!r} for {keys}",
                    f"write each as {{en: …, {language}: …}}")


def _texts(data: Any, kept: Kept) -> Any:
    """Return what is written, without what names things: conditions, and who is an authority.

    `question:` in a condition names a question, and a paper may be issued by an authority.
    """
    if isinstance(data, list):
        return [_texts(part, kept) for part in data]
    if not isinstance(data, dict):
        return data
    return {key: _texts(inner, kept) for key, inner in data.items()
            if key != "when" and not (key == "issued by" and isinstance(inner, str)
                                      and inner in kept.ruleset.authorities)}


def _missing(data: Any, language: str, key: str = "", inside: bool = False) -> Iterator[str]:
    if isinstance(data, str):
        if inside:
            yield key
    elif isinstance(data, list):
        for part in data:
            yield from _missing(part, language, key, inside)
    elif isinstance(data, dict):
        if inside and "en" in data:
            if language not in data:
                yield key
            return
        for name, inner in data.items():
            if inside and name == "address":
                continue
            yield from _missing(inner, language, key if inside else name,
                                inside or name in _TEXTS)
