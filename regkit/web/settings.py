"""What whoever runs the web adapter decides."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How much one client, and one request, may ask for.

    Attributes:
        body: the largest body of a request, in bytes.
        entries: how many keys and values a case may have.
        query: the longest query of an address, in bytes.
        burst: how many requests one client address may make at once.
        rate: how many more it may make each second after that; 0 for no limit at all.
        judging: for how many requests one counts that judges a case.
        clients: how many client addresses are kept in mind; the one not seen longest is forgotten.
        seconds: the longest a client waits for its turn, and again for its answer; then it is told
            to come back.
        working: how many answers are worked out at once in this process.
        waiting: how many requests may wait for their turn; the next is told to come back.
    """

    body: int = 65_536
    entries: int = 1_500
    query: int = 8_192
    burst: int = 120
    rate: float = 4.0
    judging: int = 5
    clients: int = 10_000
    seconds: float = 15.0
    working: int = 2
    waiting: int = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """How the web adapter runs.

    Attributes:
        jurisdictions: the codes, or folders, of the rulesets it answers by; none for all shipped.
        keys: Fernet keys that seal what a visitor has answered into the address of the page; the
            first seals, all open. None for one made at the start, which ends with the process.
        lifetime: how long such an address can be opened.
        frame_ancestors: the sites that may show the pages in a frame, as `https://club.example`.
        language: for visitors none of whose languages is spoken here.
        today: the clock; the day that counts where a visitor names none.
    """

    jurisdictions: tuple[str | Path, ...] = ()
    keys: tuple[str | bytes, ...] = ()
    lifetime: timedelta = timedelta(days=14)
    frame_ancestors: tuple[str, ...] = ()
    language: str = "en"
    limits: Limits = field(default_factory=Limits)
    today: Callable[[], date] = date.today
