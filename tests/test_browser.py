"""The pages and the report in a real browser: by keyboard alone, on a small screen.

Sources: Web Content Accessibility Guidelines 2.2 (W3C Recommendation), success criteria 1.4.10
(reflow at 320 px), 2.1.1 (keyboard), 2.4.7 (focus visible), 1.4.3 (contrast), by axe-core where it
can tell. What is printed is asked in test_report_paper.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import urljoin

import pytest
from starlette.applications import Starlette
from starlette.responses import HTMLResponse
from starlette.routing import Route

import regkit
from regkit.read.text import read_file
from regkit.web import Limits, Settings, application
from tests.browser import WAIT, browser, serving, sideways, violations
from tests.report_pages import written
from tests.rulesets_under_test import ROOT

ON = date(2026, 4, 1)
CASES = ROOT / "docs" / "cases"
PHONE = {"width": 360, "height": 740}
NARROW = {"width": 320, "height": 568}
MOST_QUESTIONS = 90
SETTINGS: Mapping[str, Any] = {"limits": Limits(rate=0, seconds=WAIT / 1000), "today": lambda: ON}


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as found:
        yield found


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with serving(application(Settings(**SETTINGS))) as found:
        yield found


@pytest.fixture
def page(request: pytest.FixtureRequest, chromium: Any) -> Iterator[Any]:
    """A page as narrow as the standard asks for, light unless a test says otherwise."""
    scheme = getattr(request, "param", "light")
    with chromium.new_context(viewport=NARROW, color_scheme=scheme) as context:
        found = context.new_page()
        found.set_default_timeout(WAIT)
        yield found


class Keyboard:
    """Somebody without a mouse, and without script."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.asked: list[str] = []

    def focused(self, what: str) -> bool:
        return bool(self.page.evaluate(
            "what => document.activeElement.matches(what)", what))

    def tab_to(self, what: str) -> None:
        """Press Tab until something has the focus."""
        for _ in range(80):
            self.page.keyboard.press("Tab")
            if self.focused(what):
                return
        raise AssertionError(f"Tab does not lead to {what} on {self.page.title()}")

    def pick(self, name: str, word: str) -> None:
        """Pick a radio button by the arrow keys."""
        self.tab_to(f"input[type=radio][name={name}]")
        if not self.focused(":checked"):
            self.page.keyboard.press("Space")
        for _ in range(40):
            if self.focused(f"[value='{word}']"):
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"no arrow leads to {word}")

    def press(self, what: str) -> None:
        """Go to a button or link and press Enter."""
        self.tab_to(what)
        with self.page.expect_navigation():
            self.page.keyboard.press("Enter")

    @property
    def fact(self) -> str:
        """The fact the page asks for; empty on any other page."""
        found = self.page.locator("input[name=fact]")
        return str(found.get_attribute("value")) if found.count() else ""

    def answer(self, written: str | None) -> None:
        """Answer the question of the page; None is not knowing."""
        self.asked.append(self.fact)
        field = "[name=written]"
        if written is None:
            self.pick("answer", "?")
        elif written in ("never", "unknown") or not self.page.locator(field).count():
            self.pick("answer", written)
        elif self.page.locator(f"select{field}").count():
            self.tab_to(f"select{field}")
            name = self.page.locator(f"select{field} option[value='{written}']").inner_text()
            self.page.keyboard.type(name)
        else:
            self.tab_to(f"input{field}")
            self.page.keyboard.press("Control+A")
            self.page.keyboard.type(written.split(" ")[0])
        self.press("button[type=submit]")


def told_in(case: str) -> dict[str, str]:
    """Return the facts of a demo case as written."""
    facts = read_file(CASES / f"{case}.yaml").data["facts"]
    return {name: str(written) for name, written in facts.items()}


@pytest.mark.parametrize(("case", "mistake"), [("gb-import", "next spring"),
                                               ("se-import", "31.31.1962")])
