"""The web adapter: languages, headers, addresses, where it may stand, what it refuses."""

from __future__ import annotations

import base64
import random
import sys
from datetime import timedelta
from pathlib import Path

import html5lib
import pytest
from cryptography.fernet import Fernet
from starlette.applications import Starlette
from starlette.routing import Mount
from starlette.testclient import TestClient

from regkit.web import Settings, application
from tests import small_ruleset
from tests.rulesets_under_test import ROOT
from tests.web_visitor import FREELY, ON, Visitor, asking, client, walk

CASES = ROOT / "docs" / "cases"


@pytest.mark.parametrize("code", ["en", "de", "sv"])
def test_pages_speak_the_language_of_the_visitor(code: str, served: TestClient) -> None:
    """By Accept-Language (RFC 9110, 12.5.4); `lang` in the address goes before it, and stays."""
    heading = {"en": "Where does it come from?", "de": "Woher kommt es?",
               "sv": "Varifrån kommer det?"}[code]
    by_header = Visitor(served, accept_language=f"fr;q=0.9, {code}-XX;q=0.8, *;q=0.1")
    by_address = Visitor(served, accept_language="en" if code != "en" else "de")
    page = by_header.get("/ask?jurisdiction=IE")
    chosen = by_address.get(f"/ask?jurisdiction=IE&lang={code}")

    for found in (page, chosen):
        assert found.tree.get("lang") == code
        assert found.words(".//h1") == heading
    assert by_address.answer(chosen, "abroad").tree.get("lang") == code
    assert by_header.answer(page, "abroad").tree.get("lang") == code


def test_a_wish_for_a_language_nobody_translated_is_passed_over(served: TestClient) -> None:
    """A visitor who cannot mend an address gets a page; a program is told; so is who runs it."""
    visitor = Visitor(served, accept_language="fr, sv-FI;q=0.5")
    case = {"jurisdiction": "IE", "facts": {}}

    assert visitor.get("/ask?jurisdiction=IE&lang=fr").tree.get("lang") == "sv"
    assert visitor.get("/ask?jurisdiction=IE&lang=de-AT").tree.get("lang") == "de"
    assert served.post("/assess?lang=fr", json=case).status_code == 422
    with pytest.raises(ValueError, match="there are: en, de, sv"):
        client(jurisdictions=("IE",), language="fr")
    swiss = Visitor(client(jurisdictions=("IE",), language="de-CH"), accept_language="fr, *")
    assert swiss.get("/").tree.get("lang") == "de"


def test_the_language_can_be_changed_in_the_middle(visitor: Visitor) -> None:
    """Also on a page that shows what is wrong; the answers stay."""
    page = visitor.answer(visitor.get("/ask?jurisdiction=IE"), "abroad")
    wrong = visitor.send(page, answer="")
    for found in (page, wrong):
        german = visitor.get(found.link("Deutsch"))
        assert german.tree.get("lang") == "de" and german.fact == page.fact
        assert "Aus einem anderen Land" in german.words(".//dl")


def test_every_answer_has_the_security_headers(served: TestClient) -> None:
    """No script, no frame, no address passed on, nothing kept of what a member told."""
    token = Visitor(served).get("/ask?jurisdiction=IE").fields["case"]
    for address in ("/", "/ask?jurisdiction=IE", f"/report?case={token}", "/nowhere", "/style.css",
                    f"/case.json?case={token}", "/openapi.json", "/ask?case=broken"):
        headers = served.get(address).headers
        policy = headers["content-security-policy"]
        assert policy.startswith("default-src 'none';") and "script" not in policy
        assert "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "no-referrer"
        assert "geolocation=()" in headers["permissions-policy"]
        assert headers["x-frame-options"] == "DENY"
        assert "set-cookie" not in headers
        if "case" in address:
            assert headers["cache-control"] == "no-store"


def test_no_page_holds_what_the_policy_forbids(visitor: Visitor) -> None:
    """No script, no style of its own, nothing from elsewhere."""
    page = walk(visitor, visitor.get("/ask?jurisdiction=IE"), {"vehicle.place": "abroad"})
    assert page.words("./head/title").startswith("What your vehicle needs")
    for page in visitor.seen:
        assert not page.all(".//script") and not page.all(".//style") and not page.all(".//img")
        for element in page.tree.iter():
            names = [name for name in element.attrib if isinstance(name, str)]
            assert not [n for n in names if n.startswith("on") or n == "style"], element.attrib


def test_every_id_is_there_once_and_every_reference_leads_to_one(visitor: Visitor) -> None:
    """WCAG 2.2, 1.3.1 and 4.1.2: labels and descriptions are found by whoever reads aloud."""
    walk(visitor, visitor.get("/ask?jurisdiction=IE"), {"vehicle.place": "abroad"})
    visitor.answer(asking(visitor, "purchase.price"), "much")
    visitor.answer(asking(visitor, "vehicle.built"), "then")
    asking(visitor, "arrival.from")
    for page in visitor.seen:
        ids = [element.get("id") for element in page.tree.iter() if element.get("id")]
        assert len(ids) == len(set(ids)), page.address
        for element in page.tree.iter():
            for name in ("for", "aria-labelledby", "aria-describedby"):
                assert set((element.get(name) or "").split()) <= set(ids), page.address
            target = element.get("href") or ""
            assert not target.startswith("#") or target[1:] in ids, target


