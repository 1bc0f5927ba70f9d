"""Windows to deadlines: from an event and a counting rule to the last day.

A counting rule says whether the day of the event counts and whether a last day that falls on a
rest day moves. Where it says neither, both readings are worked out: the earlier one is the safe
one, and the answer says that it is a reading. An inexact event gives a range in the same way.

Sources of the rules as data: Regulation (EEC, Euratom) No 1182/71, article 3, for periods under
Union law; national rules elsewhere. Weeks, months and years end on the day that bears the name or
the number of the day of the event (Court of Justice, C-171/03, for article 3(2)(c)).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from regkit.judge.rest_days import Day, RestDays, rest_days
from regkit.language import Phrase, phrase
from regkit.model.calendar import LeapDay
from regkit.model.case import Case
from regkit.model.deadline import Deadline
from regkit.model.ruleset import Counting, History, Ruleset
from regkit.model.season import moved_into, seasons
from regkit.model.values import NEVER, UNKNOWN, Bound, day_of
from regkit.model.window import Window

MOVES = "moves to the next working day"
ONE_DAY = timedelta(days=1)
LONGEST_SPAN = 400


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a counting rule."""

    event_counts: bool
    end_moves: bool


def readings(rule: Counting) -> Iterator[Reading]:
    """Yield every reading a counting rule leaves open, the safe (earliest) one first."""
    counts = {"counted": (True,), "not counted": (False,)}.get(rule.day_of_event, (True, False))
    moves = {"stays": (False,), MOVES: (True,)}.get(rule.rest_day, (False, True))
    for event_counts in counts:
        for end_moves in moves:
            yield Reading(event_counts, end_moves)


def last_day(
    event: date, window: Window, rule: Counting, reading: Reading, calendar: RestDays,
    leap_day: LeapDay,
) -> date:
    """Return the last day of a window that runs from a day, never before that day; or back from it.

    A period of calendar months or years ends with the month or year that bears its number.

    Raises:
        OverflowError: it lies outside the calendar.
    """
    if window.within is None:
        return event
    if window.back:
        return _last_day_before(event, window, reading, calendar, leap_day)
    first = event if reading.event_counts else event + ONE_DAY
    if window.working:
        end = calendar.working_day(window.within.count, first)
    elif window.within.in_calendar:
        end = window.within.longer().after(event) - ONE_DAY
    else:
        end = window.within.after(event, leap_day)
        if reading.event_counts:
            end -= ONE_DAY
        if rule.least_working and end > first:
            end = max(end, calendar.working_day(rule.least_working, first))
    if reading.end_moves:
        end = calendar.next_working_day(end)
    return max(end, event)


def _last_day_before(
    event: date, window: Window, reading: Reading, calendar: RestDays, leap_day: LeapDay
) -> date:
    """Return the last day that leaves a whole period before an event.

    The day of the act is not counted, that of the event where the reading counts it. Of calendar
    months or years, whole ones lie between the two. A rest day moves nothing: the earlier day is
    the safe one.
    """
    assert window.within is not None
    if window.within.in_calendar:
        return window.within.longer().before(event) - ONE_DAY
    last = event if reading.event_counts else event - ONE_DAY
    if window.working:
        return calendar.working_day_back(window.within.count, last) - ONE_DAY
    return window.within.before(last, leap_day) - ONE_DAY


