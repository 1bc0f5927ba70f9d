"""Running the web adapter alone, with uvicorn, in one process or several."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import timedelta

from starlette.applications import Starlette

from regkit.web.application import application
from regkit.web.seal import new_key
from regkit.web.settings import Limits, Settings

_HANDED_ON = "REGKIT_WEB"
"""Where the processes that answer find their settings."""


def run(
    settings: Settings, *, host: str, port: int, workers: int = 1, root_path: str = "",
    proxies: Sequence[str] = (),
) -> None:
    """Answer until stopped. No log of requests is written.

    Args:
        workers: how many processes answer; they share the keys, and each counts its clients.
        root_path: where a proxy shows the pages.
        proxies: the addresses of proxies whose `X-Forwarded-For` is believed.

    Raises:
        ImportError: uvicorn is not installed.
        Unreadable, ValueError: as `application`.
    """
    try:
        import uvicorn
    except ImportError as missing:
        raise ImportError(
            "Serving alone needs the package 'uvicorn': pip install 'regkit[web]'"
        ) from missing
    if not settings.keys:
        settings = replace(settings, keys=(new_key(),))
    app = application(settings)  # What is wrong with the settings is said once, here.
    os.environ[_HANDED_ON] = _handed_on(settings)
    uvicorn.run(
        app if workers == 1 else f"{__name__}:handed_on", factory=workers > 1, workers=workers,
        host=host, port=port, root_path=root_path, access_log=False, server_header=False,
        proxy_headers=bool(proxies), forwarded_allow_ips=list(proxies), lifespan="off",
        # Longer than proxies keep a connection, so that none is closed as they take it up again;
        # and a process that has much to work out is not taken for dead.
        timeout_keep_alive=75, timeout_worker_healthcheck=60,
    )


def handed_on() -> Starlette:
    """Return the web adapter with the settings of the process that started this one."""
    data = json.loads(os.environ[_HANDED_ON])
    return application(Settings(
        jurisdictions=tuple(data["jurisdictions"]), keys=tuple(data["keys"]),
        lifetime=timedelta(seconds=data["lifetime"]), frame_ancestors=tuple(data["ancestors"]),
        language=data["language"], limits=Limits(**data["limits"]),
    ))


def _handed_on(settings: Settings) -> str:
    return json.dumps({
        "jurisdictions": list(map(str, settings.jurisdictions)),
        "keys": [key if isinstance(key, str) else key.decode() for key in settings.keys],
        "lifetime": settings.lifetime.total_seconds(), "ancestors": settings.frame_ancestors,
        "language": settings.language, "limits": asdict(settings.limits),
    })