def test_nothing_of_a_case_can_be_read_from_an_address(visitor: Visitor) -> None:
    """The token is sealed: neither facts nor their names stand in it, in any simple coding."""
    page = visitor.answer(asking(visitor, "vehicle.frame_number"), "QUILLBY1962")
    token = page.fields["case"]
    raw = base64.urlsafe_b64decode(token + "=" * (-len(token) % 4))
    assert b"QUILLBY" not in raw and b"frame" not in raw and b"vehicle" not in raw


@pytest.mark.parametrize("token", ["", "x", "gAAAAA", "é", "a" * 7000])
def test_an_address_that_cannot_be_opened_says_so(token: str, visitor: Visitor) -> None:
    page = visitor.get(f"/report?case={token}")

    assert page.status == 410 and "please begin again" in page.words("./body/main")
    assert page.link("Begin again") == "/"


def test_addresses_run_out_and_keys_can_be_changed() -> None:
    """An old key still opens; a token past its time, or of a key taken away, does not."""
    old, new = Fernet.generate_key(), Fernet.generate_key().decode()
    token = Visitor(client(jurisdictions=("IE",), keys=(old,))).get(
        "/ask?jurisdiction=IE").fields["case"]
    status = {
        name: client(jurisdictions=("IE",), **settings).get(f"/ask?case={token}").status_code
        for name, settings in {
            "same": {"keys": (old,)}, "changed": {"keys": (new, old)}, "gone": {"keys": (new,)},
            "past": {"keys": (old,), "lifetime": timedelta(seconds=-1)},
        }.items()
    }

    assert status == {"same": 200, "changed": 200, "gone": 410, "past": 410}


def test_answers_too_long_for_an_address_are_refused_in_words(tmp_path: Path) -> None:
    """Answers of 500 letters that cannot be packed: some fit, and then one is too many."""
    letters = random.Random(1)
    names = [f"qa.number_{at}" for at in range(15)]
    folder = small_ruleset.write(tmp_path, facts="".join(
        f"{name}: {{type: identifier, group: thing, question: Number?}}\n" for name in names))
    visitor = Visitor(client(jurisdictions=(folder,)))
    token = visitor.get("/ask?jurisdiction=QA&on=2026-04-01").fields["case"]
    statuses = []
    for fact in names:
        long = "".join(letters.choices("ABCDEFGHJKLMNPRSTUVWXYZ0123456789", k=500))
        page = visitor.answer(visitor.get(f"/ask?case={token}&change={fact}"), long)
        statuses.append(page.status)
        token = page.fields.get("case", token)

    assert statuses[:5] == [200] * 5 and statuses[-1] == 413
    assert "too long for the address of a page" in page.words("./body/main")


def test_a_visitor_can_ask_about_another_day(visitor: Visitor, served: TestClient) -> None:
    page = visitor.send(visitor.get("/"), jurisdiction="GB", on="2016-04-01")
    report = visitor.get(page.link("Show me the answer now"))

    assert "Great Britain, on 1 April 2016" in report.words()
    assert served.get(report.link("as a file")).json()["on"] == "2016-04-01"
    wrong = visitor.get("/ask?jurisdiction=GB&on=yesterday")
    assert wrong.status == 422 and "write for example 2026-04-01" in wrong.words()


def test_the_answer_can_be_shown_at_any_moment(visitor: Visitor) -> None:
    """With what is still open, and the way back to the questions."""
    page = visitor.answer(visitor.get("/ask?jurisdiction=IE"), "abroad")
    report = visitor.get(page.link("Show me the answer now"))

    assert report.status == 200 and "Cannot be told yet" in report.words()
    assert visitor.get(report.link("Go on answering")).fact == page.fact


def test_why_a_question_is_asked_and_how_far_it_is_are_said(visitor: Visitor) -> None:
    page = visitor.get("/ask?jurisdiction=ZZ")

    assert "These may depend on it:" in page.words(".//details")
    assert "At most" in page.words(".//p[@class='regkit-progress']")


@pytest.mark.parametrize("prefix", ["", "/vehicles", "/a/b"])
def test_it_can_be_mounted_anywhere(prefix: str) -> None:
    """All links and forms lead back into it; the lifespan of the site is not needed."""
    inner = application(Settings(jurisdictions=("IE",), limits=FREELY, today=lambda: ON))
    visitor = Visitor(TestClient(Starlette(routes=[Mount(prefix or "/", app=inner)])))
    page = visitor.send(visitor.get(f"{prefix}/"), jurisdiction="IE")
    report = walk(visitor, page, {"vehicle.place": "abroad", "vehicle.kind": "car"})

    assert f"{prefix}/report?" in report.address
    for page in visitor.seen:
        for element in (*page.all(".//a"), *page.all(".//link")):
            href = element.get("href")
            assert href.startswith((f"{prefix}/", "#", "https://", "http://", "data:")), href


