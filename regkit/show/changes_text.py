"""What differs between two sides as plain text, 80 columns wide."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.language import Phrase, Speaker, phrase, speaker
from regkit.model.changes import Changes, Effect, EntryChange, Limit, Reach, Region
from regkit.show.lines import hanging, heading, wrapped

SHOWN_REGIONS = 6


def changes_lines(
    changes: Changes, language: str = "en", everything: bool = False
) -> Iterator[str]:
    """Yield the lines of a comparison; `everything` lists every region and entry."""
    page = _Page(changes, speaker(language), everything)
    yield from page.head()
    for reach in (Reach.FROM_NOW_ON, Reach.BACK_DATED):
        yield from page.effects(reach)
    yield from page.entries()
    yield from page.cases()


class _Page:
    def __init__(self, changes: Changes, speak: Speaker, everything: bool) -> None:
        self.changes = changes
        self.say = speak.say
        self.most = 10_000 if everything else SHOWN_REGIONS

    def head(self) -> Iterator[str]:
        changes = self.changes
        yield f"old  {changes.old.label}  {changes.old.digest[:12]}"
        yield f"new  {changes.new.label}  {changes.new.digest[:12]}"
        yield from wrapped(self.say(proof(changes)), "")

    def effects(self, reach: Reach) -> Iterator[str]:
        found = [e for e in self.changes.effects if e.reach(self.changes.today) == reach]
        if not found:
            return
        yield from heading(self.say(phrase("Answers that change, " + reach.value)))
        for effect in found:
            yield from hanging("*", 2, self.say(effect_title(effect)))
            for number, region in enumerate(effect.regions[: self.most], 1):
                yield from hanging(f"  {number:>2}.", 6, self.say(region_phrase(region)))
                if region.witness is not None:
                    yield from hanging("      e.g.", 11, facts_text(region.witness.facts))
            left = len(effect.regions) - self.most
            if left > 0:
                yield from wrapped(self.say(phrase(
                    "and {count} more regions; --all lists them", count=left)), "      ")
            if not effect.complete:
                yield from wrapped(self.say(more_regions(effect)), "      ")

    def entries(self) -> Iterator[str]:
        entries = self.changes.entries
        if not entries:
            return
        more = any(self.changes.entry_reach(entry) is None for entry in entries)
        title = "What was changed in the entries" if more else (
            "What was changed in the entries: names or words only")
        yield from heading(self.say(phrase(title)))
        for entry in entries:
            yield from hanging("*", 2, self.say(entry_phrase(entry, self.changes)))
            for change in entry.fields[: self.most]:
                before, after = shortly(change.before, change.after)
                yield from hanging("   ", 5, f"{change.field}: {before} → {after}")

    def cases(self) -> Iterator[str]:
        if not self.changes.tried:
            return
        yield from heading(self.say(phrase("Your cases")))
        differing = len({case.case for case in self.changes.cases})
        yield from wrapped(self.say(phrase(
            "{differing} of {tried} cases are answered differently.", differing=differing,
            tried=self.changes.tried)), "")
        for case in self.changes.cases:
            yield from hanging("*", 2, f"{case.case}, {case.on}: {case.id}: "
                                       f"{case.before} → {case.after}")


def proof(changes: Changes) -> Phrase:
    """Return what was compared, and what that proves."""
    if changes.no_difference:
        return phrase(
            "No difference for any case: {count} outcomes were compared exactly, over every "
            "vehicle there can be, on every day of assessment from {first} to {last}. This is a "
            "proof for these days, not a sample.",
            count=changes.compared, first=changes.first, last=changes.last)
    return phrase(
        "{effects} of the outcomes differ. {count} were compared exactly, over every vehicle there "
        "can be, on every day of assessment from {first} to {last}; outside what is listed there "
        "is no difference on these days.",
        effects=len(changes.effects), count=changes.compared, first=changes.first,
        last=changes.last)


def more_regions(effect: Effect) -> Phrase:
    """Return the warning that an outcome was not worked out to the end."""
    if not effect.regions:
        return phrase("No vehicle was found for which this differs, but not every day was tried: "
                      "there may be one.")
    return phrase("There may be more regions than are listed here: they are many, or on few days.")


def effect_title(effect: Effect) -> Phrase:
    """Return what an effect is about."""
    if effect.item is None:
        return phrase("{title} [{kind} {id}]", title=effect.title, kind=effect.kind, id=effect.id)
    return phrase("{title} [{kind} of {id}]: {item}", title=effect.title, kind=effect.kind,
                  id=effect.id, item=effect.item)


def region_phrase(region: Region) -> Phrase:
    """Return a region in one sentence: which vehicles, assessed when, and what became what."""
    limits = tuple(limit_phrase(limit) for limit in region.limits)
    vehicles = phrase("every vehicle") if not limits else phrase(
        "; ".join("{" + f"limit{at}" + "}" for at in range(len(limits))),
        **{f"limit{at}": limit for at, limit in enumerate(limits)})
    return phrase("{before} → {after}: {vehicles}; assessed {days}", before=region.before,
                  after=region.after, vehicles=vehicles, days=days_phrase(region))


def limit_phrase(limit: Limit) -> Phrase:
    """Return one limit, and where it moves with the day of assessment, how far."""
    if not limit.moves:
        return limit.says
    return phrase("{says} (moving with the day; on the last day: {later})", says=limit.says,
                  later=limit.says_later)


def days_phrase(region: Region) -> Phrase:
    """Return on which days of assessment a region counts."""
    first, last = region.days[0][0], region.days[-1][1]
    if len(region.days) > 1:
        return phrase("on {count} stretches of days from {first} to {last}",
                      count=len(region.days), first=first, last=last)
    if first == last:
        return phrase("on {first}", first=first)
    return phrase("from {first} to {last}", first=first, last=last)


def entry_phrase(entry: EntryChange, changes: Changes) -> Phrase:
    """Return what was done to an entry."""
    reach = changes.entry_reach(entry)
    tail = f" ({reach.value})" if reach else ""
    if entry.was:
        return phrase("{kind}: {id}, renamed from {was}" + tail, kind=entry.kind, id=entry.id,
                      was=entry.was)
    return phrase("{kind}: {id} {what}" + tail, kind=entry.kind, id=entry.id, what=entry.what)


def facts_text(facts: Any) -> str:
    """Return the facts of a witness in one line."""
    return ", ".join(f"{name}: {value}" for name, value in facts.items()) or "any vehicle"


def shortly(before: Any, after: Any, most: int = 120) -> tuple[str, str]:
    """Return two written values, cut where they are long, so that what differs is seen."""
    one, other = ("nothing" if value is None else flow(value) for value in (before, after))
    alike = next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
                 min(len(one), len(other)))
    start = max(0, alike - most // 3) if max(len(one), len(other)) > most else 0
    return _cut(one, start, most), _cut(other, start, most)


def short(value: Any, most: int = 120) -> str:
    """Return a written value, cut where it is long."""
    return _cut("nothing" if value is None else flow(value), 0, most)


def _cut(text: str, start: int, most: int) -> str:
    if start >= len(text):
        start = max(0, len(text) - most // 3)
    shown = text[start: start + most]
    return ("…" if start else "") + shown + ("…" if start + most < len(text) else "")


def flow(value: Any) -> str:
    """Return a written value on one line, as it could stand in the file."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(flow, value)) + "]"
    return str(value)
