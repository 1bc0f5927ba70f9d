"""Reckoning charges: from dated figures and the money facts of a case to exact amounts.

Of several figures the first whose condition holds counts; while a condition is open, every figure
that may count is reckoned and the amount is the range over them. No exchange rate is invented: a
fact in another currency needs a rate from the case.
"""

from __future__ import annotations

from decimal import Decimal

from regkit.conditions import Condition
from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.amounts import (
    ANYTHING,
    NOTHING,
    Range,
    any_of,
    bounded,
    divided,
    less,
    plus,
    times,
)
from regkit.judge.charge_editions import possible_editions
from regkit.judge.counted import measured, say_counted, times_counted
from regkit.judge.deciding import deciding_words, hangs_on
from regkit.judge.exact import Exact
from regkit.judge.lateness import late_amount, one_counts, possible_figures
from regkit.judge.law import Law
from regkit.judge.reckoned import Notes, Reckoned, late_words, range_of, rounded_by_rule
from regkit.language import Money, Phrase, joined, phrase
from regkit.model.bill import Amount
from regkit.model.deadline import DaysLate
from regkit.model.figure import LATE_FORMS, Figure, say_rate
from regkit.model.ruleset import Charge, History


class Reckoner:
    """Reckons the charges of one law for one case; each is worked out once."""

    def __init__(self, law: Law, exact: Exact) -> None:
        self.law = law
        self.exact = exact
        self.view = exact.view
        self.known: dict[tuple[str, DaysLate | None], Reckoned] = {}

    def reckon(self, name: str, late: DaysLate | None = None) -> Reckoned:
        """Return what a charge comes to.

        Args:
            late: how late the requirement is that the charge or penalty belongs to.
        """
        key = (name, late)
        if key not in self.known:
            self.known[key] = self._reckon(self.law.ruleset.charges[name], late)
        return self.known[key]

    def _reckon(self, history: History[Charge], late: DaysLate | None) -> Reckoned:
        notes = Notes()
        editions, needs = possible_editions(history, self.law, self.view)
        notes.needs.update(dict.fromkeys(needs))
        shown = next((edition for edition in editions if edition is not None), None)
        currency = (shown.currency if shown else "") or self.law.ruleset.currency
        found: list[tuple[Range, Truth]] = []
        for edition in editions:
            if edition is None:
                found.append((NOTHING, NO))
            else:
                notes.sources.update(dict.fromkeys(edition.sources))
                found.append(self._edition(edition, currency, notes, late))
        reach = any_of(amount for amount, _ in found)
        truths = {truth for _, truth in found}
        due = truths.pop() if len(truths) == 1 else UNDECIDED
        amount, rounding = rounded_by_rule(reach, shown, currency)
        if rounding is not None and shown is not None and shown.rounding is not None:
            notes.sources.update(dict.fromkeys(shown.rounding.sources))
        return Reckoned(
            Amount(*amount, currency), shown, due,
            tuple(dict.fromkeys(notes.how)),
            notes.because[0] if len(notes.because) == 1 else None,
            tuple(notes.needs), tuple(notes.bases), tuple(notes.sources), rounding,
        )

    def _edition(
        self, edition: Charge, currency: str, notes: Notes, late: DaysLate | None
    ) -> tuple[Range, Truth]:
        due = self._truth(edition.when, notes)
        if due == NO:
            return NOTHING, NO
        found: list[Range] = []
        for figure in possible_figures(edition.figures, self.exact):
            self._note_condition(figure.when, notes)
            found.append(self._figure(figure, currency, notes, late))
        if not found:
            return NOTHING, NO
        if due == UNDECIDED or not one_counts(edition.figures, self.exact):
            found.append(NOTHING)
        return any_of(found), due

    def _truth(self, condition: Condition | None, notes: Notes) -> Truth:
        truth = YES if condition is None else self.exact.truth(condition)
        if truth == UNDECIDED and condition is not None:
            notes.needs.update(dict.fromkeys(hangs_on(condition, self.law, self.view)))
        return truth

    def _note_condition(self, condition: Condition | None, notes: Notes) -> None:
        if condition is not None and self._truth(condition, notes) == YES:
            said = deciding_words(condition, self.view)
            notes.because += [] if said is None else [said]

    def _figure(
        self, figure: Figure, currency: str, notes: Notes, late: DaysLate | None
    ) -> Range:
        if figure.form == "not known":
            notes.how.append(phrase("an amount that this ruleset does not state"))
            return ANYTHING
        if figure.form in LATE_FORMS:
            return self._lateness(figure, currency, notes, late)
        amount, parts, said = self._once(figure, currency, notes)
        if figure.each is not None:
            there = measured(figure.each, self.view.case)
            number, step = times_counted(figure.each, there)
            amount, parts = times(amount, number), parts * step
            said = say_counted(said, figure.each, there, self.law.ruleset.vocabulary)
            for name in figure.each.of if there[0] != there[1] else ():
                self._note_open(name, notes)
        notes.how.append(said)
        return bounded(divided(amount, parts), figure.least, figure.most)

    def _once(self, figure: Figure, currency: str, notes: Notes) -> tuple[Range, Decimal, Phrase]:
        """Return what a figure comes to where it counts once, what to divide it by, and how."""
        if figure.form == "amount":
            said = phrase("a fixed amount") if figure.each is None else phrase(
                "{money}", money=Money(figure.number, currency))
            return (figure.number, figure.number), Decimal(1), said
        base, said = self._base(figure, currency, notes)
        if figure.form == "sum":
            return base, Decimal(1), said
        rate, rate_said = self._rate(figure, notes)
        several = "{rate} of the sum of {base}" if len(figure.of) > 1 else "{rate} of {base}"
        return times(base, rate), Decimal(figure.parts), phrase(several, rate=rate_said, base=said)

    def _base(self, figure: Figure, currency: str, notes: Notes) -> tuple[Range, Phrase]:
        """Return the sum a figure is reckoned from, what is taken off included."""
        parts = [self._part(name, currency, notes) for name in figure.of]
        base, said = plus(amount for _, amount in parts), joined(*(p for p, _ in parts), by=" + ")
        for name in figure.less:
            taken_said, taken = self._part(name, currency, notes)
            base, said = less(base, taken), phrase("{base} less {taken}", base=said,
                                                   taken=taken_said)
        return base, said

    def _note_open(self, name: str, notes: Notes) -> None:
        """Note a fact as needed unless it is known exactly."""
        if not self.view.case.value(name).exact:
            label = self.law.ruleset.vocabulary[name].label
            notes.needs[phrase("{label}", label=label)] = None

    def _rate(self, figure: Figure, notes: Notes) -> tuple[Range, Phrase]:
        if not figure.rate_fact:
            return (figure.number, figure.number), say_rate(figure)
        self._note_open(figure.rate_fact, notes)
        found = range_of(self.view.case.value(figure.rate_fact))
        if found[0] != found[1]:
            return found, phrase("a rate not known yet")
        return found, phrase("{rate} %", rate=found[0])

    def _part(self, name: str, currency: str, notes: Notes) -> tuple[Phrase, Range]:
        """Return one part of a base: another charge, or a money fact in the bill's currency."""
        if name in self.law.ruleset.charges:
            inner = self.reckon(name)
            notes.bases[name] = None
            notes.needs.update(dict.fromkeys(inner.needs))
            label = phrase("'{title}'", title=self.law.ruleset.charges[name].latest.title)
            unit, found = inner.amount.currency, (inner.amount.least, inner.amount.most)
            return self._in_currency(label, unit, found, currency, notes)
        fact = self.law.ruleset.vocabulary[name]
        value = self.view.case.value(name)
        found = range_of(value)
        if found[0] != found[1]:
            notes.needs[phrase("{label}", label=fact.label)] = None
        label = phrase("{label}", label=fact.label)
        return self._in_currency(label, value.unit or currency, found, currency, notes)

    def _in_currency(
        self, label: Phrase, unit: str, found: Range, currency: str, notes: Notes
    ) -> tuple[Phrase, Range]:
        """Return an amount in the bill's currency; without a rate of the case, nothing is known."""
        if unit == currency:
            return phrase("{label} {amount}", label=label, amount=Amount(*found, unit)), found
        for rate in self.view.case.rates:
            if (rate.one, rate.to) == (unit, currency):
                return phrase(
                    "{label} {amount} at {rate} {currency} for 1 {unit} ({source}, {day})",
                    label=label, amount=Amount(*found, unit), rate=rate.rate, currency=currency,
                    unit=unit, source=rate.source, day=rate.on,
                ), times(found, (rate.rate, rate.rate))
        notes.needs[phrase("a rate from {one} to {to}", one=unit, to=currency)] = None
        return phrase("{label} {amount}", label=label, amount=Amount(*found, unit)), ANYTHING

    def _lateness(
        self, figure: Figure, currency: str, notes: Notes, late: DaysLate | None
    ) -> Range:
        if late is None or late.most == 0:
            notes.how.append(phrase("in time, so nothing"))
            return NOTHING

        def base(name: str) -> Range:
            return self._part(name, currency, notes)[1]

        if figure.since:
            self._note_open(figure.since, notes)
        notes.how.append(late_words(figure, late, currency, self.law.ruleset.vocabulary))
        return late_amount(figure, late, self.view, base)
