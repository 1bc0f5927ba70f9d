"""What a case has for one need: papers of that type, stand-ins, steps that gave it, and faults.

A paper is fresh on a day if the period it may be old, counted from the day it was issued, is not
over before that day. An original may go where a copy is asked for, never the other way round.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from regkit.conditions import View
from regkit.judge.law import Law
from regkit.language import Phrase, phrase
from regkit.model.calendar import Period
from regkit.model.case import Paper
from regkit.model.likeness import Likeness, alike
from regkit.model.packet import Fault, FaultKind, Offered
from regkit.model.resting import paper_order
from regkit.model.ruleset import Evidence, Need
from regkit.model.values import day_of

FORMS = ("copy", "certified copy", "original")
"""Forms of a paper; each serves where an earlier one is asked for."""


def offered_for(
    law: Law, view: View, need: Need, evidence: Evidence, sent: date
) -> tuple[Offered, ...]:
    """Return what the case offers for a need, the best first."""
    found = [
        _offer(law, view, need, evidence, paper, sent)
        for paper in sorted(view.case.papers, key=paper_order)
        if paper.evidence == evidence.id or evidence.id in _edition(law, paper).stands_in_for
    ]
    if not any(offer.in_order for offer in found):
        found += _steps_that_gave_it(law, view, evidence)
    return tuple(sorted(found, key=lambda one: (len(one.faults), one.stands_in)))


def _edition(law: Law, paper: Paper) -> Evidence:
    history = law.ruleset.evidence[paper.evidence]
    return history.on(law.day.on) or history.latest


def _steps_that_gave_it(law: Law, view: View, evidence: Evidence) -> Iterator[Offered]:
    for done in view.case.done:
        edition = law.edition(law.ruleset.requirements[done.requirement], view.case)
        if evidence.id in edition.gives and done.on <= law.day.on:
            yield Offered(edition.title, None)


def _offer(
    law: Law, view: View, need: Need, evidence: Evidence, paper: Paper, sent: date
) -> Offered:
    own = _edition(law, paper)
    stands_in = paper.evidence != evidence.id
    asked = own if stands_in else evidence
    faults = (
        *_form(paper, need.form or asked.form),
        *_age(paper, need.fresh or asked.fresh, law, sent),
        *_named(paper, asked, view),
    )
    return Offered(own.title, paper, faults, stands_in, tuple(_reminders(paper, asked)))


def _form(paper: Paper, wanted: str) -> Iterator[Fault]:
    if wanted and FORMS.index(paper.form) < FORMS.index(wanted):
        yield Fault(FaultKind.FORM, phrase("a {form}, where {wanted} is needed",
                                           form=phrase(paper.form), wanted=phrase(_A[wanted])))


_A = {"original": "the original", "certified copy": "a certified copy", "copy": "a copy"}


def _age(paper: Paper, fresh: Period | None, law: Law, sent: date) -> Iterator[Fault]:
    on, issued = law.day.on, paper.dated
    earliest = day_of(issued.low)
    if earliest is not None and earliest > max(on, sent):
        yield Fault(FaultKind.NOT_YET_ISSUED, phrase(
            "dated {day}, after the day it is sent, {sent}", day=issued, sent=sent))
        return
    if fresh is None:
        return
    period = phrase("{count} {unit}", count=fresh.count, unit=phrase(fresh.unit))
    first, last = (_fresh_until(day_of(bound), fresh, law) for bound in (issued.low, issued.high))
    if last is not None and last < on:
        yield Fault(FaultKind.STALE, phrase(
            "of {day}, too old since {end}: it may be {period} old", day=issued, end=last,
            period=period))
    elif last is not None and last < sent:
        yield Fault(FaultKind.STALE_WHEN_SENT, phrase(
            "of {day}, still good on {on} but not when it is sent on {sent}: it may be {period} "
            "old, which it is until {end}", day=issued, on=on, sent=sent, period=period, end=last))
    elif first is None or first < sent:
        says = "its date is not exact enough" if issued.told else "its date is not told"
        yield Fault(FaultKind.UNDATED, phrase(
            "{says}: it may be {period} old", says=phrase(says), period=period))


def _fresh_until(issued: date | None, fresh: Period, law: Law) -> date | None:
    """Return the last day on which a paper issued on a day is fresh enough."""
    if issued is None:
        return None
    try:
        return fresh.after(issued, law.day.leap_day)
    except OverflowError:
        return date.max


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
