"""What every page needs: the rulesets, the seal, the workbench, and who asks in which language."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path

from starlette.requests import Request

import regkit
from regkit.language import languages, phrase, speaker
from regkit.model.ruleset import Ruleset
from regkit.web.conversation import Conversation
from regkit.web.languages import choose
from regkit.web.refusals import Refused
from regkit.web.seal import NotOpened, Seal
from regkit.web.settings import Settings
from regkit.web.work import Workbench


@dataclass(frozen=True)
class Service:
    """A running web adapter. It holds nothing about anybody."""

    settings: Settings
    rulesets: Mapping[str, Ruleset]
    seal: Seal
    workbench: Workbench

    @classmethod
    def of(cls, settings: Settings) -> Service:
        """Return a service; the rulesets are read at once.

        Raises:
            Unreadable: there is no such ruleset, or something in it is wrong.
            ValueError: a key is none, or the language is none of those spoken.
        """
        speaker(settings.language)
        wanted: tuple[str | Path, ...] = settings.jurisdictions or regkit.jurisdictions()
        read = [regkit.load(where) for where in wanted]
        return cls(
            settings,
            {ruleset.jurisdiction: ruleset for ruleset in read},
            Seal(settings.keys, settings.lifetime),
            Workbench(settings.limits),
        )

    @cached_property
    def offered(self) -> str:
        """The codes of the jurisdictions, for people."""
        return ", ".join(self.rulesets)

    def ruleset(self, code: str) -> Ruleset:
        """Return the ruleset of a jurisdiction.

        Raises:
            Refused: it is not offered here.
        """
        if code not in self.rulesets:
            raise Refused(404, phrase("No such jurisdiction is offered here; there are: {codes}",
                                      codes=self.offered))
        return self.rulesets[code]

    def day(self, chosen: date | None) -> date:
        """Return the day that counts: the one chosen, or today."""
        return chosen or self.settings.today()

    def conversation(self, token: str) -> Conversation:
        """Return what a visitor has answered.

        Raises:
            Refused: the address cannot be opened, any more or at all.
        """
        try:
            return self.seal.open(token)
        except NotOpened:
            raise Refused(410, phrase(
                "The answers in this address cannot be opened any more. It was made too long ago, "
                "or was cut short on its way. Nothing is kept here, so please begin again")
            ) from None


def service_of(request: Request) -> Service:
    """Return the service a request came to."""
    found: Service = request.app.state.service
    return found


def language_of(request: Request) -> str:
    """Return the language to answer a request in."""
    return choose(request.query_params.get("lang"), request.headers.get("accept-language", ""),
                  service_of(request).settings.language)


def language_for_program(request: Request) -> str:
    """Return the language to answer a program in, which is told if it asks for an unknown one.

    Raises:
        Refused: `lang` is no language spoken here, or is said twice.
    """
    asked = request.query_params.getlist("lang")
    if asked and (len(asked) > 1 or asked[0] not in languages()):
        raise Refused(422, phrase("`lang` must be one of {codes}", codes=", ".join(languages())))
    return language_of(request)


def read_day(written: str | None) -> date | None:
    """Return the day in a query; None for none.

    Raises:
        Refused: it is no day.
    """
    if not written:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError:
        raise Refused(422, phrase("The day of assessment is no day that can be read; write for "
                                  "example 2026-04-01")) from None
