"""The small mistakes that can be made in one edition of an entry, kind by kind.

An edition may be dropped, begin or end a day early or late, and any condition in it be changed.
Besides, of a requirement a need or charge may be left out, and its window be one too long or short;
of a charge each number may be one too much or little, and a part of its base be left out; a rule of
counting may count the day of the event or not, and move the end or not; a paper may be one too old;
another official reading may be left out.

Where one edition follows on another, the day on which they meet moves for both: by itself either
would leave a gap or an overlap, and these `check` finds.

What a step *gives* is left alone: a paper that nothing gives, and steps that wait for each other,
are found by `check` whatever the examples say.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from regkit.conditions import All, AnyOf, Condition, NoneOf
from regkit.keep.dated import ONE_DAY, follows, has_days, misdated
from regkit.keep.moved import NUMBER_MOVES, changed_conditions
from regkit.keep.on_the_bill import when_missed
from regkit.model.calendar import Period
from regkit.model.figure import Figure
from regkit.model.ruleset import (
    Charge,
    Counting,
    Dissent,
    Edition,
    Evidence,
    Fresh,
    History,
    Need,
    Requirement,
    Ruleset,
)

ALWAYS, NEVER = All(()), AnyOf(())
MOVES = "moves to the next working day"
_BASES = {"of": "base", "less": "deduction"}


@dataclass(frozen=True)
class Where:
    """A condition within an entry, as it is and as it is changed.

    Attributes:
        given: what else must hold for it to matter.
        unless: what must not hold, since it comes first.
        dissent: whose days it speaks on; None for those of the edition.
    """

    before: Condition
    after: Condition
    given: tuple[Condition, ...] = ()
    unless: tuple[Condition, ...] = ()
    dissent: Dissent | None = None


@dataclass(frozen=True)
class Mistake:
    """One changed edition.

    Attributes:
        says: what was changed.
        edition: the changed one; None if it was dropped.
        parts: the keys of an example's `expect` that may notice it; none for any of them.
        where: the condition that was changed, if it is one within the entry.
        item: the evidence or charge within the entry that it is about, if it is about one.
        before: the edition before it, where that now ends on another day.
        day: the only day on which it differs, where days are moved.
    """

    says: str
    edition: Edition | None
    parts: tuple[str, ...] = ()
    where: Where | None = None
    item: str = ""
    before: Edition | None = None
    day: date | None = None


def mistakes(
    ruleset: Ruleset, kind: str, history: History[Any], at: int
) -> Iterator[Mistake]:
    """Yield the small mistakes that can be made in an edition of a kind of entry."""
    edition = history.editions[at]
    yield from _of_the_days(history, at)
    if kind in ("definitions", "requirements", "charges", "routes"):
        yield from _of_the_rule(kind, edition)
    yield from _OF[kind](edition)
    if kind == "charges":
        yield from _of_bases(edition, ruleset)
    for field in ("charges", "late"):
        yield from _of_charges(edition, field, ruleset)


def _of_the_days(history: History[Any], at: int) -> Iterator[Mistake]:
    edition, earlier = history.editions[at], history.editions[:at]
    before = earlier[-1] if earlier and follows(earlier[-1], edition) else None
    goes_on = any(follows(edition, one) for one in history.editions)
    for one in misdated(edition):
        if one.changed.first == edition.first and goes_on:
            continue  # It is where the next edition begins.
        meets = None
        if before is not None and one.changed.first != edition.first:
            meets = replace(before, last=one.changed.first - ONE_DAY)
        if has_days(one.changed) and (meets is None or has_days(meets)):
            yield Mistake(one.says, one.changed, before=meets, day=one.day)


def _of_the_rule(kind: str, edition: Any) -> Iterator[Mistake]:
    own = {"charges": ("charges",), "routes": ("routes",)}.get(kind, ())
    gone = Where(edition.when, NEVER) if kind == "routes" else None
    yield Mistake("dropped", None, own, gone)
    for says, when in changed_conditions(edition.when or ALWAYS):
        where = Where(edition.when, when) if own else None
        yield Mistake(says, replace(edition, when=when), own, where)


def _of_dissents(edition: Any) -> Iterator[Mistake]:
    for at, dissent in enumerate(edition.dissents):
        others = edition.dissents[:at], edition.dissents[at + 1:]
        yield Mistake("dissent left out", replace(edition, dissents=(*others[0], *others[1])),
                      ("cautions",), Where(dissent.when, edition.when, dissent=dissent))
        for says, when in changed_conditions(dissent.when):
            changed = (*others[0], replace(dissent, when=when), *others[1])
            yield Mistake(f"dissent: {says}", replace(edition, dissents=changed), ("cautions",),
                          Where(dissent.when, when, dissent=dissent))
        for one in misdated(dissent):
            changed = (*others[0], one.changed, *others[1])
            that_day = replace(dissent, first=one.day, last=one.day)
            yield Mistake(f"dissent: {one.says}", replace(edition, dissents=changed),
                          ("cautions",), Where(dissent.when, edition.when, dissent=that_day),
                          day=one.day)


def _of_requirement(edition: Requirement) -> Iterator[Mistake]:
    window = edition.window
    for says, more in (("shorter", -1), ("longer", 1)):
        if window is not None and window.within is not None and window.within.count + more >= 0:
            changed = replace(window, within=_moved(window.within, more))
            yield Mistake(f"window 1 {says}", replace(edition, window=changed),
                          ("windows", "charges"))
    for at, need in enumerate(edition.needs):
        for mistake, needs in _of_need(need, "need"):
            whole = (*edition.needs[:at], *needs, *edition.needs[at + 1:])
            yield replace(mistake, edition=replace(edition, needs=whole))
    yield from _of_dissents(edition)


def _of_charges(edition: Any, field: str, ruleset: Ruleset) -> Iterator[Mistake]:
    """Yield each charge that an edition names in a field left out of it."""
    named: tuple[str, ...] = getattr(edition, field, ())
    for at, name in enumerate(named):
        others = (*named[:at], *named[at + 1:])
        missed = when_missed(ruleset, edition, name, others) if field == "charges" else None
        late = " for lateness" if field == "late" else ""
        yield Mistake(f"charge {name}{late} left out", replace(edition, **{field: others}),
                      ("charges",), None if missed is None else Where(missed, NEVER), name)


def _of_need(need: Need, what: str) -> Iterator[tuple[Mistake, tuple[Need, ...]]]:
    """Yield what may go wrong in a need, and what then stands in its place."""
    named = f"{what} {_named(need)}"
    paper = next(part.evidence for part in need.walk() if part.evidence)
    parts = ("papers", "charges")
    when = need.when or ALWAYS
    yield Mistake(f"{named} left out", None, parts, Where(when, NEVER), paper), ()
    for says, changed in changed_conditions(when):
        yield (Mistake(f"{named}: {says}", None, parts, Where(when, changed), paper),
               (replace(need, when=changed),))
    for says, fresh in _periods("no older than", need.fresh):
        yield (Mistake(f"{named}: {says}", None, parts, item=paper),
               (replace(need, fresh=fresh),))
    for at, part in enumerate(need.parts):
        inner = "need" if need.count == len(need.parts) else "alternative"
        for mistake, needs in _of_need(part, inner):
            if mistake.where is not None:
                given = (*mistake.where.given, when)
                mistake = replace(mistake, where=replace(mistake.where, given=given))
            whole = (*need.parts[:at], *needs, *need.parts[at + 1:])
            count = len(whole) if inner == "need" else need.count
            yield mistake, (replace(need, parts=whole, count=count),)


def _named(need: Need) -> str:
    if need.evidence:
        return need.evidence
    names = [_named(part) for part in need.parts]
    if need.count == len(need.parts):
        return f"({' and '.join(names)})"
    return f"({' or '.join(names)})" if need.count == 1 else f"({need.count} of {', '.join(names)})"


def _of_charge(edition: Charge) -> Iterator[Mistake]:
    for at, figure in enumerate(edition.figures):
        for says, changed in _of_figure(figure):
            where = None
            if changed.when != figure.when:
                where = Where(figure.when or ALWAYS, changed.when or ALWAYS,
                              (edition.when or ALWAYS,), _earlier(edition, at))
            yield Mistake(says, _with_figure(edition, at, changed), ("charges",), where)


def _of_bases(edition: Charge, ruleset: Ruleset) -> Iterator[Mistake]:
    """Yield a part of a base left out; it matters where that part comes to something."""
    for at, figure in enumerate(edition.figures):
        for field in _BASES:
            named: tuple[str, ...] = getattr(figure, field)
            for place, base in enumerate(named) if len(named) > 1 or field == "less" else ():
                left: Any = {field: (*named[:place], *named[place + 1:])}
                where = None
                if base in ruleset.charges:
                    where = Where(_comes_to_something(ruleset.charges[base]), NEVER,
                                  (edition.when or ALWAYS, figure.when or ALWAYS),
                                  _earlier(edition, at))
                yield Mistake(f"{_BASES[field]} {base} left out",
                              _with_figure(edition, at, replace(figure, **left)), ("charges",),
                              where)


def _comes_to_something(history: History[Charge]) -> Condition:
    """Return when one of the figures of a charge may count that is not plainly nothing."""
    return AnyOf(tuple(
        All((edition.when or ALWAYS, figure.when or ALWAYS, NoneOf(_earlier(edition, at))))
        for edition in history.editions for at, figure in enumerate(edition.figures)
        if figure.number or figure.form not in ("amount", "rate") or figure.rate_fact))


def _earlier(edition: Charge, at: int) -> tuple[Condition, ...]:
    return tuple(before.when or ALWAYS for before in edition.figures[:at])


def _with_figure(edition: Charge, at: int, figure: Figure) -> Charge:
    return replace(edition, figures=(*edition.figures[:at], figure, *edition.figures[at + 1:]))


def _of_figure(figure: Figure) -> Iterator[tuple[str, Figure]]:
    if figure.when is not None:
        for says, when in changed_conditions(figure.when):
            yield f"case: {says}", replace(figure, when=when)
    if figure.form in ("amount", "rate", "per day", "daily rate") and not figure.rate_fact:
        for says, number in _numbers(figure.form, figure.number):
            yield says, replace(figure, number=number)
    for name, field in (("at least", "least"), ("at most", "most"), ("at most days", "most_days")):
        bound = getattr(figure, field)
        for says, number in _numbers(name, None if bound is None else Decimal(bound)):
            changed: Any = int(number) if field == "most_days" else number
            yield says, replace(figure, **{field: changed})
    for at, (up_to, number) in enumerate(figure.steps):
        rows = figure.steps[:at], figure.steps[at + 1:]
        for says, moved in _numbers(f"row {at + 1}:", number):
            yield says, replace(figure, steps=(*rows[0], (up_to, moved), *rows[1]))
        for says, period in _periods(f"row {at + 1}: up to", up_to):
            yield says, replace(figure, steps=(*rows[0], (period, number), *rows[1]))
    each = figure.each
    for name, field in (("step", "step"), ("beyond", "beyond"), ("up to", "up_to")):
        size: Decimal | None = None if each is None else getattr(each, field)
        for says, number in _numbers(f"for each: {name}", size):
            if number and each is not None:
                resized: Any = number
                yield says, replace(figure, each=replace(each, **{field: resized}))


def _numbers(name: str, number: Decimal | None) -> Iterator[tuple[str, Decimal]]:
    """Yield a number one less and one more, where that leaves one."""
    for says, by in NUMBER_MOVES.items():
        if number is not None and number + by >= 0:
            yield f"{name} {number.normalize():f} {says}", number + by


def _of_counting(edition: Counting) -> Iterator[Mistake]:
    parts = ("windows", "periods", "charges")
    other = {"counted": "not counted", "not counted": "counted"}.get(edition.day_of_event)
    if other is not None:
        changed: Any = other
        yield Mistake(f"day of event {other}", replace(edition, day_of_event=changed), parts)
    moved = {"stays": MOVES, MOVES: "stays"}.get(edition.rest_day)
    if moved is not None:
        yield Mistake(f"rest day {moved}", replace(edition, rest_day=moved), parts)
    for says, number in _numbers("at least working days", Decimal(edition.least_working) or None):
        yield Mistake(says, replace(edition, least_working=int(number)), parts)


def _of_evidence(edition: Evidence) -> Iterator[Mistake]:
    """Yield a paper one too old or too fresh, and a period whose condition is another."""
    parts = ("papers", "charges", "done")
    for at, fresh in enumerate(edition.fresh):
        earlier = tuple(one.when or ALWAYS for one in edition.fresh[:at])
        for says, period in _periods("no older than", fresh.period):
            changed = _with_fresh(edition, at, replace(fresh, period=period))
            yield Mistake(says, changed, parts, item=edition.id)
        for says, when in changed_conditions(fresh.when) if fresh.when is not None else ():
            changed = _with_fresh(edition, at, replace(fresh, when=when))
            yield Mistake(f"no older than {fresh.period.count} {fresh.period.unit}: {says}",
                          changed, parts, Where(fresh.when or ALWAYS, when, (), earlier),
                          edition.id)


def _with_fresh(edition: Evidence, at: int, fresh: Fresh) -> Evidence:
    return replace(edition, fresh=(*edition.fresh[:at], fresh, *edition.fresh[at + 1:]))


def _periods(name: str, period: Period | None) -> Iterator[tuple[str, Period]]:
    """Yield a period one shorter and one longer, where that leaves one."""
    for says, more in (("less", -1), ("more", 1)):
        if period is not None and period.count + more > 0:
            yield f"{name} {period.count} {period.unit} 1 {says}", _moved(period, more)


def _moved(period: Period, by: int) -> Period:
    return replace(period, count=period.count + by)


_OF: dict[str, Callable[[Any], Iterator[Mistake]]] = {
    "definitions": _of_dissents,
    "requirements": _of_requirement,
    "charges": _of_charge,
    "counting": _of_counting,
    "evidence": _of_evidence,
    "routes": lambda edition: iter(()),
}
KINDS = tuple(_OF)
"""The kinds of entries in which mistakes are made."""
