"""The web adapter: questions one at a time, the report, and JSON for programs.

    >>> from regkit.web import Settings, application
    >>> app = application(Settings(jurisdictions=("IE",)))

It is an ASGI application, to be mounted in a site or run alone with `regkit serve`. It keeps
nothing about anybody: what a visitor answers travels, sealed, in the addresses of the pages.

Raises:
    ImportError: what it needs beyond regkit itself is not installed.
"""

from __future__ import annotations

try:
    import cryptography  # noqa: F401
    import jinja2  # noqa: F401
    import starlette  # noqa: F401
except ImportError as missing:
    raise ImportError(
        f"The web adapter needs the package '{missing.name}': pip install 'regkit[web]'"
    ) from missing

from regkit.web.application import application
from regkit.web.settings import Limits, Settings

__all__ = ["Limits", "Settings", "application"]
