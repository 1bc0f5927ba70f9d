"""The report inside other pages: its body as it is, or as a fragment that clashes with nothing."""

from __future__ import annotations

import re
from html import escape
from html.parser import HTMLParser

PREFIX = "regkit-"
_IDS = ("id", "for", "aria-labelledby", "aria-describedby")
_PLAIN = {"main": "div", "header": "div", "footer": "div"}
_HEADING = re.compile(r"h([1-5])")
_URL = re.compile(r"url\(#")


def body_of(page: str) -> str:
    """Return what stands in the body of a page of our own making.

    Links to other sites lead out of a frame: many of them let nobody frame them.
    """
    body = page.partition("<body>")[2].rpartition("</body>")[0]
    return body.replace('<a href="http', '<a target="_top" href="http')


def as_fragment(body: str) -> str:
    """Return HTML of our own making with every class and id prefixed, and headings one level down.

    >>> as_fragment('<main><h2 id="a" class="x">T</h2><a href="#a">b &amp; c</a></main>')
    '<div><h3 id="regkit-a" class="regkit-x">T</h3><a href="#regkit-a">b &amp; c</a></div>'
    """
    writer = _Writer()
    writer.feed(body)
    writer.close()
    return "".join(writer.written)


class _Writer(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.written: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open(tag, attrs, ">")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open(tag, attrs, "/>")

    def handle_endtag(self, tag: str) -> None:
        self.written.append(f"</{_renamed(tag)}>")

    def handle_data(self, data: str) -> None:
        self.written.append(data)

    def handle_entityref(self, name: str) -> None:
        self.written.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self.written.append(f"&#{name};")

    def _open(self, tag: str, attrs: list[tuple[str, str | None]], end: str) -> None:
        said = "".join(
            f" {name}" if value is None else f' {name}="{escape(_prefixed(name, value))}"'
            for name, value in attrs)
        self.written.append(f"<{_renamed(tag)}{said}{end}")


def _renamed(tag: str) -> str:
    heading = _HEADING.fullmatch(tag)
    return f"h{int(heading[1]) + 1}" if heading else _PLAIN.get(tag, tag)


def _prefixed(name: str, value: str) -> str:
    if name == "class" or name in _IDS:
        return " ".join(f"{PREFIX}{word}" for word in value.split())
    if name == "href" and value.startswith("#"):
        return f"#{PREFIX}{value[1:]}"
    return _URL.sub(f"url(#{PREFIX}", value)
