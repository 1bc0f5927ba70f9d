"""What changes by itself, as text: one paragraph a day, the earliest first."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from regkit.language import Phrase, phrase, speaker
from regkit.model.ahead import Ahead, Change
from regkit.model.ruleset import Ruleset
from regkit.show.lines import hanging, wrapped


def ahead_lines(found: Ahead, ruleset: Ruleset, language: str = "en") -> Iterator[str]:
    """Yield the lines of what lies ahead of a case."""
    say = speaker(language).say
    yield from wrapped(say(phrase("{place}: what changes by itself from {on} to {until}",
                                  place=ruleset.title, on=found.on, until=found.until)), "")
    if not found.changes:
        yield ""
        yield say(phrase("Nothing."))
    for day, changes in groupby(found.changes, key=lambda change: change.on):
        yield ""
        yield say(phrase("{day}", day=day) if day else phrase("On a day not yet fixed"))
        for change in changes:
            yield from hanging("  -", 4, say(say_change(change)))
            why = say(change.why)
            if why:
                yield from wrapped(why, "    ")
            if change.act:
                yield from wrapped(say(phrase("Do it; nothing of it happens by itself.")), "    ")
    yield ""
    yield from wrapped(say(phrase(
        "Facts are taken to stay as they are told. Law that is not yet made cannot be known: look "
        "again before you rely on a day.")), "")


def say_change(change: Change) -> Phrase:
    """Say one change, without its day."""
    before, after = change.before, change.after
    if change.announced:
        return phrase("{title}: may change from {before} to {after} (announced)",
                      title=change.title, before=before, after=after)
    if not before.template:
        return phrase("{title}: {after}", title=change.title, after=after)
    if not after.template:
        return phrase("{title}: no longer (before: {before})", title=change.title, before=before)
    return phrase("{title}: {after} (before: {before})", title=change.title, after=after,
                  before=before)
