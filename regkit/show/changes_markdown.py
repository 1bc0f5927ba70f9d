"""What differs between two sides as Markdown, for a notice of change."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import speaker
from regkit.model.changes import Changes, Effect, Reach
from regkit.show.changes_text import (
    effect_title,
    entry_phrase,
    facts_text,
    more_regions,
    proof,
    region_phrase,
    shortly,
)

SHOWN_REGIONS = 12


def changes_markdown(changes: Changes, language: str = "en") -> str:
    """Return the notice of a change."""
    return "\n".join(_lines(changes, language)) + "\n"


def _lines(changes: Changes, language: str) -> Iterator[str]:
    say = speaker(language).say
    yield f"## {changes.old.label} → {changes.new.label}"
    yield ""
    yield _plain(say(proof(changes)))
    yield ""
    yield f"Digests: `{changes.old.digest}` → `{changes.new.digest}`."
    for reach in (Reach.FROM_NOW_ON, Reach.BACK_DATED):
        found = [e for e in changes.effects if e.reach(changes.today) == reach]
        if found:
            yield from ("", f"### Answers that change, {reach.value}", "")
        for effect in found:
            yield from _effect(effect, language)
    if changes.entries:
        yield from ("", "### Entries", "")
    for entry in changes.entries:
        yield f"- {_plain(say(entry_phrase(entry, changes)))}"
        for field in entry.fields[:SHOWN_REGIONS]:
            before, after = shortly(field.before, field.after)
            yield f"  - `{field.field}`: {_plain(before)} → {_plain(after)}"
    if changes.tried:
        yield from ("", "### Cases", "", f"{len({c.case for c in changes.cases})} of "
                    f"{changes.tried} cases are answered differently.", "")
    for case in changes.cases:
        yield f"- {_plain(case.case)}, {case.on}: `{case.id}`: {case.before} → {case.after}"


def _effect(effect: Effect, language: str) -> Iterator[str]:
    say = speaker(language).say
    yield f"- **{_plain(say(effect_title(effect)))}**"
    for region in effect.regions[:SHOWN_REGIONS]:
        yield f"  - {_plain(say(region_phrase(region)))}"
        if region.witness is not None:
            yield f"    - for example: {_plain(facts_text(region.witness.facts))}"
    left = len(effect.regions) - SHOWN_REGIONS
    if left > 0:
        yield f"  - and {left} more regions"
    if not effect.complete:
        yield f"  - {_plain(say(more_regions(effect)))}"


def _plain(text: str) -> str:
    """Keep text from being read as markup."""
    for sign in "\\`*_<>[]#|":
        text = text.replace(sign, "\\" + sign)
    return text.replace("\n", " ")
