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
from regkit.model.deadline import DaysLate, Deadline
from regkit.model.figure import Figure

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


def grows(figure: Figure, late: DaysLate) -> bool:
    """Return whether a figure still grows with every day, or at a later step of its table."""
    if not late.running:
        return False
    if figure.form == "per day":
        return figure.most_days is None or late.most < figure.most_days
    return _by_table(figure, late, late.most, Decimal(100)) < max(r for _, r in figure.steps)


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
