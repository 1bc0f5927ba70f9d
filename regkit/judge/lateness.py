"""How late, and what lateness costs: exact days and exact amounts, with their source.

Days late are the days from the last day of the window to the day of the act, or to the day of
assessment while nothing was done. `per day` charges count each of them, to at most so many and at
least so much; a `lateness table` takes the first row whose period from the last day has not passed.
Amounts are a range where the event's date, a condition or a base is not settled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from decimal import Decimal

from regkit.conditions import View
from regkit.conditions.truth import NO, YES
from regkit.model.deadline import DaysLate, Deadline, LateCharge
from regkit.model.ruleset import Charge, Figure, History, Requirement, Ruleset
from regkit.model.values import day_of

Amounts = tuple[Decimal, Decimal]
"""The least and the most something may come to."""

Base = Callable[[str], "Amounts | None"]
"""Returns what a fact or charge comes to; None where that is not known."""

LATE_FORMS = ("per day", "lateness table")


def days_late(deadline: Deadline, acted: date, running: bool) -> DaysLate:
    """Return the days from the last day to the act; 0 if it came in time.

    Args:
        acted: the day of the act, or of the assessment while nothing was done.

    Raises:
        ValueError: the deadline cannot be told.
    """
    if deadline.first is None:
        raise ValueError("days late cannot be counted from a deadline that cannot be told")
    last = deadline.last
    return DaysLate(
        least=0 if last is None else max((acted - last).days, 0),
        most=max((acted - deadline.first).days, 0),
        due=deadline.first,
        acted=acted,
        running=running,
    )


def late_amount(figure: Figure, late: DaysLate, base: Base) -> Amounts | None:
    """Return what one figure for lateness comes to; None where its base is not known.

    Args:
        figure: a `per day` or `lateness table` figure.
        base: what the facts and charges named by a lateness table come to.

    Raises:
        ValueError: the figure is of another form.
    """
    if figure.form == "per day":
        return _per_day(figure, late.least), _per_day(figure, late.most)
    if figure.form != "lateness table":
        raise ValueError(f"a figure of form {figure.form!r} is no charge for lateness")
    parts = [base(name) for name in figure.of]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts):
        return None
    low, high = (sum((part[end] for part in known), Decimal(0)) for end in (0, 1))
    return (_by_table(figure, late, late.least, low), _by_table(figure, late, late.most, high))


def late_charges(
    ruleset: Ruleset, requirement: Requirement, late: DaysLate, view: View, base: Base | None = None
) -> tuple[LateCharge, ...]:
    """Return the charges and penalties a requirement names for being late.

    Args:
        base: what facts and charges come to; by default the money facts of the case.
    """
    worth = base or money_facts(view)
    found = (_charge(ruleset, ruleset.charges[name], late, view, worth)
             for name in requirement.late)
    return tuple(charge for charge in found if charge is not None)


def money_facts(view: View) -> Base:
    """Return the base that knows the money facts of the case and nothing else."""

    def worth(name: str) -> Amounts | None:
        value = view.case.value(name)
        low, high = value.low, value.high
        return (low, high) if isinstance(low, Decimal) and isinstance(high, Decimal) else None

    return worth


def possible_figures(figures: Iterable[Figure], view: View) -> Iterator[tuple[Figure, bool]]:
    """Yield the figures that may count, the first whose condition holds being the last.

    With each, whether it is certain that this one counts.
    """
    open_before = False
    for figure in figures:
        truth = YES if figure.when is None else figure.when.truth(view)
        if truth != NO:
            yield figure, truth == YES and not open_before
        if truth == YES:
            return
        open_before = open_before or truth != NO


def charge_edition(history: History[Charge], view: View) -> Charge | None:
    """Return the edition of a charge that counts for a case; None if none is in force."""
    if history.governed_by:
        value = view.case.value(history.governed_by)
        event = day_of(value.low) if value.low == value.high else None
        return history.on(event) if event else None
    return history.on(view.day.on)


def _charge(
    ruleset: Ruleset, history: History[Charge], late: DaysLate, view: View, base: Base
) -> LateCharge | None:
    edition = charge_edition(history, view)
    if edition is None or late.most == 0:
        return None
    truth = YES if edition.when is None else edition.when.truth(view)
    figures = [f for f, _ in possible_figures(edition.figures, view) if f.form in LATE_FORMS]
    if truth == NO or not figures:
        return None
    amounts = [late_amount(figure, late, base) for figure in figures]
    known = [amount for amount in amounts if amount is not None]
    if not known:
        return None
    return LateCharge(
        charge=edition.id,
        title=edition.title,
        least=min(low for low, _ in known),
        most=max(high for _, high in known),
        currency=edition.currency or ruleset.currency,
        certain=truth == YES and late.least > 0 and len(known) == len(amounts),
        grows=late.running and any(_grows(figure, late) for figure in figures),
        sources=edition.sources,
    )


def _per_day(figure: Figure, days: int) -> Decimal:
    if days == 0:
        return Decimal(0)
    counted = days if figure.most_days is None else min(days, figure.most_days)
    return max(counted * figure.number, figure.least or Decimal(0))


def _by_table(figure: Figure, late: DaysLate, days: int, base: Decimal) -> Decimal:
    if days == 0:
        return Decimal(0)
    start = date.fromordinal(late.acted.toordinal() - days)
    for up_to, rate in figure.steps:
        if up_to is None or late.acted <= up_to.after(start):
            return max(base * rate / 100, figure.least or Decimal(0))
    return max(base * figure.steps[-1][1] / 100, figure.least or Decimal(0))


def _grows(figure: Figure, late: DaysLate) -> bool:
    if figure.form == "per day":
        return figure.most_days is None or late.most < figure.most_days
    return _by_table(figure, late, late.most, Decimal(100)) < max(r for _, r in figure.steps)
