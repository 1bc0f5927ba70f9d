"""In which language a visitor is answered: `lang` in the address, else what the browser asks."""

from __future__ import annotations

from regkit.language import spoken


def choose(lang: str | None, accept: str, fallback: str) -> str:
    """Return the language to answer in, one of those spoken.

    Args:
        lang: the language asked for in the address, if any.
        accept: the header Accept-Language (RFC 9110, section 12.5.4).
    """
    for tag in (lang or "", *_wanted(accept), fallback):
        if found := spoken(fallback if tag == "*" else tag):
            return found
    return "en"


def _wanted(accept: str) -> list[str]:
    """Return the tags of the header, most wanted first."""
    found: list[tuple[float, int, str]] = []
    for at, part in enumerate(accept.split(",")[:20]):
        tag, _, parameter = part.partition(";")
        quality = _quality(parameter)
        if quality > 0:
            found.append((-quality, at, tag.strip()))
    return [tag for _, _, tag in sorted(found)]


def _quality(parameter: str) -> float:
    name, _, number = parameter.strip().partition("=")
    if name.strip() != "q":
        return 1.0
    try:
        return min(max(float(number), 0.0), 1.0)
    except ValueError:
        return 0.0
