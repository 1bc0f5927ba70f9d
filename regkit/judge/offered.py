"""What a case has for one need: papers of that type, stand-ins, steps that gave it, and faults.

A paper is fresh on a day if the period it may be old, counted from the day it was issued, is not
over before that day; what a step gave is as old as the step. An original may go where a copy is
asked for, never the other way round.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from regkit.conditions import View
from regkit.judge.freshness import evidence_on, last_good_day, may_count
from regkit.language import Phrase, phrase
from regkit.model.calendar import Period
from regkit.model.case import Paper
from regkit.model.likeness import Likeness, alike
from regkit.model.packet import Fault, FaultKind, Offered
from regkit.model.resting import paper_order
from regkit.model.ruleset import Evidence, Need, Ruleset
from regkit.model.values import Bound, Value, day_of, days

FORMS = ("copy", "certified copy", "original")
"""Forms of a paper; each serves where an earlier one is asked for."""


def offered_for(ruleset: Ruleset, view: View, need: Need, sent: date) -> tuple[Offered, ...]:
    """Return what the case offers for a need for one paper, the best first.

    Args:
        sent: the day it is used; what is too old then is not in order.
    """
    found = [
        _offer(evidence_on(ruleset, paper.evidence, view.day.on), view, need, paper, sent)
        for paper in sorted(view.case.papers, key=paper_order)
        if need.evidence in _serves_as(ruleset, paper, view.day.on)
    ]
    if not any(offer.in_order for offer in found):
        found += _steps_that_gave_it(ruleset, view, need, sent)
    return tuple(sorted(found, key=lambda one: (len(one.faults), one.stands_in)))


def _serves_as(ruleset: Ruleset, paper: Paper, on: date) -> tuple[str, ...]:
    return (paper.evidence, *evidence_on(ruleset, paper.evidence, on).stands_in_for)


def _steps_that_gave_it(
    ruleset: Ruleset, view: View, need: Need, sent: date
) -> Iterator[Offered]:
    """Yield each step taken that gave a paper, which is as old as the step."""
    own = evidence_on(ruleset, need.evidence, view.day.on)
    for done in view.case.done:
        history = ruleset.requirements[done.requirement]
        edition = history.on(done.on) or history.latest
        if need.evidence in edition.gives and done.on <= view.day.on:
            age = _age(days(done.on, done.on), _ages(need, own, view), view, sent)
            yield Offered(edition.title, None, tuple(age))


def _offer(own: Evidence, view: View, need: Need, paper: Paper, sent: date) -> Offered:
    """Return a paper as offered; one that stands in for another goes by its own rules."""
    stands_in = paper.evidence != need.evidence
    faults = (
        *_form(paper, need.form or own.form),
        *_age(paper.dated, _ages(need, own, view), view, sent),
        *_named(paper, own, view),
    )
    return Offered(own.title, paper, faults, stands_in, tuple(_reminders(paper, own)))


def _ages(need: Need, own: Evidence, view: View) -> tuple[Period | None, ...]:
    """Return how old a paper may be for a need, by each period that may count."""
    return (need.fresh,) if need.fresh else may_count(own.fresh, view)


def _form(paper: Paper, wanted: str) -> Iterator[Fault]:
    if wanted and FORMS.index(paper.form) < FORMS.index(wanted):
        yield Fault(FaultKind.FORM, phrase("a {form}, where {wanted} is needed",
                                           form=phrase(paper.form), wanted=phrase(_A[wanted])))


_A = {"original": "the original", "certified copy": "a certified copy", "copy": "a copy"}


def _age(
    issued: Value, ages: tuple[Period | None, ...], view: View, sent: date
) -> Iterator[Fault]:
    on = view.day.on
    earliest = day_of(issued.low)
    if earliest is not None and earliest > max(on, sent):
        yield Fault(FaultKind.NOT_YET_ISSUED, phrase(
            "dated {day}, after the day it is sent, {sent}", day=issued, sent=sent))
        return
    limits = [age for age in ages if age is not None]
    if not limits:
        return
    first, strictest = min(((_until(issued.low, age, view), age) for age in limits), key=_by_day)
    last, mildest = max(((_until(issued.high, age, view), age) for age in limits), key=_by_day)
    if None in ages:
        last = date.max
    if last is not None and last < on:
        yield Fault(FaultKind.STALE, phrase(
            "of {day}, too old after {end}: it may be {period} old", day=issued, end=last,
            period=mildest))
    elif last is not None and last < sent:
        yield Fault(FaultKind.STALE_WHEN_SENT, phrase(
            "of {day}, still good on {on} but not when it is sent on {sent}: it may be {period} "
            "old, which it is until {end}", day=issued, on=on, sent=sent, period=mildest, end=last))
    elif first is not None and first < sent and len(ages) > 1 and issued.exact:
        yield Fault(FaultKind.PERHAPS_STALE, phrase(
            "of {day}, too old after {end} if it may be {period} old, which is not settled",
            day=issued, end=first, period=strictest))
    elif first is None or first < sent:
        says = "its date is not exact enough" if issued.told else "its date is not told"
        yield Fault(FaultKind.UNDATED, phrase(
            "{says}: it may be {period} old", says=phrase(says), period=strictest))


def _until(issued: Bound, age: Period, view: View) -> date | None:
    day = day_of(issued)
    return None if day is None else last_good_day(day, age, view.day.leap_day)


def _by_day(end: tuple[date | None, Period]) -> date:
    return end[0] or date.min


def _named(paper: Paper, evidence: Evidence, view: View) -> Iterator[Fault]:
    """Yield a fault if the paper names another keeper than the case does, or no one."""
    if evidence.named != "keeper":
        return
    keepers = view.case.facts.get("keeper.name")
    names = sorted(keepers.options or ()) if keepers is not None else []
    if not names:
        return
    if not paper.named:
        yield Fault(FaultKind.UNNAMED, phrase("it is not told whom it names; it must name the "
                                              "keeper, {name}", name=names[0]))
    elif all(alike(paper.named, name).rank > Likeness.WRITTEN_DIFFERENTLY.rank for name in names):
        yield Fault(FaultKind.NAMED, phrase("names {named}, but the keeper is {name}",
                                            named=paper.named, name=names[0]))


def _reminders(paper: Paper, evidence: Evidence) -> Iterator[Phrase]:
    if evidence.language is not None:
        yield phrase("language: {language}", language=evidence.language)
    if evidence.named == "seller" and not paper.named:
        yield phrase("it must name the seller")
    if evidence.named == "vehicle" and "vehicle.frame_number" not in paper.shows:
        yield phrase("it must name the vehicle by its number")
