"""How a fact is asked on a page: which answers are offered, which are written, with what help."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from regkit.language import Argument, Phrase, Speaker, phrase, speaker
from regkit.model.facts import Fact
from regkit.model.quantities import quantity
from regkit.model.values import NEVER, UNKNOWN
from regkit.read.facts import LONGEST_TEXT
from regkit.show.html_words import harmless
from regkit.web.picks import OPEN, Pick, choices, listed_choices, others

WRITTEN = "written"
"""The choice that stands for 'as I write it here'."""
MOST_BUTTONS = 14
"""More answers than these are offered as a list to pick from."""
HUNDRED = Decimal(100)

WRITE = {
    "country": "This country:",
    "date": "The date, as exactly as you know it:",
    "quantity": "The number:",
    "money": "The amount:",
    "identifier": "As it stands there:",
    "text": "In your words:",
}
SIZE = {"date": 14, "quantity": 10, "money": 12}
"""How many characters wide the field for an answer is; 28 for others."""
NOTATION = (
    ("1962-05-17", "on that day"),
    ("1962-05", "in that month"),
    ("1962", "in that year"),
    ("1960/1964", "some time from 1960 to 1964"),
    ("../1959", "in 1959 at the latest"),
    ("1959/..", "in 1959 at the earliest"),
    ("1962~", "about 1962"),
    ("196X", "in the sixties"),
)
"""Ways to write a date (ISO 8601-2, EDTF), and what each says."""


@dataclass(frozen=True, slots=True)
class Field:
    """What a page shows to ask for a fact.

    Attributes:
        choices: the answers to pick from, in a list if there are many.
        listed: whether they are offered as one list.
        write: the label of the answer to be written; empty if none can be.
        written: what stands in it already.
        before: what stood in it when it was first shown.
        size: how many characters wide it is.
        unit: the unit of the number to be written.
        currency: the currency that stands in its field; empty if none is asked.
        hint: how to write the answer.
        notation: ways to write it, and what each says.
        others: what can be said instead of an answer.
        writing: whether the answer to be written is the one picked at first.
    """

    name: str
    type: str
    choices: tuple[Pick, ...]
    listed: bool
    write: str
    written: str
    before: str
    size: int
    unit: str
    currency: str
    hint: str
    notation: tuple[tuple[str, str], ...]
    others: tuple[Pick, ...]
    writing: bool

    def as_sent(self, picked: str, written: str, currency: str) -> Field:
        """Return the field as a visitor filled it in, to be mended."""
        return replace(
            self,
            choices=tuple(replace(pick, picked=pick.word == (written if self.listed else picked))
                          for pick in self.choices),
            others=tuple(replace(pick, picked=pick.word == picked) for pick in self.others),
            written=written[:LONGEST_TEXT] if self.write else "",
            currency=currency[:3] if self.currency else "",
            writing=bool(self.write) and picked in ("", WRITTEN),
            # Whoever now picks another answer need not empty the field first.
            before=written if picked in ("", WRITTEN) else self.before,
        )


def field_of(
    fact: Fact, speak: Speaker, currency: str, told: str = "", left_open: bool = False,
    again: bool = False,
) -> Field:
    """Return how a fact is asked.

    Args:
        currency: the ISO 4217 code that stands in a field for money.
        told: the answer given before, which stands there again.
        left_open: whether the visitor said before that the answer is not known.
        again: whether what is told is asked for more exactly.
    """
    said = told if told in (NEVER, UNKNOWN) else OPEN if left_open else ""
    number, unit = harmless(told), ""
    if fact.type == "money":
        number, _, unit = number.rpartition(" ")
    elif fact.type == "quantity":
        number = number.removesuffix(f" {fact.unit}")
    listed = fact.type == "country" or len(fact.allowed or ()) > MOST_BUTTONS
    return Field(
        name=fact.name,
        type=fact.type,
        choices=listed_choices(fact, speaker(speak.language), told) if listed
        else choices(fact, speak, told),
        listed=listed,
        write=_label(fact, listed, speak),
        written="" if said else number,
        before="" if said else number,
        size=SIZE.get(fact.type, 28),
        unit=_unit(fact, speaker(speak.language)),
        currency=unit or currency if fact.type == "money" else "",
        hint=speak.say(_hint(fact)),
        notation=tuple((way, speak.say(phrase(says))) for way, says in NOTATION)
        if fact.type == "date" else (),
        others=others(fact, speak, said, again),
        writing=(listed or fact.type in WRITE) and not said,
    )


def _label(fact: Fact, listed: bool, speak: Speaker) -> str:
    if fact.type in WRITE:
        return speak.say(phrase(WRITE[fact.type]))
    return speak.say(phrase("This one:")) if listed else ""


def _unit(fact: Fact, plain: Speaker) -> str:
    """Return the unit as it stands behind a number; the words for a hundred hold it."""
    if fact.type != "quantity":
        return ""
    return plain.say(quantity(HUNDRED, fact.unit)).replace(plain.say(HUNDRED), "").strip()


def _hint(fact: Fact) -> Phrase:
    unit: Argument = fact.unit
    if fact.type == "quantity":
        return phrase("Digits alone are taken as {unit}; another unit can stand behind them.",
                      unit=unit)
    if fact.type == "date":
        return phrase("Such as 1962-05-17, 1962-05 or 1962. What you do not know exactly can be "
                      "written too.")
    if fact.type == "identifier":
        return phrase("Letters and digits, as on the vehicle or the paper.")
    return Phrase("")
