"""Sources that contradict each other, where the entry does not record it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from regkit.keep.lint.kept import LAW, Kept
from regkit.keep.lint.remark import Check, Level, Remark
from regkit.language import speaker
from regkit.model.ruleset import Edition

CHECK = Check("unrecorded-dissent", Level.TO_DO, "sources that differ without a dissent recorded")

_DIFFERS = re.compile(r"\b(contradicts?|conflicts? with|disagrees?|says? otherwise|differs? from "
                      r"the|at odds with)\b", re.IGNORECASE)


def look(kept: Kept) -> Iterator[Remark]:
    """Two signs: a note says that sources differ, or two rules of one title and day differ."""
    for entry, edition in kept.editions(*LAW):
        recorded = getattr(edition, "dissents", ()) or edition.questions
        if _DIFFERS.search(edition.note) and not recorded:
            yield CHECK.remark(
                edition.line, f"the note of `{entry.id}` says that sources differ",
                "record what the other source says under `dissents:`, or open a question")
    for kind in ("definitions", "requirements"):
        yield from _twins(kept, kind)


def _twins(kept: Kept, kind: str) -> Iterator[Remark]:
    say = speaker().say
    named = [(say(edition.title).casefold(), entry, edition)
             for entry, edition in kept.editions(kind) if edition.state == "enacted"]
    for (title, one, first), (other_title, other, second) in combinations(named, 2):
        if title != other_title or one.id == other.id or not _meet(first, second):
            continue
        if first.when != second.when and not set(first.sources) & set(second.sources):
            yield CHECK.remark(
                other.line, f"`{one.id}` and `{other.id}` have one title, other sources and other "
                "conditions", "keep the rule that decides, and record the other as a dissent")


def _meet(one: Edition, other: Edition) -> bool:
    """Return whether two editions are in force on one day."""
    starts = [day for day in (one.first, other.first) if day]
    ends = [day for day in (one.last, other.last) if day]
    return not starts or not ends or max(starts) <= min(ends)
