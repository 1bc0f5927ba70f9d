"""A visitor of the web adapter, who reads its pages as a browser does and fills in its forms.

Pages are parsed by html5lib, which follows the HTML standard; strictly, so that a page that is not
HTML fails.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urljoin

import html5lib
from starlette.testclient import TestClient

from regkit.web import Limits, Settings, application

ON = date(2026, 4, 1)
FREELY = Limits(rate=0)
BROWSER = {"accept": "text/html,application/xhtml+xml;q=0.9,*/*;q=0.8"}


def client(**settings: Any) -> TestClient:
    """Return a client of an application of its own, on a fixed day."""
    settings = {"limits": FREELY, "today": lambda: ON, **settings}
    return TestClient(application(Settings(**settings)))


@dataclass
class Page:
    """A page a visitor sees."""

    address: str
    status: int
    text: str
    tree: Any

    def all(self, path: str) -> list[Any]:
        """Return the elements at a path of ElementTree."""
        return list(self.tree.iterfind(path))

    def words(self, path: str = ".//body") -> str:
        """Return the words of the first element at a path, spaces as one; empty without one."""
        found = self.tree.find(path)
        return "" if found is None else " ".join("".join(found.itertext()).split())

    @property
    def fact(self) -> str:
        """The fact this page asks for; empty if it asks for none."""
        found = self.tree.find(".//input[@name='fact']")
        return "" if found is None else str(found.get("value"))

    @property
    def fields(self) -> dict[str, str]:
        """What a browser would send if its form were sent as it is."""
        sent = {}
        for field in self.all(".//form//input"):
            kind = field.get("type")
            if kind in ("hidden", "text") or (kind == "radio" and field.get("checked") is not None):
                sent[field.get("name")] = field.get("value", "")
        for chosen in self.all(".//form//select"):
            marked = [one for one in chosen if one.get("selected") is not None] or list(chosen)
            sent[chosen.get("name")] = marked[0].get("value")
        return sent

    def link(self, words: str) -> str:
        """Return where the first link with these words leads."""
        for found in self.all(".//a"):
            if words in " ".join("".join(found.itertext()).split()):
                return str(found.get("href"))
        raise AssertionError(f"no link {words!r} on {self.address}")


class Visitor:
    """Someone with a browser."""

    def __init__(self, client: TestClient, **headers: str) -> None:
        self.client = client
        self.headers = {**BROWSER, **{name.replace("_", "-"): v for name, v in headers.items()}}
        self.seen: list[Page] = []

    def get(self, address: str) -> Page:
        """Go to an address."""
        return self._page(self.client.get(address, headers=self.headers))

    def send(self, page: Page, **answers: str) -> Page:
        """Fill in the form of a page and send it."""
        form = page.tree.find(".//form")
        address = urljoin(page.address, form.get("action"))
        data = {**page.fields, **answers}
        if form.get("method") == "get":
            return self._page(self.client.get(address, params=data, headers=self.headers))
        return self._page(self.client.post(address, data=data, headers=self.headers))

    def answer(self, page: Page, written: str | None) -> Page:
        """Answer a question as a case file writes it; None for 'I do not know'."""
        if written is None:
            return self.send(page, answer="?")
        words = {field.get("value") for field in page.all(".//input[@name='answer']")}
        if written in words:
            return self.send(page, answer=written)
        if page.tree.find(".//input[@name='currency']") is not None:
            amount, _, currency = written.partition(" ")
            return self.send(page, answer="written", written=amount, currency=currency)
        return self.send(page, answer="written", written=written)

    def _page(self, response: Any) -> Page:
        parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
        page = Page(str(response.url), response.status_code, response.text,
                    parser.parse(response.text))
        self.seen.append(page)
        return page


def asking(visitor: Visitor, fact: str, jurisdiction: str = "GB") -> Page:
    """Return the page that asks for a fact of nothing told yet."""
    token = visitor.get(f"/ask?jurisdiction={jurisdiction}").fields["case"]
    page = visitor.get(f"/ask?case={token}&change={fact}")
    assert page.fact == fact
    return page


def walk(visitor: Visitor, page: Page, answers: dict[str, str]) -> Page:
    """Answer question after question until the report comes."""
    for _ in range(120):
        if not page.fact:
            return page
        before = page.fact
        page = visitor.answer(page, answers.get(page.fact))
        assert page.status == 200, page.words(".//div[@role='alert']")
        assert page.fact != before
    raise AssertionError("the questions do not end")
