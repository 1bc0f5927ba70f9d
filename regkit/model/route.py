"""Routes: the ways into a country that a keeper may choose between, which cost differently."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from regkit.model.ruleset import Edition
from regkit.model.values import Value

if TYPE_CHECKING:
    from regkit.conditions import Condition


@dataclass(frozen=True, kw_only=True)
class Route(Edition):
    """What is declared on one route.

    Attributes:
        facts: what the route tells of the case, such as the customs heading.
        when: the condition under which the route is open to the vehicle and its keeper.
    """

    facts: Mapping[str, Value]
    when: Condition
