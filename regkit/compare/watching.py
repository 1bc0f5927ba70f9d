"""What is watched of an open case from day to day: its answers, and its last days. No reasons."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from regkit.conditions import Holds
from regkit.judge.assess import assess
from regkit.judge.either_way import settled_view
from regkit.judge.law import law_on
from regkit.judge.progress import ran_out, standing
from regkit.model.assessment import Verdict
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset


def answers_on(case: Case, ruleset: Ruleset, on: date) -> dict[str, str]:
    """Return the verdict on each requirement and the outcome of each class, by identifier."""
    law = law_on(ruleset, on)
    exact = settled_view(law, case)
    verdicts = assess(case, ruleset, on).verdicts
    return {name: verdict.value for name, verdict in verdicts.items()} | {
        name: exact.truth(Holds(name, law.definitions[name].title)).word
        for name, history in ruleset.definitions.items() if history.latest.is_class
    }


def last_days(case: Case, ruleset: Ruleset, on: date) -> Iterator[tuple[str, date]]:
    """Yield each requirement with its last day, by the safe reading, to do what is open.

    Of one that is met for a time, and of one that was, that is the last day on which that counts.
    """
    law = law_on(ruleset, on)
    for name, verdict in assess(case, ruleset, on).verdicts.items():
        edition = law.edition(ruleset.requirements[name], case)
        if verdict == Verdict.NOT_REQUIRED or not (edition.window or edition.gives):
            continue
        view = law.view(case)
        _, met, deadline = standing(ruleset, edition, view, True)
        if met is not None:
            last = met.until
        else:
            last = deadline.first if deadline is not None else None
            last = last or ran_out(ruleset, edition, view)
        if last is not None:
            yield name, last
