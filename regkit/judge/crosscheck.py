"""Cross-checks: do papers, told facts and the vehicle as it stands tell the same?

Every fact that more than one of them tells is compared, and so are facts of different names that
the ruleset's cross-checks put together, such as the frame number on paper and the one read on the
vehicle. How values are compared is stated in `model.likeness`. Nothing is decided here: each
contradiction names everyone who speaks, and what each of them says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from regkit.conditions import View
from regkit.judge.identifiers import doubts
from regkit.judge.law import Law
from regkit.language import Phrase, Text, phrase
from regkit.model.case import Case, Paper
from regkit.model.comparison import Comparison, Doubt, PaperTrouble, Said
from regkit.model.facts import Fact, Vocabulary
from regkit.model.likeness import Likeness, furthest
from regkit.model.resting import Witness, paper_order
from regkit.model.values import NEVER, UNKNOWN, Value, choice, day_of

Spoken = tuple[Fact, Witness]

KEEPER = "keeper.name"
"""The fact that a paper speaks of by whom it names, if it must name the keeper."""


def paper_trouble(law: Law, case: Case) -> PaperTrouble:
    """Return all that does not agree in a case, and the numbers and dates that look wrong."""
    return PaperTrouble(
        comparisons(law, case),
        (*doubts(case, law.ruleset.jurisdiction), *_future_dates(law, law.view(case))),
    )


def comparisons(law: Law, case: Case) -> tuple[Comparison, ...]:
    """Return all that two or more speak of, contradictions first; the order of papers is no matter.

    A cross-check of which only one speaks is left out: there is nothing to compare.
    """
    spoken = list(_spoken(law, case))
    checked: set[str] = set()
    found: list[Comparison] = []
    for name, history in law.ruleset.crosschecks.items():
        check = history.on(law.day.on)
        if check is not None:
            checked.update(check.agree)
            about = [one for one in spoken if one[0].name in check.agree]
            found += _compare(law, name, check.title, about, check.why, check.sources)
    for fact in dict.fromkeys(fact for fact, _ in spoken if fact.name not in checked):
        found += _compare(law, fact.name, fact.label, [s for s in spoken if s[0] == fact])
    found += _broken_order(law, spoken)
    return tuple(sorted(found, key=lambda one: -one.likeness.rank))


def by(law: Law, paper: Paper | None, fact: Fact | None = None) -> Phrase:
    """Return who says something: a paper by its title and reference, or the case."""
    if paper is not None:
        title = law.ruleset.evidence[paper.evidence].latest.title
        if paper.reference:
            return phrase("'{title}' ({reference})", title=title, reference=paper.reference)
        return phrase("'{title}'", title=title)
    if fact is not None:
        return phrase("the case, under '{label}'", label=fact.label)
    return phrase("the case")


def _spoken(law: Law, case: Case) -> Iterator[Spoken]:
    """Yield every value told, with who tells it, in an order that papers' order does not change."""
    papers = sorted(case.papers, key=paper_order)
    for fact in case.vocabulary.values():
        witnesses = [Witness(case.facts[fact.name])] if fact.name in case.facts else []
        witnesses += [Witness(p.shows[fact.name], p) for p in papers if fact.name in p.shows]
        if fact.name == KEEPER:
            witnesses += [Witness(choice(p.named), p) for p in papers
                          if p.named and law.ruleset.evidence[p.evidence].latest.named == "keeper"]
        yield from ((fact, witness) for witness in witnesses if witness.value.word != UNKNOWN)


def _compare(
    law: Law, about: str, title: Text, spoken: list[Spoken], why: Text | None = None,
    sources: tuple[str, ...] = (),
) -> Iterator[Comparison]:
    apart = furthest((fact, witness.value) for fact, witness in spoken)
    if len(spoken) > 1:
        yield Comparison(about, title, apart, _said(law, spoken), why, sources)


def _said(law: Law, spoken: Iterable[Spoken]) -> tuple[Said, ...]:
    return tuple(
        Said(by(law, witness.paper, fact), fact.label, fact.say(witness.value), witness.paper)
        for fact, witness in spoken
    )


def _broken_order(law: Law, spoken: list[Spoken]) -> Iterator[Comparison]:
    """Yield dates that lie after one they can never be later than, such as built after sold."""
    for fact in law.ruleset.vocabulary.bounded:
        for other in fact.no_later_than:
            wrong = [
                (first, second)
                for first in spoken if first[0] == fact
                for second in spoken if second[0].name == other
                and _after(first[1].value, second[1].value)
            ]
            if wrong:
                named: dict[int, Spoken] = {id(s[1]): s for pair in wrong for s in pair}
                yield Comparison(f"{fact.name} after {other}", fact.label, Likeness.DIFFERENT,
                                   _said(law, named.values()))


def _after(value: Value, other: Value) -> bool:
    return NEVER not in (value.word, other.word) and value.low > other.high


def _future_dates(law: Law, view: View) -> Iterator[Doubt]:
    on, case = law.day.on, view.case
    for paper in sorted(case.papers, key=paper_order):
        issued = day_of(paper.dated.low)
        if issued is not None and issued > on:
            yield Doubt("", phrase("{paper} is dated {day}, after the day of assessment, {on}; "
                                   "check its date", paper=by(law, paper), day=paper.dated, on=on))
    for done in case.done:
        if done.on > on:
            title = law.ruleset.requirements[done.requirement].latest.title
            yield Doubt("", phrase("'{title}' is told as done on {day}, after the day of "
                                   "assessment, {on}", title=title, day=done.on, on=on))
    for rate in case.rates:
        if rate.on > on:
            yield Doubt("", phrase("the rate from {one} to {to} is for {day}, after the day of "
                                   "assessment, {on}", one=rate.one, to=rate.to, day=rate.on,
                                   on=on))
    yield from _future_facts(law.ruleset.vocabulary, case, law)


def _future_facts(vocabulary: Vocabulary, case: Case, law: Law) -> Iterator[Doubt]:
    """Yield dates of the vehicle's own past; arrivals and applications may well be planned."""
    for name, value in sorted(case.facts.items()):
        fact = vocabulary[name]
        day = day_of(value.low) if fact.type == "date" and fact.group == "vehicle" else None
        if day is not None and day > law.day.on:
            yield Doubt(name, phrase("{label} {value} lies after the day of assessment, {on}",
                                     label=fact.label, value=fact.say(value), on=law.day.on))
