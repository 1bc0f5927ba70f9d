"""The outcomes of a law as conditions: what applies, by when, with which papers, at what charge.

Whatever an entry can come to is one item with the condition under which it does, so that all kinds
of outcome are compared in one way. A window of 14 days is an item that holds where the edition with
those 14 days counts; it matters where the requirement applies.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from regkit.compare.leap_days import without_anniversary
from regkit.conditions import All, AnyOf, Condition, Holds, NoneOf, Test
from regkit.judge.law import Law, by_date
from regkit.language import Phrase, phrase
from regkit.model.calendar import Period
from regkit.model.figure import Figure, ForEach
from regkit.model.ruleset import Charge, History, Need, Requirement, Ruleset
from regkit.model.window import Window

ALWAYS, NEVER = All(()), AnyOf(())

Entry = tuple[str, str]
"""A kind of outcome and the identifier of the entry it belongs to."""


@dataclass(frozen=True, slots=True)
class Item:
    """One outcome of an entry. Two are the same if their keys are, whatever the words."""

    key: str
    says: Phrase = field(compare=False)


ITSELF = Item("", phrase(""))
"""That the requirement applies, or the definition is fulfilled."""

Items = Mapping[Item, Condition]


def entries(ruleset: Ruleset) -> Iterator[Entry]:
    """Yield everything that has an outcome."""
    yield from (("definition", name) for name in ruleset.definitions)
    for kind in ("requirement", "window", "need"):
        yield from ((kind, name) for name in ruleset.requirements)
    yield from (("charge", name) for name in ruleset.charges)


def items(law: Law, entry: Entry) -> Items:
    """Return the outcomes of an entry under a law; none if the law has no such entry."""
    kind, name = entry
    if kind == "definition":
        named = law.definitions.get(name)
        return {} if named is None else {ITSELF: named.condition or NEVER}
    if kind == "charge":
        return _charge_items(law, name)
    if name not in law.ruleset.requirements:
        return {}
    if kind == "requirement":
        return {ITSELF: law.requirements[name] or NEVER}
    history = law.ruleset.requirements[name]
    of_edition = _window_items if kind == "window" else _need_items
    found = dict.fromkeys(item for e in history.editions for item in of_edition(law, e))
    return {item: _counts(law, history, _when(law, item, of_edition)) for item in found}


def applies(law: Law, entry: Entry) -> Condition:
    """Return the condition under which an outcome of an entry matters at all."""
    kind, name = entry
    if kind in ("window", "need"):
        return law.requirements.get(name) or NEVER
    return ALWAYS


def _when(
    law: Law, item: Item, of_edition: Callable[[Law, Any], Items]
) -> Callable[[Any], Condition]:
    return lambda edition: of_edition(law, edition).get(item, NEVER)


def _counts(law: Law, history: History[Any], when: Callable[[Any], Condition]) -> Condition:
    """Return the condition that the edition that counts holds, by a condition of each edition."""
    editions = tuple(replace(edition, when=when(edition)) for edition in history.editions)
    changed = replace(history, editions=editions)
    if changed.governed_by:
        return by_date(changed, law.ruleset.vocabulary)
    current = changed.on(law.day.on)
    return NEVER if current is None else current.when


def _window_items(law: Law, edition: Requirement) -> Items:
    return {} if edition.window is None else {_window(law, edition.window): ALWAYS}


def _window(law: Law, window: Window) -> Item:
    labels = tuple(law.ruleset.vocabulary[name].label for name in window.of)
    ahead = "at least {count} " if window.back else "within {count} "
    unit = "" if window.within is None else (
        ("working " if window.working else "") + window.within.unit)
    within = phrase("at once") if window.within is None else phrase(
        ahead + unit + (" before" if window.back else ""), count=window.within.count)
    history = law.ruleset.counting.get(window.counting)
    rule = history.on(law.day.on) if history else None
    if rule is None:
        return Item(f"{within} {window.of}",
                    phrase("{within} of: {labels}", within=within, labels=labels))
    leap = law.day.leap_day if window.within and without_anniversary(window.within) else ""
    counted = (rule.day_of_event, rule.rest_day, rule.holidays, rule.special_days,
               rule.least_working, rule.season, leap)
    template = "{within} of: {labels} (day of the event {first}; on a rest day {moves}" + (
        "; where there is no 29 February, {leap})" if leap else ")")
    return Item(f"{within} {window.of} {counted}", phrase(
        template, within=within, labels=labels, first=rule.day_of_event, moves=rule.rest_day,
        leap=leap))


def _need_items(law: Law, edition: Requirement) -> Items:
    return {_need(law, need): need.when or ALWAYS for need in edition.needs}


def _need(law: Law, need: Need) -> Item:
    if need.parts:
        parts = [_part(law, part) for part in need.parts]
        return Item(f"{need.count} of {[part.key for part in parts]}", phrase(
            "{count} of: {parts}", count=need.count, parts=tuple(part.says for part in parts)))
    history = law.ruleset.evidence.get(need.evidence)
    says = phrase("{paper}", paper=need.evidence if history is None else history.latest.title)
    if need.form:
        says = phrase("{paper}, as {form}", paper=says, form=need.form)
    if need.fresh is not None:
        says = phrase("{paper}, no older than {count} " + need.fresh.unit, paper=says,
                      count=need.fresh.count)
    return Item(f"{need.evidence} {need.form} {need.fresh}", says)


def _part(law: Law, need: Need) -> Item:
    item = _need(law, need)
    if need.when is None:
        return item
    says = phrase("{paper}, if {when}", paper=item.says, when=need.when.rule())
    return Item(f"{item.key} if {_key(need.when)}", says)


def _key(condition: Condition) -> str:
    """Return what a condition is made of, without any words for people."""
    return " ".join(
        f"holds {part.definition}" if isinstance(part, Holds)
        else repr(part) if isinstance(part, Test) else type(part).__name__
        for part in condition.walk()
    )


def _charge_items(law: Law, name: str) -> Items:
    history = law.ruleset.charges.get(name)
    if history is None:
        return {}
    found = dict.fromkeys(item for e in history.editions for item in _figure_items(law, e))
    return {item: _counts(law, history, _when(law, item, _figure_items)) for item in found}


def _figure_items(law: Law, edition: Charge) -> Items:
    """Return each figure with its condition: its own holds, and that of no figure before it."""
    payable = edition.when or ALWAYS
    found: dict[Item, Condition] = {}
    before: list[Condition] = []
    for figure in edition.figures:
        own = figure.when or ALWAYS
        counts = All((payable, own, NoneOf(tuple(before))))
        item = _figure(figure, edition)
        found[item] = AnyOf((found[item], counts)) if item in found else counts
        before.append(own)
    return found


def _figure(figure: Figure, edition: Charge) -> Item:
    parts = {
        "of": figure.of, "less": figure.less,
        "for each": figure.each and _each(figure.each), "counted from": figure.since,
        "at most days": figure.most_days, "at least": figure.least, "at most": figure.most,
        "steps": tuple(_step(figure, *step) for step in figure.steps),
        "rounding": edition.rounding and (edition.rounding.to, edition.rounding.how),
        "paid to": edition.paid_to,
    }
    said = [f"{name} {_plain(part)}" for name, part in parts.items() if part]
    text = ", ".join((_amount(figure, edition.currency), *said))
    return Item(f"{text} {figure.form} {edition.payable}", phrase("{text}", text=text))


def _amount(figure: Figure, currency: str) -> str:
    """Return what a figure comes to before anything limits it."""
    share = figure.rate_fact or (
        f"{figure.number} %" if figure.parts == 100 else f"{figure.number}/{figure.parts}")
    return {
        "amount": f"{figure.number} {currency}", "rate": share,
        "per day": f"{figure.number} {currency} for each day late",
        "daily rate": f"{share} for each day late", "lateness table": "a rate by lateness",
        "lateness amounts": "an amount by lateness",
    }.get(figure.form, figure.form)


def _step(figure: Figure, late: Period | None, number: Any) -> str:
    sign = "" if figure.form == "lateness amounts" else " %"
    return f"{number}{sign}" if late is None else f"up to {_plain(late)} {number}{sign}"


def _each(each: ForEach) -> str:
    bounds = {"beyond": each.beyond, "up to": each.up_to}
    said = [f"{name} {bound}" for name, bound in bounds.items() if bound is not None]
    return " ".join((each.counts, str(each.step), "of", *each.of, *said))


def _plain(part: Any) -> str:
    if isinstance(part, tuple):
        return " and ".join(_plain(inner) for inner in part)
    return f"{part.count} {part.unit}" if isinstance(part, Period) else str(part)
