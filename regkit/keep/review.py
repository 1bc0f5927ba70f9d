"""What to look at again, by the day each source names itself: the longest overdue first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from regkit.language import speaker
from regkit.model.ruleset import Ruleset, Source

ENTRIES = ("definitions", "requirements", "evidence", "charges", "counting", "crosschecks",
           "routes")
ALARM = timedelta(days=14)
_EPOCH = date(2000, 1, 1)


@dataclass(frozen=True, slots=True)
class Due:
    """A source to look at again.

    Attributes:
        rests: titles of the entries that rest on it, in the order of writing.
        days: how many days it is overdue; negative if there is still time.
    """

    source: Source
    rests: tuple[str, ...]
    days: int


def review(ruleset: Ruleset, today: date, ahead: int = 0) -> tuple[Due, ...]:
    """Return the ruleset's own sources to look at by a day, worst first.

    Of those due on one day, the ones most entries rest on come first.

    Args:
        ahead: how many days ahead to look.
    """
    rests = _rests(ruleset)
    found = [Due(source, rests.get(name, ()), (today - source.look_again).days)
             for name, source in ruleset.sources.items()
             if source.layer == ruleset.jurisdiction
             and source.look_again <= today + timedelta(days=ahead)]
    return tuple(sorted(found, key=lambda due: (-due.days, -len(due.rests), due.source.id)))


def _rests(ruleset: Ruleset) -> Mapping[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for kind in ENTRIES:
        histories: Mapping[str, Any] = getattr(ruleset, kind)
        for history in histories.values():
            for edition in history.editions:
                for name in _named(edition):
                    found.setdefault(name, {})[speaker().say(edition.title)] = None
    return {name: tuple(titles) for name, titles in found.items()}


def _named(edition: Any) -> Iterator[str]:
    """Yield the sources of an edition and of its parts."""
    yield from edition.sources
    for many in ("dissents", "inspects", "special_days"):
        for part in getattr(edition, many, ()):
            yield from part.sources
    for one in ("takes", "rounding"):
        part = getattr(edition, one, None)
        yield from part.sources if part is not None else ()


def what_to_check(due: Due) -> str:
    """Return in a sentence what to look for."""
    if due.source.kind == "from memory":
        return "Find the text: nobody has seen it yet."
    if due.source.kind == "second-hand":
        return "Find the official text: only a third party's was seen."
    if due.source.kind == "common practice":
        return "Ask around whether it is still done so."
    return "See whether it still says so, and since when not."


def review_lines(due: Due) -> Iterator[str]:
    """Yield what to do about one source."""
    source = due.source
    when = (f"{due.days} days overdue" if due.days > 0 else
            "due today" if due.days == 0 else f"due in {-due.days} days")
    yield f"{source.look_again}  {source.id} ({source.kind}, {when})"
    yield f"    {source.citation}"
    if source.address:
        yield f"    {source.address}"
    yield f"    {what_to_check(due)} Last looked at on {source.checked}."
    if source.note:
        yield f"    Note: {source.note}"
    shown = due.rests[:4]
    more = f" and {len(due.rests) - len(shown)} more" if len(due.rests) > len(shown) else ""
    yield f"    Rests on it: {'; '.join(shown)}{more}" if shown else "    No entry rests on it."


def review_calendar(ruleset: Ruleset, dues: tuple[Due, ...], today: date) -> bytes:
    """Return the days to look again as iCalendar (RFC 5545), one whole day a source.

    Identifiers stay the same, so that importing a newer file moves entries and doubles none.

    Raises:
        ImportError: icalendar is not installed.
    """
    try:
        from icalendar import Alarm, Calendar, Event
    except ImportError as missing:
        raise ImportError(
            "Writing a calendar needs the package 'icalendar': pip install icalendar"
        ) from missing
    calendar: Any = Calendar()
    calendar.add("prodid", "-//regkit//review of sources//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Review of {ruleset.jurisdiction}")
    for due in dues:
        event: Any = Event()
        key = f"regkit/{ruleset.jurisdiction}/review/{due.source.id}"
        event.add("uid", str(uuid5(NAMESPACE_URL, key)))
        event.add("dtstamp", datetime.combine(today, time(), UTC))
        event.add("sequence", max((today - _EPOCH).days, 0))
        event.add("dtstart", due.source.look_again)
        event.add("dtend", due.source.look_again + timedelta(days=1))
        event.add("summary", f"{ruleset.jurisdiction}: look again: {due.source.citation}")
        event.add("description", "\n".join(line.strip() for line in review_lines(due)))
        event.add("transp", "TRANSPARENT")
        if due.source.address:
            event.add("url", due.source.address)
        alarm: Any = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("trigger", -ALARM)
        alarm.add("description", due.source.citation)
        event.add_component(alarm)
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written
