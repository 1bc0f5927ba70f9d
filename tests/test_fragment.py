"""A fragment in the page of a site: it looks like the site, and the site looks as before.

The contract is that of docs/web.rst. What the fragment holds is asked in test_web.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse
from starlette.routing import Mount, Route
from starlette.testclient import TestClient

from regkit.web import Settings, application
from tests.browser import WAIT, browser, serving, sideways, violations
from tests.web_visitor import BROWSER, FREELY, ON

SITE_STYLE = """
html { font-size: 62.5%; }
body { font: 1.8rem/1.6 Georgia, serif; color: rgb(40, 20, 80); background: rgb(250, 250, 255);
  max-width: 60em; margin: 0 auto; padding: 0 1em; }
a { color: rgb(0, 60, 160); }
h2 { color: rgb(120, 0, 60); font-style: italic; }
.box { float: right; width: 4em; background: yellow; }
.step, .short, .papers, .tree, .outcome { display: none; }
"""
"""A site with a type and colours of its own, and with classes such as the report's."""
SITE = """<!doctype html><html lang="en"><head><title>Old vehicle club</title>
<meta name="viewport" content="width=device-width"><style>{style}</style>{link}</head><body>
<header><h1>Old vehicle club</h1><nav aria-label="Site"><a href="/">Home</a></nav></header>
<main><h2>Rides</h2><p>On <em>Sunday</em>, at the usual <a href="/place">place</a>.</p>
<ul><li>Bring bread</li></ul><details><summary>More</summary><p>Nothing more.</p></details>
<div class="box">Box</div><table><tr><td>One</td></tr></table><button>Sign up</button>
<label>Name <input></label>
{fragment}</main></body></html>"""
LINK = '<link rel="stylesheet" href="/vehicles/fragment.css">'
LINKS = ".regkit a:not(.regkit-button, .regkit-errors a)"
QUESTION, REPORT, WRONG = "question", "report", "wrong"
COMPUTED = """() => [...document.querySelectorAll('html, body, body *:not(.regkit, .regkit *)')]
    .map(one => one.tagName + [...getComputedStyle(one)]
        .filter(name => !/^--|block-size|height|origin/.test(name))
        .map(name => name + ':' + getComputedStyle(one)[name]).join(';'))"""
"""All that is computed for the site's own elements, but how high the fragment makes them."""


def fragments(adapter: Any) -> dict[str, str]:
    """Return a fragment of each kind: a question, a wrong answer, a report."""
    visitor = TestClient(Starlette(routes=[Mount("/vehicles", app=adapter)]), headers=BROWSER)
    ask = visitor.get("/vehicles/ask", params={"jurisdiction": "IE", "fragment": "1"})
    token = ask.text.partition('name="case" value="')[2].partition('"')[0]
    wrong = visitor.post("/vehicles/ask?fragment=1", data={
        "case": token, "fact": "vehicle.built", "answer": "written", "written": "then"})
    told = visitor.post("/vehicles/ask?fragment=1", data={
        "case": token, "fact": "vehicle.place", "answer": "abroad"})
    now = told.text.partition('regkit-quiet" href="')[2].partition('"')[0].replace("&amp;", "&")
    assert "/report?" in now and wrong.status_code == 422
    return {QUESTION: ask.text, WRONG: wrong.text, REPORT: visitor.get(now).text}


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    """A site that puts fragments into its pages; `plain` shows it without them and their style."""
    adapter = application(Settings(jurisdictions=("IE",), limits=FREELY, today=lambda: ON))
    made = fragments(adapter)

    async def page(request: Request) -> HTMLResponse:
        shown = made.get(request.path_params["which"], "")
        link = LINK if request.query_params.get("styled", "1") == "1" else ""
        return HTMLResponse(SITE.format(style=SITE_STYLE, link=link, fragment=shown))

    with serving(Starlette(routes=[
        Mount("/vehicles", app=adapter), Route("/{which}", page)])) as address:
        yield address


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as found:
        yield found


