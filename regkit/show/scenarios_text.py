"""Scenarios as text: what differs, and why, one case below the other under each heading."""

from __future__ import annotations

from collections.abc import Iterator
from string import ascii_uppercase

from regkit.language import Speaker, phrase, speaker
from regkit.model.scenarios import Row, Scenarios
from regkit.show.lines import hanging, heading, wrapped

PARTS = (
    ("fact", "What is told differently"),
    ("plan", "What it comes to"),
    ("class", "What it counts as: where the cases differ"),
    ("requirement", "What applies: where the cases differ"),
    ("charge", "What it costs: where the cases differ"),
)


def scenario_lines(found: Scenarios, language: str = "en") -> Iterator[str]:
    """Yield the lines of a comparison."""
    speak = speaker(language)
    letters = ascii_uppercase[: len(found.names)]
    for letter, name, one in zip(letters, found.names, found.assessments, strict=True):
        yield from hanging(letter, 2, speak.say(phrase(
            "{name}: {title} ({place}, on {day})", name=name, title=one.case.title or name,
            place=one.ruleset.title, day=one.on)))
    for part, title in PARTS:
        rows = found.part(part)
        if rows:
            yield from heading(speak.say(phrase(title)))
        for row in rows:
            yield from _row(row, letters, speak)
    cautions = dict.fromkeys(
        speak.say(caution) for one in found.assessments for caution in one.cautions)
    yield from heading(speak.say(phrase("Bear in mind")))
    for caution in cautions:
        yield from hanging("-", 2, caution)


def _row(row: Row, letters: str, speak: Speaker) -> Iterator[str]:
    title = speak.say(row.title)
    if not row.differs:
        yield from wrapped(f"{title}: {speak.say(row.answers[0])}", "")
        return
    yield from wrapped(title, "")
    for at, letter in enumerate(letters):
        says = speak.say(row.answers[at])
        why = _because(speak.say(row.why[at])) if row.why else ""
        yield from hanging(f"  {letter}", 4, f"{says}: {why}" if why else says)


def _because(sentence: str) -> str:
    """Leave out the verdict, which the answer has said already."""
    _, _, rest = sentence.partition(": ")
    return rest
