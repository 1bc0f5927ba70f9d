"""What to have in hand before paying for a vehicle: papers, and readings from the vehicle."""

from __future__ import annotations

from dataclasses import dataclass

from regkit.language import Phrase, Text
from regkit.model.bill import Bill
from regkit.model.facts import Fact
from regkit.model.ruleset import Evidence


@dataclass(frozen=True)
class Wanted:
    """One paper to get before paying.

    Attributes:
        form: the form it must have; empty where none is asked for.
        shows: the facts to read off it.
        for_steps: the titles of the steps that ask for it.
        certain: whether a step asks for it in every case, else it may, or it is one of several.
    """

    evidence: Evidence
    form: str
    shows: tuple[Fact, ...]
    for_steps: tuple[Text, ...]
    certain: bool


@dataclass(frozen=True)
class Handover:
    """The sheet to take along before a purchase, for one vehicle and route.

    Attributes:
        from_seller: papers the seller hands over.
        to_settle: papers of the first stage that come from others.
        to_read: facts that only the vehicle itself tells, such as the number on its frame.
        to_look_at: what an inspector will look at, with the fact it is about, if any.
        bill: what the route costs.
    """

    bill: Bill
    from_seller: tuple[Wanted, ...]
    to_settle: tuple[Wanted, ...]
    to_read: tuple[Fact, ...]
    to_look_at: tuple[tuple[Text, Fact | None], ...]
    cautions: tuple[Phrase, ...]
