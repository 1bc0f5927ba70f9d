"""Pages: HTML from the templates in `pages/`, whole or as a fragment, all values escaped."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from importlib import resources
from typing import Any
from urllib.parse import urlencode

from babel import Locale
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse

from regkit.language import languages, phrase, speaker
from regkit.show.html_words import harmless, html_speaker
from regkit.web.report_parts import fragment_style
from regkit.web.service import language_of

WORDS = {
    "name": "Old vehicles on the register",
    "languages": "Language",
    "skip": "Skip to the content",
    "privacy": "What you answer is kept nowhere. It travels, sealed, in the address of each page: "
               "the back button takes an answer back, and a bookmark keeps your place for some "
               "days. Whoever has the address can see your answers.",
    "informs": "This informs. It replaces neither the authority, nor a licensed tester, nor the "
               "law; and exempt from a test never means safe to ride.",
}


class Page:
    """A page for one request: its language, its links, and whether it is a fragment."""

    def __init__(self, request: Request) -> None:
        self.request = request
        self.language = language_of(request)
        self.speak = html_speaker(self.language)
        self.say = self.speak.say
        self.fragment = request.query_params.get("fragment") == "1"
        self.kept = {name: request.query_params[name] for name in ("lang", "fragment")
                      if name in request.query_params}
        if "lang" in self.kept:
            self.kept["lang"] = self.language

    def plain(self, said: Any) -> str:
        """Return words where no markup can stand: in a title, an attribute, a list to pick from."""
        return harmless(speaker(self.language).say(said))

    def path(self, route: str) -> str:
        """Return the path of a page, without host and scheme, so that it holds behind any proxy."""
        return f"{self.request.scope.get('root_path', '')}{self.request.app.url_path_for(route)}"

    def link(self, route: str, **query: str) -> str:
        """Return the address of a page, in the language and form of this one."""
        asked = urlencode({**query, **self.kept})
        return f"{self.path(route)}?{asked}" if asked else self.path(route)

    def in_languages(self, here: Mapping[str, str]) -> list[dict[str, Any]]:
        """Return each language with its own name and the address of this page in it."""
        path = self.request.url.path
        return [{"code": code, "name": str(Locale.parse(code).display_name).capitalize(),
                 "here": code == self.language,
                 "link": f"{path}?{urlencode({**here, 'lang': code})}"} for code in languages()]

    def answer(
        self, template: str, status: int = 200, headers: Mapping[str, str] | None = None,
        here: Mapping[str, str] | None = None, **values: Any,
    ) -> HTMLResponse:
        """Return the page as a response.

        Args:
            here: the query that leads to this page, where it is not the one of the request.
        """
        frame = {name: self.say(phrase(text)) for name, text in WORDS.items()}
        html = _environment().get_template(template).render(
            page=self, language=self.language, frame=frame, fragment=self.fragment,
            level=2 if self.fragment else 1,
            in_languages=self.in_languages(here or dict(self.request.query_params)), **values)
        return HTMLResponse(html, status, {"Content-Language": self.language,
                                           "Vary": "Accept-Language", **(headers or {})})


def wants_page(request: Request) -> bool:
    """Return whether whoever asks is a browser, or reads HTML like one."""
    return "text/html" in request.headers.get("accept", "")


@lru_cache(maxsize=1)
def _environment() -> Environment:
    return Environment(loader=PackageLoader("regkit.web", "pages"), autoescape=True,
                       undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


@lru_cache(maxsize=1)
def style_of_fragments() -> str:
    """Return the style sheet of fragments."""
    return fragment_style(style_sheet("regkit.web", "style.css"),
                          style_sheet("regkit.show", "report.css"))


@lru_cache(maxsize=4)
def style_sheet(package: str, name: str) -> str:
    """Return a style sheet that lies with the pages of a package."""
    return (resources.files(package) / "pages" / name).read_text("utf-8")
