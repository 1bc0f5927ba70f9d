"""The condition tree and its readings: one tree, several questions asked of it."""

from regkit.conditions.by_date import ByDate, NoRule
from regkit.conditions.cut import Among, Between, Cut
from regkit.conditions.tree import All, AnyOf, Condition, Holds, NoneOf, Open, Test
from regkit.conditions.truth import Truth
from regkit.conditions.view import View

__all__ = [
    "All",
    "Among",
    "AnyOf",
    "Between",
    "ByDate",
    "Condition",
    "Cut",
    "Holds",
    "NoRule",
    "NoneOf",
    "Open",
    "Test",
    "Truth",
    "View",
]
