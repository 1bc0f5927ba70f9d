"""Titles that name another number than the rule they stand over."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from regkit.compare.eras import reached
from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.language import phrase, speaker
from regkit.model.ruleset import Definition, Requirement

CHECK = Check("title-contradicts", Level.WARNING, "a title with another number than its rule")

_MEASURE = re.compile(
    r"\b(\d[\d,]*(?:\.\d+)?)[ -](?:calendar |working )?"
    r"(day|week|month|year|kg|cc|kW|km|mile)s?\b")
_YEAR = re.compile(r"\b(?:before|until|since|after|from|by) (?:\d{1,2} )?(?:[A-Z][a-z]+ )?"
                   r"((?:18|19|20)\d\d)\b")
_ANY_YEAR = re.compile(r"\b((?:18|19|20)\d\d)\b")


def look(kept: Kept) -> Iterator[Remark]:
    """Silent unless both hold a number of one unit and no edition, definition or window fits it."""
    for entry, history in kept.histories("definitions", "requirements"):
        rule = " · ".join(_said(kept, history.editions))
        for edition in history.editions:
            title = speaker().say(edition.title)
            for number in _contradicted(title, rule):
                yield CHECK.remark(
                    place(entry, "title"),
                    f"the title of `{entry.id}` says {number}, its rule does not",
                    "let both say the same number, or leave it out of the title")


def _said(kept: Kept, editions: Iterable[Definition | Requirement]) -> Iterator[str]:
    """Yield the sentences of a rule, of every definition it leads to, its windows and days."""
    say = speaker().say
    conditions = []
    for edition in editions:
        conditions.append(edition.when)
        conditions += [dissent.when for dissent in edition.dissents]
        for day in (edition.first, edition.last):
            yield say(phrase("{day}", day=day)) if day else ""
        window = getattr(edition, "window", None)
        if window is not None and window.within is not None:
            yield f"{window.within.count} {window.within.unit}"
    for history in reached(kept.ruleset, conditions).values():
        conditions += [edition.when for edition in history.editions]
    yield from (say(condition.rule()) for condition in conditions)


def _contradicted(title: str, rule: str) -> Iterator[str]:
    ruled = set(_measures(rule))
    for number, unit in _measures(title):
        of_unit = {other for other, one in ruled if one == unit}
        if of_unit and number not in of_unit:
            yield f"{number} {unit}s" if unit in ("day", "week", "month", "year") else (
                f"{number} {unit}")
    years = {int(year) for year in _ANY_YEAR.findall(rule)}
    for year in _YEAR.findall(title):
        # 'Built by 1959' may stand over 'before 1 January 1960'.
        if years and not years & {int(year) - 1, int(year), int(year) + 1}:
            yield f"the year {year}"


def _measures(text: str) -> Iterator[tuple[str, str]]:
    for number, unit in _MEASURE.findall(text):
        yield number.replace(",", ""), unit
