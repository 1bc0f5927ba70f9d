"""Speaking: phrases and texts become words of one language, with Babel for dates, money and lists.

Dates are written out ('1 January 1986') so that no reader mistakes month for day. Babel follows
the Unicode Common Locale Data Repository (UTS 35).
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import lru_cache
from gettext import GNUTranslations, NullTranslations
from importlib import resources
from io import BytesIO
from re import sub
from typing import TYPE_CHECKING, Any

from regkit.language.phrase import (
    Country,
    Either,
    Money,
    Month,
    Phrase,
    Sayable,
    Text,
    YearDay,
)

if TYPE_CHECKING:
    from babel import Locale

# Babel's plain 'en' is American; the project writes day before month.
_LOCALES = {"en": "en_GB"}


class Speaker:
    """Says phrases, texts, dates and amounts in one language.

    Attributes:
        language: the language that is spoken; `de` also where `de-AT` was asked for.

    Raises:
        ImportError: Babel is not installed.
        ValueError: the language is none of those spoken.
    """

    def __init__(self, language: str = "en") -> None:
        try:
            from babel import Locale
        except ImportError as missing:
            raise ImportError(
                "Putting an answer into words needs the package 'babel': pip install babel"
            ) from missing
        found = spoken(language)
        if found is None:
            raise ValueError(f"{language!r} is no language spoken here; there are: "
                             f"{', '.join(languages())}")
        self.language = found
        self._locale: Locale = Locale.parse(_LOCALES.get(found, found))
        self._translations = _translations(found)
        self._ways: tuple[tuple[Any, Callable[[Any], str]], ...] = (
            (Phrase, self._phrase),
            (Text, self._text),
            (str, self._string),
            (date, self._date),
            ((int, Decimal), self._number),
            (Month, self._month),
            (YearDay, self._year_day),
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
        return self._template(said).format(**arguments)

    def _string(self, said: str) -> str:
        return str(said)

    def _text(self, said: Text) -> str:
        return self.wording(said)[1]

    def wording(self, said: Text) -> tuple[str, str]:
        """Return the wording of a text that is said, behind the code of its language."""
        for wanted in (self.language, "en"):
            for language, wording in said.wordings:
                if language == wanted and wording:
                    return language, wording
        return said.wordings[0] if said.wordings else (self.language, "")

    def _template(self, said: Phrase) -> str:
        """Return the template in this language; in English where nobody translated it."""
        one, context, speech = said.template, said.context, self._translations
        if not one:
            return ""
        if not said.many:
            return speech.pgettext(context, one) if context else speech.gettext(one)
        number = dict(said.arguments)["count"]
        # No language counts a part of a thing as one (UTS 35, plural rules of those we speak).
        count = int(number) if number == int(number) else 2
        if context:
            return speech.npgettext(context, one, said.many, count)
        return speech.ngettext(one, said.many, count)

    def _date(self, day: date) -> str:
        from babel.dates import format_date

        return format_date(day, format="long", locale=self._locale)

    def _month(self, month: Month) -> str:
        from babel.dates import format_skeleton

        return format_skeleton("yMMMM", month.day, locale=self._locale)

    def _year_day(self, day: YearDay) -> str:
        from babel.dates import format_skeleton

        return format_skeleton("MMMMd", date(2000, day.month, day.day), locale=self._locale)

    def _money(self, money: Money) -> str:
        from babel.numbers import format_currency

        said = format_currency(money.amount, money.currency, locale=self._locale)
        # A space that does not break stands between a letter and a figure (UTS 35, currency
        # spacing); Babel leaves it out.
        return sub(r"(?<=[^\W\d_])(?=\d)", "\N{NO-BREAK SPACE}", said)

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


def spoken(tag: str) -> str | None:
    """Return the language that is spoken to whoever asks for one; None if nobody translated it.

    This is the one rule: an answer is in one language throughout. Asked for by name, a language
    that is not spoken is refused, and those that are spoken are named; a browser's wish is passed
    over.

    Args:
        tag: a language tag, looked up by its primary subtag (RFC 4647).

    >>> spoken("de-AT"), spoken("sv_SE"), spoken("fr")
    ('de', 'sv', None)
    """
    primary = tag.replace("_", "-").partition("-")[0].lower()
    return primary if primary in languages() else None


@lru_cache(maxsize=1)
def languages() -> tuple[str, ...]:
    """Return the languages the program speaks, English first."""
    folder = resources.files("regkit.language") / "catalogues"
    return ("en", *sorted(file.name.removesuffix(".po") for file in folder.iterdir()
                          if file.name.endswith(".po")))


def _translations(language: str) -> NullTranslations:
    """Read the translations of the program's own phrases; English needs none."""
    file = resources.files("regkit.language") / "catalogues" / f"{language}.po"
    if language == "en":
        return NullTranslations()
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with file.open("rb") as stream:
        catalogue = read_po(stream, locale=language)
    compiled = BytesIO()
    write_mo(compiled, catalogue)
    compiled.seek(0)
    return GNUTranslations(compiled)
