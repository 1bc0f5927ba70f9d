"""Assessing: the verdict on every requirement for one case on one day."""

from __future__ import annotations

from datetime import date, datetime
from functools import partial

from regkit.conditions.truth import UNDECIDED
from regkit.judge.exact import Exact
from regkit.judge.explain import explain
from regkit.judge.law import Law, law_on
from regkit.language import Wrong, phrase
from regkit.model.assessment import Assessment, Verdict
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset

EARLIEST, LATEST = date(1900, 1, 1), date(2199, 12, 31)

# Indexed by the number of the truth; 2 is not one.
_VERDICTS = (Verdict.NOT_REQUIRED, Verdict.UNDECIDED, Verdict.UNDECIDED, Verdict.REQUIRED)


def assess(case: Case, ruleset: Ruleset, on: date) -> Assessment:
    """Return what applies to a case on a day, under a ruleset.

    Pure and deterministic: nothing is read, no clock is asked. Verdicts are worked out at once,
    reasons when they are first read.

    Args:
        case: one of the ruleset's own jurisdiction (`regkit.compare.carried.carry` takes one over).
        on: the day whose law counts and on which ages are counted, in the Gregorian calendar.

    Raises:
        TypeError: `on` is no date, or has a time of day.
        ValueError: `on` lies outside 1900 to 2199, or the case is one of another jurisdiction.
    """
    if not isinstance(on, date) or isinstance(on, datetime):
        raise TypeError(f"`on` must be a date without a time, such as date(2026, 4, 1), not {on!r}")
    if not EARLIEST <= on <= LATEST:
        raise Wrong(phrase("{day} is no day of assessment; it must lie in 1900 to 2199",
                           day=on.isoformat()))
    if case.jurisdiction != ruleset.jurisdiction:
        raise ValueError(f"this is a case of {case.jurisdiction}, and the ruleset states the rules "
                         f"of {ruleset.jurisdiction}; take it over with "
                         "regkit.compare.carried.carry, or change its `jurisdiction`")
    law = law_on(ruleset, on)
    truths = law.program.run(case)
    if UNDECIDED in truths:
        truths = _exactly(law, case, truths)
    verdicts = dict(
        zip(law.requirements, map(_VERDICTS.__getitem__, truths), strict=True)
    )
    return Assessment(case, ruleset, on, verdicts, partial(explain, law, case))


def _exactly(law: Law, case: Case, truths: tuple[int, ...]) -> tuple[int, ...]:
    """Settle what Kleene's logic leaves undecided, though it comes out the same either way."""
    exact = Exact(law.view(case))
    return tuple(
        exact.beyond_kleene(condition)
        if truth == UNDECIDED and name in law.may_hide and condition is not None else truth
        for truth, (name, condition) in zip(truths, law.requirements.items(), strict=True)
    )
