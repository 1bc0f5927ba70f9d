"""Pages: self-contained HTML, each made from a template in `pages/`, all values escaped."""

from __future__ import annotations

from functools import lru_cache
from typing import Any


def render(template: str, **values: Any) -> str:
    """Return a page of HTML.

    Args:
        template: the name of a file in `regkit/show/pages`.
        values: what the template names; text in them is escaped, never taken for markup.

    Raises:
        ImportError: Jinja2 is not installed.
    """
    return str(_environment().get_template(template).render(**values))


@lru_cache(maxsize=1)
def _environment() -> Any:
    try:
        from jinja2 import Environment, PackageLoader, StrictUndefined
    except ImportError as missing:
        raise ImportError(
            "Pages of HTML need the package 'jinja2': pip install jinja2"
        ) from missing
    return Environment(
        loader=PackageLoader("regkit.show", "pages"), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )
