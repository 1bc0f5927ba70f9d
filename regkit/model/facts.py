"""The vocabulary: what may be told about a case. One typed list serves all jurisdictions."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from regkit.language import Country, Either, Phrase, Text, phrase
from regkit.model.values import NEVER, UNKNOWN, Value

FactType = Literal[
    "yes_no", "choice", "date", "quantity", "money", "country", "identifier", "text"
]


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of the vocabulary.

    Attributes:
        name: dotted name; a promise, never removed and never changed in meaning.
        type: what its values are.
        label: the short name used in explanations ('first registered').
        unit: unit of a quantity; values in a convertible unit are converted on reading.
        values: the allowed words of a choice, each with its text.
        no_later_than: date facts that this date can never be later than.
        asked_after: facts without whose answers its question would puzzle; they are asked first.
        of_this_country: whether it is told of the country asked, and so of no other.
        layer: the folder that states it, `common` or a jurisdiction code.
    """

    name: str
    type: FactType
    question: Text
    label: Text
    help: Text | None = None
    group: str = ""
    unit: str = ""
    values: tuple[tuple[str, Text], ...] = ()
    no_later_than: tuple[str, ...] = ()
    asked_after: tuple[str, ...] = ()
    of_this_country: bool = False
    layer: str = "common"

    def __hash__(self) -> int:
        return hash(self.name)

    def __repr__(self) -> str:
        return f"Fact({self.name!r})"

    @property
    def allowed(self) -> tuple[str, ...] | None:
        """The words this fact may take, None where they cannot be listed."""
        if self.type == "yes_no":
            return ("yes", "no")
        return tuple(word for word, _ in self.values) if self.type == "choice" else None

    def say_word(self, word: str) -> Phrase | Text | str:
        """Return the text for one of the words of this fact."""
        if word in (UNKNOWN, NEVER):
            return phrase("unknown") if word == UNKNOWN else phrase("never")
        if self.type == "country":
            return phrase("{country}", country=Country(word))
        if self.type == "yes_no":
            return phrase("yes") if word == "yes" else phrase("no")
        return dict(self.values).get(word, word)

    def say(self, value: Value) -> Phrase:
        """Return the words for a value of this fact."""
        if value.options is None:
            return value.said()
        words = tuple(self.say_word(word) for word in sorted(value.options))
        if len(words) == 1:
            return phrase("{option}", option=words[0])
        return phrase("either {options}", options=Either(words))


class Vocabulary(dict[str, Fact]):
    """All facts by name, in the order of writing. Not to be changed once made."""

    @cached_property
    def bounded(self) -> tuple[Fact, ...]:
        """The date facts that others bound."""
        return tuple(fact for fact in self.values() if fact.no_later_than)