def test_a_whole_case_by_keyboard_on_a_phone_without_script(
    case: str, mistake: str, chromium: Any, address: str
) -> None:
    """From the first page to the report, with a mistake and a step back on the way (WCAG 2.1.1).

    What comes out is what the library makes of the same answers.
    """
    told = told_in(case)
    code = case.split("-")[0].upper()
    with chromium.new_context(viewport=PHONE, java_script_enabled=False) as context:
        page = context.new_page()
        page.set_default_timeout(WAIT)
        page.goto(address)
        visitor = Keyboard(page)
        visitor.pick("jurisdiction", code)
        visitor.press("button[type=submit]")
        mistaken = stepped_back = False
        for _ in range(MOST_QUESTIONS):
            fact = visitor.fact
            if not fact:
                break
            if not mistaken and page.locator("input[name=written]").count():
                mistaken = True
                visitor.answer(mistake)
                assert visitor.fact == fact and page.locator("[role=alert]").is_visible()
            visitor.answer(told.get(fact))
            if mistaken and not stepped_back:
                stepped_back = True
                page.go_back()
                assert visitor.fact == fact
                visitor.answer(told.get(fact))
        assert mistaken and stepped_back and "/report" in page.url, page.content()[:3000]
        assert sideways(page) <= 0
        link = page.locator("a[href*='case.json']").first.get_attribute("href")
        kept = context.request.get(urljoin(page.url, link)).json()
        shown = page.locator("main").inner_text()

    answered = {fact: told[fact] for fact in visitor.asked if fact in told}
    assert set(kept["facts"]) == set(answered)
    rules = regkit.load(code)
    from_pages, from_file = (
        regkit.assess(regkit.read_case({"jurisdiction": code, "facts": facts}, rules), rules, ON)
        for facts in (kept["facts"], answered))
    assert from_pages.verdicts == from_file.verdicts
    required = [finding for finding in from_file.findings if finding.verdict.value == "required"]
    assert required
    assert all(str(finding.requirement.title) in shown for finding in required)


def test_the_focus_can_always_be_seen(chromium: Any, address: str) -> None:
    """Whatever Tab leads to is outlined (WCAG 2.4.7)."""
    with chromium.new_context(viewport=PHONE) as context:
        page = context.new_page()
        page.goto(f"{address}/ask?jurisdiction=GB")
        seen = 0
        for _ in range(12):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement === document.body"):
                break
            seen += 1
            assert page.evaluate("""() => {
                const styles = [document.activeElement, document.activeElement.parentElement]
                    .map(one => getComputedStyle(one));
                return styles.some(one => parseFloat(one.outlineWidth) > 0
                    && one.outlineStyle !== 'none');
            }"""), page.evaluate("document.activeElement.outerHTML")
    assert seen > 5


def places(address: str) -> Iterator[tuple[str, str]]:
    """Yield pages that between them hold every kind of thing there is to see."""
    yield "start", f"{address}/"
    for code in ("GB", "DE", "SE"):
        for language in ("en", "de", "sv"):
            yield (f"question {code} {language}",
                   f"{address}/ask?jurisdiction={code}&lang={language}")
    yield "nothing here", f"{address}/nowhere"


@pytest.mark.parametrize("page", ["light", "dark"], indirect=True)
def test_axe_finds_nothing_wrong_and_nothing_is_wider_than_the_screen(
    page: Any, address: str
) -> None:
    """At 320 px (WCAG 1.4.10), light and dark: every kind of field, a wrong answer, the report."""
    for name, place in places(address):
        page.goto(place)
        assert not violations(page), name
        assert sideways(page) <= 0, name
    page.goto(f"{address}/ask?jurisdiction=GB")
    kinds, told = set(), told_in("gb-import")
    visitor = Keyboard(page)
    for _ in range(MOST_QUESTIONS):
        if not visitor.fact:
            break
        fact = regkit.load("GB").vocabulary[visitor.fact]
        if fact.type not in kinds:
            kinds.add(fact.type)
            assert not violations(page), fact.name
            assert sideways(page) <= 0, fact.name
            send(page)  # without an answer
            assert page.locator("[role=alert]").is_visible()
            assert not violations(page), f"{fact.name}, wrong"
            assert sideways(page) <= 0, f"{fact.name}, wrong"
        answer_by_mouse(page, told.get(fact.name))
    assert "/report" in page.url, page.content()[:3000]
    assert {"yes_no", "choice", "date", "quantity"} <= kinds
    assert not violations(page), "report"
    assert sideways(page) <= 0, "report"


