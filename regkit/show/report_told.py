"""What the report rests on: every fact of the case, and the papers that show some of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from regkit.show.report_page import ReportPage
from regkit.show.resting_text import say_rest


def told(page: ReportPage) -> Iterator[dict[str, Any]]:
    """Yield the facts that are told or shown, in the order of the vocabulary."""
    case = page.assessment.case
    for name, fact in page.assessment.ruleset.vocabulary.items():
        rest = case.resting.get(name)
        value = case.facts.get(name) if rest is None else rest.value
        if value is not None:
            says = say_rest(page.assessment, name)
            yield {"label": page.say(fact.label), "value": page.say(fact.say(value)),
                   "rests": "" if says is None else page.say(says)}


