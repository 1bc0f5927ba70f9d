"""Sealing: a conversation as a token that only this service can read, and that runs out.

The token stands in the address of each page, and addresses end up in histories and in the logs of
servers between; so it is not only signed but encrypted (Fernet: AES-128 in CBC mode with
HMAC-SHA-256, https://github.com/fernet/spec). Without the key what is logged says nothing about
anybody.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from datetime import date, timedelta
from types import MappingProxyType

from cryptography.fernet import Fernet, InvalidToken, MultiFernet

from regkit.web.conversation import Conversation

LONGEST = 6_000
"""The longest token, in characters: servers and browsers differ in how long an address may be."""


class NotOpened(ValueError):
    """A token that cannot be opened: too old, changed on its way, or sealed with another key."""


class TooMuch(ValueError):
    """More is told than fits in the address of a page."""


class Seal:
    """Seals and opens conversations.

    Args:
        keys: Fernet keys (32 bytes, URL-safe base64); the first seals, all open. None: a new one.
        lifetime: how long a token can be opened.

    Raises:
        ValueError: a key is none.
    """

    def __init__(self, keys: Sequence[str | bytes], lifetime: timedelta) -> None:
        self._fernet = MultiFernet([Fernet(key) for key in keys or (Fernet.generate_key(),)])
        self._seconds = int(lifetime.total_seconds())

    def seal(self, conversation: Conversation) -> str:
        """Return the token of a conversation.

        Raises:
            TooMuch: it would not fit in an address.
        """
        tried = {"tried": dict(conversation.tried)} if conversation.tried else {}
        written = json.dumps(
            {**conversation.document(), "left open": conversation.left_open, **tried},
            ensure_ascii=False, separators=(",", ":"),
        )
        token = self._fernet.encrypt(zlib.compress(written.encode(), 9)).decode().rstrip("=")
        if len(token) > LONGEST:
            raise TooMuch(f"a token of {len(token)} characters; {LONGEST} are the most")
        return token

    def open(self, token: str) -> Conversation:
        """Return the conversation in a token.

        Raises:
            NotOpened: it is too old, was changed, or was sealed with another key.
        """
        if len(token) > LONGEST:
            raise NotOpened("too long")
        try:
            packed = self._fernet.decrypt(token + "=" * (-len(token) % 4), ttl=self._seconds)
        except (InvalidToken, ValueError) as wrong:
            raise NotOpened("not sealed here, or too long ago") from wrong
        # Only what was sealed here is unpacked, so it is as small as what was packed.
        data = json.loads(zlib.decompress(packed))
        return Conversation(
            data["jurisdiction"],
            MappingProxyType(data["facts"]),
            tuple(data["left open"]),
            date.fromisoformat(data["on"]) if "on" in data else None,
            MappingProxyType(data.get("tried", {})),
        )


def new_key() -> str:
    """Return a new key, as `Settings.keys` takes it."""
    return Fernet.generate_key().decode()


if __name__ == "__main__":  # python -m regkit.web.seal >> keys.txt
    print(new_key())