def answer_by_mouse(page: Any, written: str | None) -> None:
    field = page.locator("[name=written]")
    if written is None or written in ("never", "unknown") or not field.count():
        page.locator(f"input[name=answer][value='{written or '?'}']").check()
    elif page.locator("select[name=written]").count():
        field.select_option(written)
    else:
        field.fill(written.split(" ")[0])
    send(page)


def send(page: Any) -> None:
    """Send the form and wait for what comes back, so that nothing is read before it."""
    with page.expect_navigation():
        page.locator("button[type=submit]").click()


DEMOS = sorted(CASES.glob("*.yaml"))
LOOKED_AT_WHOLE = {
    "gb-import", "de-import", "se-missed-window", "ie-too-young-and-late", "us-ca-import"}
"""One of each country; looking for violations costs seconds each."""


@pytest.mark.parametrize(("case", "page"), [
    *((case, "light") for case in DEMOS), (CASES / "gb-import.yaml", "dark"),
    (CASES / "ie-too-young-and-late.yaml", "dark"),
], indirect=["page"], ids=lambda found: getattr(found, "stem", found))
def test_the_report_as_a_file(case: Path, page: Any, tmp_path: Path) -> None:
    """At 320 px, folded and unfolded: no wider than the screen, nothing fetched; and for one case
    of each country no violation.
    """
    file = tmp_path / "report.html"
    file.write_text(written(case.stem), "utf-8")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(file.as_uri())

    assert sideways(page) <= 0
    assert case.stem != "gb-import" or not violations(page)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert case.stem not in LOOKED_AT_WHOLE or not violations(page)
    assert sideways(page) <= 0
    assert [url for url in asked if not url.startswith("data:")] == [file.as_uri()]


def test_on_a_wide_screen_the_contents_stay_beside_what_is_read(
    chromium: Any, tmp_path: Path
) -> None:
    """And cover nothing of it; on a narrow one they stand above it, and are left behind."""
    file = tmp_path / "report.html"
    file.write_text(written("gb-import"), "utf-8")
    for width, beside in ((1200, True), (700, False)):
        with chromium.new_context(viewport={"width": width, "height": 800}) as context:
            page = context.new_page()
            page.goto(file.as_uri())
            page.locator("#sources").evaluate("heading => heading.scrollIntoView()")
            nav, text = (page.locator(what).bounding_box() for what in ("nav", "#sources"))
            assert (nav["y"] >= 0) is beside
            assert not beside or nav["x"] + nav["width"] <= text["x"]


def test_the_pages_stand_in_a_frame_only_where_they_may(chromium: Any) -> None:
    """A site that was named shows them in a frame; another one does not."""
    async def club(request: Any) -> HTMLResponse:
        return HTMLResponse("<title>Club</title><iframe title=Vehicles src='"
                            + request.query_params["show"] + "' width=340 height=600></iframe>")

    with serving(Starlette(routes=[Route("/", club)])) as site:
        for ancestors, shown in (((site,), True), ((), False)):
            settings = Settings(**SETTINGS, frame_ancestors=ancestors)
            with serving(application(settings)) as pages, chromium.new_context() as context:
                page = context.new_page()
                page.goto(f"{site}/?show={pages}/")
                page.wait_for_load_state("networkidle")
                (frame,) = page.frames[1:]
                assert bool(frame.locator("main").count()) is shown


def test_two_visitors_see_only_their_own_answers(chromium: Any, address: str) -> None:
    """Nothing is kept: no cookie, nothing stored, and a fresh page knows nothing."""
    with chromium.new_context() as context:
        page = context.new_page()
        page.goto(f"{address}/ask?jurisdiction=GB")
        answer_by_mouse(page, None)
        answer_by_mouse(page, None)

        assert context.cookies() == []
        assert page.evaluate("[localStorage.length, sessionStorage.length]") == [0, 0]
        page.goto(f"{address}/ask?jurisdiction=GB")
        assert not page.locator("#regkit-told").count()
