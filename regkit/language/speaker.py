"""Speaking: phrases and texts become words of one language, with Babel for dates, money and lists.

Dates are written out ('1 January 1986') so that no reader mistakes month for day. Babel follows
the Unicode Common Locale Data Repository (UTS 35).
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING, Any

from regkit.language.phrase import Country, Either, Money, Month, Phrase, Sayable, Text

if TYPE_CHECKING:
    from babel import Locale
    from babel.messages import Catalog

# Babel's plain 'en' is American; the project writes day before month.
_LOCALES = {"en": "en_GB"}


class Speaker:
    """Says phrases, texts, dates and amounts in one language.

    Raises:
        ImportError: Babel is not installed.
        ValueError: the language code is not one Babel knows.
    """

    def __init__(self, language: str = "en") -> None:
        try:
            from babel import Locale, UnknownLocaleError
        except ImportError as missing:
            raise ImportError(
                "Putting an answer into words needs the package 'babel': pip install babel"
            ) from missing
        self.language = language
        try:
            self._locale: Locale = Locale.parse(_LOCALES.get(language, language))
        except (ValueError, UnknownLocaleError) as unknown:
            raise ValueError(f"{language!r} is not a language code, such as en or de") from unknown
        self._catalogue = _catalogue(language)
        self._ways: tuple[tuple[Any, Callable[[Any], str]], ...] = (
            (Phrase, self._phrase),
            (Text, self._text),
            (str, str),
            (date, self._date),
            ((int, Decimal), self._number),
            (Month, self._month),
            (Money, self._money),
            (Country, self._country),
            (Either, self._either),
            (tuple, self._list),
            (Sayable, lambda said: self.say(said.said())),
        )

    def say(self, said: Any) -> str:
        """Return the words for a phrase, text, date, number, string, or tuple of these."""
        for kind, say in self._ways:
            if isinstance(said, kind):
                return say(said)
        raise TypeError(f"cannot say a {type(said).__name__}")

    def _phrase(self, said: Phrase) -> str:
        arguments = {name: self.say(argument) for name, argument in said.arguments}
        return self._template(said.template).format(**arguments)

    def _text(self, said: Text) -> str:
        wordings = dict(said.wordings)
        return wordings.get(self.language) or wordings.get("en") or str(said)

    def _template(self, template: str) -> str:
        if self._catalogue is None:
            return template
        message = self._catalogue.get(template)
        if message is None or not isinstance(message.string, str):
            return template
        return message.string or template

    def _date(self, day: date) -> str:
        from babel.dates import format_date

        return format_date(day, format="long", locale=self._locale)

    def _month(self, month: Month) -> str:
        from babel.dates import format_skeleton

        return format_skeleton("yMMMM", month.day, locale=self._locale)

    def _money(self, money: Money) -> str:
        from babel.numbers import format_currency

        return format_currency(money.amount, money.currency, locale=self._locale)

    def _country(self, country: Country) -> str:
        return str(self._locale.territories.get(country.code, country.code))

    def _number(self, number: int | Decimal) -> str:
        from babel.numbers import format_decimal

        return format_decimal(number, locale=self._locale, decimal_quantization=False)

    def _list(self, parts: tuple[Any, ...]) -> str:
        from babel.lists import format_list

        return format_list([self.say(part) for part in parts], locale=self._locale)

    def _either(self, either: Either) -> str:
        from babel.lists import format_list

        return format_list([self.say(part) for part in either.options], style="or",
                           locale=self._locale)


@lru_cache(maxsize=16)
def speaker(language: str = "en") -> Speaker:
    """Return the speaker of a language; it is made once."""
    return Speaker(language)


def _catalogue(language: str) -> Catalog | None:
    """Read the translations of the program's own phrases; English needs none."""
    if language == "en":
        return None
    file = resources.files("regkit.language") / "catalogues" / f"{language}.po"
    if not file.is_file():
        return None
    from babel.messages.pofile import read_po

    with file.open("rb") as stream:
        return read_po(stream, locale=language)
