"""What every kind of test supplies, and the small grammar that kinds share."""

from __future__ import annotations

import re
from abc import abstractmethod
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, ClassVar, Self

from regkit.conditions.tree import Test
from regkit.model.calendar import Period
from regkit.model.facts import Fact, Vocabulary

COMPARISONS = ("at least", "more than", "less than", "at most")
NEGATED = {"at least": "less than", "more than": "at most", "less than": "at least",
           "at most": "more than"}
LEAST_STEP = Decimal("0.0000001")
"""Less than two numbers of six decimal places can lie apart: cuts are half-open, so 'more than' is
'at least a little more'."""

_LONGEST = {"days": 366_000, "weeks": 52_000, "months": 12_000, "years": 1000,
            "calendar months": 12_000, "calendar years": 1000}
_PERIOD = re.compile(r"(\d{1,5}) (day|week|month|year|calendar month|calendar year)s?")


class Misread(ValueError):
    """A test that cannot be read; the message says what is wrong and what would be right."""


class Kind(Test):
    """A kind of test.

    Attributes:
        types: the fact types it can test.
        example: how it is written, shown when a test cannot be read.
        schema: the JSON Schema (draft 2020-12) of what stands after the fact's name.
    """

    __slots__ = ()

    types: ClassVar[tuple[str, ...]]
    example: ClassVar[str]
    schema: ClassVar[Mapping[str, Any]]

    @classmethod
    @abstractmethod
    def read(cls, fact: Fact, written: Any, vocabulary: Vocabulary) -> Self | None:
        """Return the test for what is written after the fact's name, None if it is another kind.

        Raises:
            Misread: it is this kind, but wrong.
        """


def schema_of_bounds(pattern: str, most: int, description: str) -> Mapping[str, Any]:
    """Return the JSON Schema of a map from 'at least', 'more than', … to what bounds the fact.

    Args:
        pattern: of each bound, as text.
        most: how many there may be.
    """
    return {
        "type": "object",
        "properties": {key: {"type": "string", "pattern": pattern} for key in COMPARISONS},
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": most,
        "description": description,
    }


def period(text: str) -> Period | None:
    """Read a period such as '40 years' or '1 month'; None if it is none."""
    found = _PERIOD.fullmatch(text.strip())
    return Period(int(found[1]), found[2] + "s") if found else None  # type: ignore[arg-type]


def counted_period(text: str) -> Period:
    """Read a period that any day of assessment can be counted back by.

    Raises:
        Misread: it is no period, or one of more than 1,000 years.
    """
    length = period(text)
    if length is None:
        raise Misread(f"{text!r} is no period; write a number and days, weeks, months, years, "
                      "calendar months or calendar years")
    if length.count > _LONGEST[length.unit]:
        raise Misread(f"{text!r} is longer than 1,000 years")
    return length


def only_keys(written: Any, keys: tuple[str, ...]) -> dict[str, Any] | None:
    """Return what is written if it is a map with no other keys than these, else None."""
    if isinstance(written, dict) and written and set(written) <= set(keys):
        return written
    return None