def test_a_proxy_that_cuts_the_prefix_off_is_told_by_root_path() -> None:
    """As `regkit serve --root-path` does it (ASGI, root_path)."""
    app = application(Settings(jurisdictions=("IE",), limits=FREELY))
    page = Visitor(TestClient(app, root_path="/club")).get("/ask?jurisdiction=IE")

    assert page.tree.find(".//form").get("action") == "/club/ask"


def test_a_fragment_is_the_content_alone(served: TestClient) -> None:
    """The contract in docs/web.rst: one element, prefixed names, no style, no script, one level
    down, and every link stays a fragment."""
    visitor = Visitor(served)
    response = served.get("/ask?jurisdiction=IE&fragment=1", headers=visitor.headers)
    page = Visitor(served).get("/ask?jurisdiction=IE")
    texts = [response.text]
    token = page.fields["case"]
    texts.append(served.get(f"/report?case={token}&fragment=1", headers=visitor.headers).text)
    texts.append(served.get("/?fragment=1", headers=visitor.headers).text)
    texts.append(served.post("/ask?fragment=1", headers=visitor.headers,
                             data={"case": token, "fact": page.fact, "answer": ""}).text)
    for text in texts:
        tree = html5lib.HTMLParser(strict=False, namespaceHTMLElements=False).parseFragment(text)
        (element,) = [child for child in tree if isinstance(child.tag, str)]
        assert element.get("class").split()[0] == "regkit" and element.get("lang") == "en"
        assert not [e for e in element.iter() if e.tag in (
            "script", "style", "link", "main", "h1", "header", "footer", "iframe")]
        for inner in element.iter():
            names = [*(inner.get("class") or "").split(), inner.get("id") or "regkit-"]
            assert all(name.startswith("regkit") for name in names), names
            for address in (inner.get("href"), inner.get("action")):
                if address and address.startswith("/") and inner.get("method") != "get":
                    assert "fragment=1" in address, address
            assert not (inner.get("href") or "").startswith("#") or inner.get(
                "href").startswith("#regkit"), inner.get("href")


def test_a_site_may_be_allowed_to_frame_the_pages() -> None:
    headers = client(jurisdictions=("IE",), frame_ancestors=("https://club.example",)).get(
        "/").headers

    assert "frame-ancestors https://club.example" in headers["content-security-policy"]
    assert "x-frame-options" not in headers


def test_what_depends_on_the_rules_alone_is_kept_by_their_digest(served: TestClient) -> None:
    """Asked for again with its entity tag, it is not sent again (RFC 9110, 13.1.2)."""
    tags = {}
    for address in ("/", "/jurisdictions", "/facts/IE", "/facts/IE?lang=de", "/facts/GB",
                    "/openapi.json", "/schemas/case.schema.json", "/style.css", "/look.css",
                    "/report.css", "/fragment.css"):
        first = served.get(address)
        tags[address] = first.headers["etag"]
        again = served.get(address, headers={"If-None-Match": f'"other", {tags[address]}'})
        assert first.headers["cache-control"].startswith("public, max-age=")
        assert again.status_code == 304 and not again.content

    assert len(set(tags.values())) == len(tags)


def test_a_changed_ruleset_has_another_tag(tmp_path: Path) -> None:
    def tag(title: str) -> str:
        text = small_ruleset.DEFINITIONS.replace("title: Old", f"title: {title}")
        folder = small_ruleset.write(tmp_path / title, definitions=text)
        return str(client(jurisdictions=(folder,)).get("/facts/QA").headers["etag"])

    assert tag("Ancient") != tag("Antique")


@pytest.mark.parametrize(("method", "address", "status"), [
    ("GET", "/nowhere", 404), ("DELETE", "/ask", 405), ("GET", "/ask?jurisdiction=XX", 404),
    ("GET", "/assess", 405), ("GET", "/ask?jurisdiction=IE&on=x", 422),
])
def test_what_cannot_be_answered_is_a_page_for_people_and_a_problem_for_programs(
    method: str, address: str, status: int, served: TestClient
) -> None:
    page = served.request(method, address, headers={**Visitor(served).headers})
    problem = served.request(method, address, headers={"accept": "application/json"})

    assert page.status_code == problem.status_code == status
    assert page.headers["content-type"].startswith("text/html") and "Begin again" in page.text
    assert problem.headers["content-type"] == "application/problem+json"


def test_a_missing_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """What to install is said, as elsewhere."""
    for name in [name for name in sys.modules if name.startswith("regkit.web")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "starlette", None)

    with pytest.raises(ImportError, match=r"'starlette': pip install 'regkit\[web\]'"):
        import regkit.web  # noqa: F401
