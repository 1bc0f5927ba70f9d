"""The report inside other pages: its body as it is, or as a fragment that clashes with nothing.

A fragment's style is that of our pages under the same names, and at home in the site: its sizes
follow the text around it, and none of its rules reaches beyond it.
"""

from __future__ import annotations

import re
from html import escape
from html.parser import HTMLParser

PREFIX = "regkit-"
_IDS = ("id", "for", "aria-labelledby", "aria-describedby")
_PLAIN = {"main": "div", "header": "div", "footer": "div"}
_HEADING = re.compile(r"h([1-5])")
_URL = re.compile(r"url\(#")
_CLASS = re.compile(r"\.(?=[a-z])")
_HEADINGS = re.compile(r"\bh([1-5])\b")
_REM = re.compile(r"(-?\d*\.?\d+)rem\b")


def body_of(page: str) -> str:
    """Return what stands in the body of a page of our own making.

    Links to other sites lead out of a frame: many of them let nobody frame them.
    """
    body = page.partition('<body class="regkit-page">')[2].rpartition("</body>")[0]
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


def fragment_style(questions: str, report: str) -> str:
    """Return the style sheet of fragments.

    Args:
        questions: that of the questions, whose names are prefixed already.
        report: that of the report; nested (CSS Nesting Module), it reaches no further than it.

    >>> print(fragment_style(".regkit-a { margin: 1rem }", "h2 > .a { padding: .5rem }"))
    .regkit-a { margin: calc(1 * var(--regkit-rem)) }
    .regkit-report {
    h3 > .regkit-a { padding: calc(.5 * var(--regkit-rem)) }
    }
    """
    names = _CLASS.sub(f".{PREFIX}", _HEADINGS.sub(lambda found: _renamed(found[0]), report))
    both = f"{questions}\n.regkit-report {{\n{names}\n}}"
    return _REM.sub(r"calc(\1 * var(--regkit-rem))", both)


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
