"""What stands before every page: limits on requests, and headers on answers."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from regkit.language import phrase
from regkit.web.rate import Rate
from regkit.web.refusals import Refused
from regkit.web.refusing import refusal
from regkit.web.settings import Limits

FEATURES = (
    "accelerometer", "autoplay", "camera", "display-capture", "encrypted-media", "fullscreen",
    "geolocation", "gyroscope", "microphone", "midi", "payment", "publickey-credentials-get",
    "screen-wake-lock", "usb",
)
"""What a browser could do for a page, and none of these pages asks for."""
NOT_KEPT = "no-store"
JUDGING = ("assess", "plan", "packet", "next-question", "report")
"""The last part of the addresses, or the one before, where a case is judged."""


class Guard:
    """Refuses what is too long or too often, and puts the security headers on every answer."""

    def __init__(self, app: ASGIApp, limits: Limits, frame_ancestors: Sequence[str]) -> None:
        self.app = app
        self._limits = limits
        self._rate = Rate(limits)
        ancestors = " ".join(frame_ancestors) or "'none'"
        self._headers = {
            "Content-Security-Policy": (
                "default-src 'none'; style-src 'self'; img-src 'self' data:; form-action 'self'; "
                f"base-uri 'none'; frame-ancestors {ancestors}"),
            "Permissions-Policy": ", ".join(f"{feature}=()" for feature in FEATURES),
            "Referrer-Policy": "no-referrer",
            "X-Content-Type-Options": "nosniff",
            "Cross-Origin-Opener-Policy": "same-origin",
        }
        if not frame_ancestors:
            self._headers["X-Frame-Options"] = "DENY"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request (ASGI)."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self._headers.items():
                    headers.setdefault(name, value)
                # Whatever says nothing else may be about somebody.
                headers.setdefault("Cache-Control", NOT_KEPT)
            await send(message)

        request = Request(scope, receive)
        refused = self._refusal(request)
        answer = self.app if refused is None else refusal(request, refused)
        await answer(scope, receive, send_guarded)

    def _refusal(self, request: Request) -> Refused | None:
        """Return why a request is refused unread; None for one that is not."""
        if len(request.scope.get("query_string", b"")) > self._limits.query:
            return Refused(414, phrase("The address is too long"))
        cost = self._limits.judging if _judges(request.scope["path"]) else 1
        wait = self._rate.wait(request.client.host if request.client else "", cost)
        if wait:
            return Refused(429, phrase("These are too many requests. Please wait for a moment"),
                           after=wait)
        return None


def _judges(path: str) -> bool:
    return any(part in JUDGING for part in path.split("/")[-2:])