def deadline_of(window: Window, ruleset: Ruleset, case: Case, on: date) -> Deadline:
    """Return the last day of a window for a case, without regard to what has been done."""
    event = told_event(window, case)
    value = case.value(event) if event else None
    rule = counting_rule(ruleset.counting[window.counting],
                         day_of(value.low) if value is not None else None, on)
    calendar = rest_days(rule.holidays, rule.special_days)
    if value is None:
        events = tuple(ruleset.vocabulary[name].label for name in window.of)
        return Deadline("", window.within is None, None, None, sources=rule.sources, notes=(
            phrase("the day cannot be told until this is known: {events}", events=events),))
    early, late = (
        [end for reading in readings(rule) for end in _in_season(
            _ends(bound, window, rule, reading, calendar, ruleset.leap_day), rule, case)]
        for bound in (value.low, value.high)
    )
    first = None if None in early else min(day for day in early if day)
    last = None if None in late else max(day for day in late if day)
    unmoved = _ends(value.low, window, rule, Reading(rule.day_of_event != "not counted", False),
                    calendar, ruleset.leap_day)
    counts_days = window.working or bool(rule.least_working)
    from_day, to_day = (first, day_of(value.high)) if window.back else (
        day_of(value.low) if counts_days else unmoved, last or first)
    marked = _marked(from_day, to_day, window, rule, calendar)
    return Deadline(
        event=event,
        at_once=window.within is None,
        first=first,
        last=last,
        notes=tuple(_notes(window, rule, early, late, calendar, marked)),
        sources=tuple(dict.fromkeys((
            *rule.sources, *(name for day in marked if day.special for name in day.special.sources)
        ))),
        calendar=calendar.version,
        event_day=value.said(),
    )


def told_event(window: Window, case: Case) -> str:
    """Return the first of the window's events that the case tells; empty if it tells none."""
    for name in window.of:
        value = case.value(name)
        if value.told and value.word not in (UNKNOWN, NEVER):
            return name
    return ""


def counting_rule(history: History[Counting], event: date | None, on: date) -> Counting:
    """Return the counting rule of the day of the event, else of the day of assessment."""
    return history.on(event or on) or history.on(on) or history.latest


def _ends(
    bound: Bound, window: Window, rule: Counting, reading: Reading, calendar: RestDays,
    leap_day: LeapDay,
) -> date | None:
    event = day_of(bound)
    try:
        return event and last_day(event, window, rule, reading, calendar, leap_day)
    except OverflowError:
        return None


def _in_season(end: date | None, rule: Counting, case: Case) -> tuple[date | None, ...]:
    """Return a last day as every season that the case may mean moves it."""
    if end is None or not rule.season:
        return (end,)
    return tuple({moved_into(end, season) for season in seasons(*map(case.value, rule.season))})


def _marked(
    start: date | None, end: date | None, window: Window, rule: Counting, calendar: RestDays
) -> tuple[Day, ...]:
    """Return the estimated and overridden days on which the last day depends.

    An event known only within a year or more leaves no single day to speak of.
    """
    if start is None or end is None or not _looks_at_calendar(window, rule):
        return ()
    if (end - start).days > LONGEST_SPAN:
        return ()
    return tuple(calendar.marked(start, end))


def _looks_at_calendar(window: Window, rule: Counting) -> bool:
    if window.within is None or (window.back and not window.working):
        return False
    return window.working or rule.least_working > 0 or rule.rest_day != "stays"


def _notes(
    window: Window, rule: Counting, early: list[date | None], late: list[date | None],
    calendar: RestDays, marked: tuple[Day, ...],
) -> Iterator[Phrase]:
    if window.within is None:
        yield phrase("the rule says at once and names no number of days")
    elif len(set(early)) > 1 or len(set(late)) > 1:
        yield from _open_readings(rule)
    if rule.season:
        yield phrase("a last day outside the season moves to the end of the first month of the "
                     "next one")
    for day in marked:
        if day.special is not None:
            yield phrase("{day} counts here as {what} by a source of this ruleset: {title}",
                         day=day.on, title=day.special.title,
                         what=phrase("a rest day" if day.rests else "a working day"))
        else:
            yield phrase("it depends on {day}, a holiday whose date is only estimated",
                         day=day.on)
    if calendar.missing and _looks_at_calendar(window, rule):
        yield phrase("weekends are looked at, public holidays are not: {why}",
                     why=calendar.missing)
    if rule.last_moment is not None and window.within is not None:
        yield phrase("the last moment: {moment}", moment=rule.last_moment)
    if window.extended_by is not None:
        yield phrase("it may be extended by: {who}", who=window.extended_by)


def _open_readings(rule: Counting) -> Iterator[Phrase]:
    if rule.day_of_event == "not stated":
        yield phrase("no rule says whether the day of the event counts; the safe reading, which "
                     "counts it, is taken")
    if rule.rest_day not in ("stays", MOVES):
        yield phrase("no rule says that a last day on a rest day moves on; the safe reading, which "
                     "does not move it, is taken")
