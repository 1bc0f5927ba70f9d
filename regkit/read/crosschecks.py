"""Written cross-checks and routes to editions."""

from __future__ import annotations

from regkit.model.crosscheck import CrossCheck
from regkit.model.route import Route
from regkit.model.values import Value
from regkit.read.conditions import ALWAYS
from regkit.read.entries import Fields
from regkit.read.facts import read_value
from regkit.read.problems import did_you_mean


def crosscheck(fields: Fields) -> CrossCheck:
    """Make an edition of a cross-check."""
    return CrossCheck(**fields.common(), agree=fields.names("agree"), why=fields.text("why"))


def route(fields: Fields) -> Route:
    """Make an edition of a route; a fact it tells wrongly is a problem."""
    return Route(**fields.common(), facts=_facts(fields), when=fields.condition() or ALWAYS)


def _facts(fields: Fields) -> dict[str, Value]:
    facts, vocabulary = {}, fields.conditions.vocabulary
    for name, written in fields.get("facts", {}).items():
        fact = vocabulary.get(name)
        wrong = f"the vocabulary has no fact `{name}`{did_you_mean(name, vocabulary)}"
        if fact is not None:
            try:
                facts[name] = read_value(fact, written)
                continue
            except ValueError as error:
                wrong = f"`{name}` {error}"
        fields.conditions.problems.append(
            fields.written.document.problem((*fields.path("facts"), name), wrong))
    return facts
