"""How late, and what lateness costs: exact days and exact amounts, with their source.

Days late are the days from the last day of the window to the day of the act, or to the day of
assessment while nothing was done. Some rules count from an event instead, such as the entry into
the country, once the last day has passed. A daily charge counts each day, to at most so many and
at least so much; a table takes the first row whose period from the start has not passed. Amounts
are a range where the event's date, a condition or a base is not settled.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from decimal import Decimal

from regkit.conditions import All, AnyOf, Condition, NoneOf, View
from regkit.conditions.truth import NO, YES
from regkit.judge.amounts import Range, bounded, exactly, plus
from regkit.judge.exact import Exact
from regkit.model.deadline import DaysLate, Deadline
from regkit.model.figure import LATE_FORMS, Figure
from regkit.model.values import NEVER, day_of

DAILY = ("per day", "daily rate")
LONGEST = 366_000
"""More days than any table tells apart."""

Amounts = tuple[Decimal, Decimal]
"""The least and the most something may come to."""

Base = Callable[[str], Range]
"""Returns what a fact or charge comes to."""


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


def late_amount(figure: Figure, late: DaysLate, view: View, base: Base) -> Range:
    """Return what one figure for lateness comes to, nothing if it came in time.

    Args:
        figure: a figure of one of the forms for lateness.
        base: what each fact and charge comes to that the figure is a rate of.

    Raises:
        ValueError: the figure is of another form.
    """
    if figure.form not in LATE_FORMS:
        raise ValueError(f"a figure of form {figure.form!r} is no charge for lateness")
    least, most = _days(figure, late, view)
    amount: Range = (Decimal(1), Decimal(1))
    if figure.form in ("daily rate", "lateness table"):
        amount = plus(base(name) for name in figure.of)
    low = _amount(figure, late, least, amount[0]) if late.least else Decimal(0)
    if amount[1] is None or (most is None and figure.form in DAILY and figure.most_days is None):
        return low, figure.most
    longest = figure.most_days or LONGEST if most is None else most
    return low, _amount(figure, late, longest, amount[1])


def _days(figure: Figure, late: DaysLate, view: View) -> tuple[int, int | None]:
    """Return the days that count, at least and at most; None where nothing bounds them."""
    if not figure.since:
        return late.least, late.most
    event = view.case.value(figure.since)
    first, last = day_of(event.low), day_of(event.high)
    if event.word == NEVER:
        return 0, 0
    return (0 if last is None else max((late.acted - last).days, 0),
            None if first is None else max((late.acted - first).days, 0))


def possible_figures(figures: Iterable[Figure], exact: Exact) -> Iterator[Figure]:
    """Yield the figures that may count: each whose condition may hold and no earlier one's does."""
    earlier: list[Condition] = []
    for figure in figures:
        own = () if figure.when is None else (figure.when,)
        if exact.truth(All((NoneOf(tuple(earlier)), *own))) != NO:
            yield figure
        if not own or exact.truth(own[0]) == YES:
            return
        earlier += own


def one_counts(figures: Iterable[Figure], exact: Exact) -> bool:
    """Return whether it is certain that one of the figures counts, whichever it is."""
    conditions = [figure.when for figure in figures]
    stated = tuple(condition for condition in conditions if condition is not None)
    return len(stated) < len(conditions) or exact.truth(AnyOf(stated)) == YES


def grows(figure: Figure, late: DaysLate) -> bool:
    """Return whether a figure still grows with every day, or at a later step of its table."""
    if not late.running:
        return False
    if figure.form in DAILY:
        return figure.most_days is None or late.most < figure.most_days
    return _row(figure, late, late.most) < max(number for _, number in figure.steps)


def _amount(figure: Figure, late: DaysLate, days: int, base: Decimal) -> Decimal:
    """Return what so many days late come to; `base` is 1 where the figure is no rate."""
    if days == 0:
        return Decimal(0)
    with exactly():
        if figure.form in DAILY:
            counted = days if figure.most_days is None else min(days, figure.most_days)
            amount = counted * figure.number * base
        else:
            amount = _row(figure, late, days) * base
        if figure.form in ("daily rate", "lateness table"):
            amount = amount.scaleb(-2)
    return bounded((amount, amount), figure.least, figure.most)[0]


def _row(figure: Figure, late: DaysLate, days: int) -> Decimal:
    """Return the rate or amount of the row of a table that so many days fall into."""
    start = date.fromordinal(max(late.acted.toordinal() - days, 1))
    for up_to, number in figure.steps:
        if up_to is None or late.acted <= up_to.after(start):
            return number
    return figure.steps[-1][1]