@pytest.fixture
def page(request: pytest.FixtureRequest, chromium: Any) -> Iterator[Any]:
    width, scheme = getattr(request, "param", (1200, "light"))
    with chromium.new_context(viewport={"width": width, "height": 800},
                              color_scheme=scheme) as context:
        found = context.new_page()
        found.set_default_timeout(WAIT)
        yield found


def computed(page: Any, what: str, name: str) -> str:
    return str(page.locator(what).first.evaluate(
        "(one, name) => getComputedStyle(one).getPropertyValue(name)", name))


@pytest.mark.parametrize("kind", [QUESTION, WRONG, REPORT])
def test_the_style_sheet_leaves_the_site_as_it_was(kind: str, page: Any, site: str) -> None:
    """Every computed style of every element that is not the fragment's, before and after."""
    page.goto(f"{site}/{kind}?styled=0")
    before = page.evaluate(COMPUTED)
    page.goto(f"{site}/{kind}")

    assert page.evaluate("document.styleSheets.length") == 2
    assert len(before) > 15
    assert page.evaluate(COMPUTED) == before


@pytest.mark.parametrize("page", [(1200, "light"), (1200, "dark")], indirect=True)
@pytest.mark.parametrize("kind", [QUESTION, WRONG, REPORT])
def test_the_fragment_has_type_and_colours_of_the_site(kind: str, page: Any, site: str) -> None:
    """Also where a visitor likes it dark and the site is not; sizes follow the site's text."""
    page.goto(f"{site}/{kind}")
    for name in ("font-family", "color", "font-size", "color-scheme"):
        assert computed(page, ".regkit", name) == computed(page, "body", name)
    assert computed(page, LINKS, "color") == computed(page, "header a", "color")
    assert computed(page, ".regkit h2", "font-style") == "italic"
    assert 18 < float(computed(page, ".regkit h2", "font-size").removesuffix("px")) < 30


def test_it_is_laid_out_as_on_our_own_pages(page: Any, site: str) -> None:
    """Classes of the site that are called alike do not reach it."""
    page.goto(f"{site}/{REPORT}")
    assert computed(page, ".regkit-step", "display") == "grid"
    assert computed(page, ".regkit-box", "float") == "none"
    assert computed(page, ".regkit-short", "border-top-width") == "2px"
    assert computed(page, ".regkit-on-paper", "display") == "none"
    assert page.locator(".regkit-skip").bounding_box()["x"] < 0
    page.goto(f"{site}/{QUESTION}")
    assert computed(page, ".regkit-pick", "display") == "flex"


@pytest.mark.parametrize("page", [(320, "light"), (320, "dark")], indirect=True)
@pytest.mark.parametrize("kind", [QUESTION, WRONG, REPORT])
def test_it_shuts_nobody_out(kind: str, page: Any, site: str) -> None:
    """By axe-core, folded and unfolded, and at 320 px (WCAG 1.4.10)."""
    page.goto(f"{site}/{kind}")
    assert not violations(page)
    page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
    assert not violations(page)
    assert sideways(page) <= 0


@pytest.mark.parametrize("page", [(1200, "light")], indirect=True)
def test_it_goes_by_the_room_it_is_given(page: Any, site: str) -> None:
    """In a narrow column of a wide window it is laid out as on a telephone."""
    page.goto(f"{site}/{REPORT}")
    assert computed(page, ".regkit-days li, .regkit-rows li", "display") == "grid"
    page.locator("main").evaluate("main => main.style.width = '340px'")
    assert computed(page, ".regkit-days li, .regkit-rows li", "display") != "grid"
    assert sideways(page) <= 0


def test_a_site_sets_its_own_colours(page: Any, site: str) -> None:
    """By the custom properties that docs/web.rst names, in a rule for `.regkit`."""
    page.goto(f"{site}/{WRONG}")
    page.add_style_tag(content="main .regkit { --wrong: rgb(160, 0, 0); --fill: rgb(0, 60, 160);"
                               "--on-fill: rgb(255, 255, 255) }")

    assert computed(page, ".regkit-wrong", "color") == "rgb(160, 0, 0)"
    assert computed(page, ".regkit-button", "background-color") == "rgb(0, 60, 160)"
