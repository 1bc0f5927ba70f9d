"""What is watched of an open case from day to day: its answers, and its last days. No reasons."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from regkit.conditions import Holds
from regkit.judge.assess import assess
from regkit.judge.either_way import settled_view
from regkit.judge.law import law_on
from regkit.judge.progress import standing
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
    """Yield each requirement that is open and its last day by the safe reading."""
    law = law_on(ruleset, on)
    for name, verdict in assess(case, ruleset, on).verdicts.items():
        edition = law.edition(ruleset.requirements[name], case)
        if verdict == Verdict.NOT_REQUIRED or edition.window is None:
            continue
        _, met, deadline = standing(ruleset, edition, law.view(case), True)
        if met is None and deadline is not None and deadline.first is not None:
            yield name, deadline.first
