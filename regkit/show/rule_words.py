"""The words of a rule that is read, not applied: in force, windows, needs, amounts, sources."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from regkit.language import Argument, Either, Money, Phrase, Text, joined, phrase
from regkit.model.calendar import Period
from regkit.model.figure import LATE_FORMS, Figure, say_each, say_rate
from regkit.model.route import Route
from regkit.model.ruleset import Charge, Counting, Edition, Evidence, Need, Requirement, Ruleset
from regkit.model.window import Window
from regkit.show.paper_words import how_old


def say_in_force(edition: Edition, on: date) -> Phrase:
    """Say from when to when an edition is in force, and whether it is on a day."""
    if edition.state == "withdrawn":
        return phrase("withdrawn")
    if edition.state == "not here":
        return phrase("a rule of the layer below, which does not hold here")
    if edition.state == "announced":
        return phrase("announced for {day}, not enacted", day=edition.first) if edition.first else (
            phrase("announced, not enacted"))
    if edition.first is not None and edition.last is not None:
        return phrase("in force from {first} to {last}", first=edition.first, last=edition.last)
    if edition.first is not None:
        template = "in force from {first}" if edition.first <= on else "comes into force on {first}"
        return phrase(template, first=edition.first)
    if edition.last is not None:
        return phrase("in force up to {last}", last=edition.last)
    return phrase("in force")


def say_window(window: Window, ruleset: Ruleset) -> Phrase:
    """Say by when something must be done, and by which counting rule."""
    events: tuple[Argument, ...] = tuple(ruleset.vocabulary[name].label for name in window.of)
    at = window.back or (window.within is not None and not window.within.count)
    says = phrase("{within}: {events}" if at else "{within}, counted from: {events}",
                  within=window, events=Either(events))
    if window.counting in ruleset.counting:
        counting = ruleset.counting[window.counting].latest
        says = phrase("{window} ({counting})", window=says, counting=counting.title)
    if window.extended_by is not None:
        says = phrase("{window}; longer, where it is allowed: {who}", window=says,
                      who=window.extended_by)
    return says


def say_need(need: Need, ruleset: Ruleset) -> Phrase:
    """Say which paper, or which of several, is needed, and when."""
    if need.parts:
        parts = tuple(say_need(part, ruleset) for part in need.parts)
        if need.count == len(parts):
            says = phrase("all of: {parts}", parts=parts)
        elif need.count == 1:
            says = phrase("one of: {parts}", parts=Either(parts))
        else:
            says = phrase("{count} of: {parts}", parts=Either(parts), count=need.count)
    else:
        says = phrase("{title}", title=ruleset.evidence[need.evidence].latest.title)
    if need.form:
        says = phrase("{paper} ({form})", paper=says, form=phrase(need.form))
    if need.fresh is not None:
        says = phrase("{paper}, no older than {length}", paper=says, length=need.fresh)
    if need.when is not None:
        says = phrase("{paper}, if {when}", paper=says, when=need.when.rule())
    return says


def requirement_details(
    edition: Requirement, ruleset: Ruleset
) -> Iterator[tuple[str, Phrase]]:
    """Yield what a requirement says besides its condition: a heading and the words."""
    if edition.on_event:
        event = ruleset.vocabulary[edition.on_event].label
        yield "waits", phrase("applies once this has happened: {event}", event=event)
    if edition.window is not None:
        yield "window", say_window(edition.window, ruleset)
    yield from (("needs", say_need(need, ruleset)) for need in edition.needs)
    for name in edition.gives:
        yield "gives", _title(ruleset.evidence[name].latest.title)
    if edition.takes is not None:
        yield "takes", phrase("{least} to {most}", least=edition.takes.least,
                              most=edition.takes.most)
    yield from (("charges", _title(ruleset.charges[name].latest.title)) for name in edition.charges)
    yield from (("late", _title(ruleset.charges[name].latest.title)) for name in edition.late)
    yield from (("inspects", _title(item.looks_at)) for item in edition.inspects)
    yield from (("cautions", _title(caution)) for caution in edition.cautions)


def evidence_details(edition: Evidence, ruleset: Ruleset) -> Iterator[tuple[str, Phrase]]:
    """Yield what a type of paper says: who issues it, what it shows, in which form it counts."""
    if edition.issued_by is not None:
        authority = ruleset.authorities.get(str(edition.issued_by))
        yield "issued", _title(authority.title if authority else edition.issued_by)
    if edition.from_outside:
        yield "issued", phrase("comes from outside: no step here gives it")
    if edition.shows:
        labels = tuple(ruleset.vocabulary[name].label for name in edition.shows)
        yield "shows", phrase("{labels}", labels=labels)
    if edition.form:
        yield "form", phrase(edition.form)
    yield from (("form", says) for says in how_old(edition))
    for name in edition.stands_in_for:
        yield "stands in", _title(ruleset.evidence[name].latest.title)


def charge_details(edition: Charge, ruleset: Ruleset) -> Iterator[tuple[str, Phrase]]:
    """Yield how much a charge is, case by case."""
    for figure in edition.figures:
        says = _figure(figure, edition, ruleset)
        if figure.when is not None:
            says = phrase("if {when}: {amount}", when=figure.when.rule(), amount=says)
        yield "amount", says
    if edition.paid_to:
        yield "paid to", _title(ruleset.authorities[edition.paid_to].title)


def _figure(figure: Figure, edition: Charge, ruleset: Ruleset) -> Phrase:
    currency = edition.currency or ruleset.currency
    says = _once(figure, currency, ruleset)
    if figure.each is not None:
        says = say_each(says, figure.each, ruleset.vocabulary)
    if figure.since:
        says = phrase("{said}, counted from: {event}", said=says,
                      event=ruleset.vocabulary[figure.since].label)
    if figure.least is not None:
        says = phrase("{amount}, at least {least}", amount=says,
                      least=Money(figure.least, currency))
    if figure.most is not None:
        says = phrase("{amount}, at most {most}", amount=says, most=Money(figure.most, currency))
    return says


def _once(figure: Figure, currency: str, ruleset: Ruleset) -> Phrase:
    of = phrase("{parts}", parts=tuple(_base(name, ruleset) for name in figure.of))
    money = phrase("{money}", money=Money(figure.number, currency))
    if figure.form == "not known":
        return phrase("an amount that this ruleset does not state")
    if figure.form == "amount":
        return money
    if figure.form == "per day":
        return phrase("{money} for each day late", money=money)
    if figure.form == "daily rate":
        return phrase("{rate} % of {parts} for each day late", rate=figure.number, parts=of)
    if figure.form in LATE_FORMS:
        return joined(*(_row(figure, length, number, of, currency)
                        for length, number in figure.steps), by="; ")
    if figure.less:
        of = phrase("{base} less {taken}", base=of,
                    taken=tuple(_base(name, ruleset) for name in figure.less))
    if figure.form == "sum":
        return phrase("the sum of: {parts}", parts=of)
    if figure.rate_fact:
        return phrase("the rate told as '{label}', of: {parts}", parts=of,
                      label=ruleset.vocabulary[figure.rate_fact].label)
    return phrase("{rate} of: {parts}", rate=say_rate(figure), parts=of)


def _row(
    figure: Figure, length: Period | None, number: Decimal, of: Phrase, currency: str
) -> Phrase:
    """Say one row of a table of lateness; None is the row for all that is later."""
    if figure.form == "lateness amounts":
        money = Money(number, currency)
        return phrase("{money}, later", money=money) if length is None else phrase(
            "{money}, up to {length} late", money=money, length=length)
    if length is None:
        return phrase("{rate} % of {parts}, later", rate=number, parts=of)
    return phrase("{rate} % of {parts}, up to {length} late", rate=number, parts=of, length=length)


def _base(name: str, ruleset: Ruleset) -> Text:
    if name in ruleset.charges:
        return ruleset.charges[name].latest.title
    if name in ruleset.requirements:  # what a charge for lateness is late with
        return ruleset.requirements[name].latest.title
    return ruleset.vocabulary[name].label


_DAY_OF_EVENT = {
    "counted": "the day of the event counts as the first day",
    "not counted": "the first day is the one after the event",
    "not stated": "whether the day of the event counts is not stated",
}
_REST_DAY = {
    "stays": "a last day that is a day of rest stays",
    "moves to the next working day": "a last day that is a day of rest moves to the next working "
    "day",
    "not stated": "whether a last day that is a day of rest moves is not stated",
}


def counting_details(edition: Counting) -> Iterator[tuple[str, Phrase]]:
    """Yield how days are counted."""
    yield "counting", phrase(_DAY_OF_EVENT[edition.day_of_event])
    yield "counting", phrase(_REST_DAY[edition.rest_day])
    if edition.season:
        yield "counting", phrase("a last day outside the season moves to the end of the first "
                                 "month of the next one")
    if edition.last_moment is not None:
        yield "counting", _title(edition.last_moment)


def route_details(edition: Route, ruleset: Ruleset) -> Iterator[tuple[str, Phrase]]:
    """Yield what is declared on a route."""
    for name, value in edition.facts.items():
        fact = ruleset.vocabulary[name]
        yield "declares", phrase("{label}: {value}", label=fact.label, value=fact.say(value))


def _title(text: Text) -> Phrase:
    return phrase("{title}", title=text)
