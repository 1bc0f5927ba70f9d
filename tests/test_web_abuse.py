"""Abuse of the web adapter: hostile texts, hostile documents, random requests, many at once.

Never an answer of 500 or above (but 503, which says when to come back), never markup of somebody
else's making on a page, and nothing of one visitor's in another's answer or left in memory.
"""

from __future__ import annotations

import asyncio
import copy
import gc
import json
import threading
from collections.abc import Iterator
from typing import Any

import html5lib
import httpx2
import pytest
import schemathesis
import uvicorn
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import CHECKS
from starlette.testclient import TestClient

from regkit.model.assessment import Assessment
from regkit.model.case import Case
from regkit.web import Limits, Settings, application
from regkit.web.conversation import Conversation
from tests.rulesets_under_test import INVENTED
from tests.web_visitor import BROWSER, ON, Visitor


def app_for_abuse(**limits: Any) -> Any:
    """Return the application with the invented jurisdiction, and no limit on how often."""
    return application(Settings(jurisdictions=(INVENTED / "zz",), today=lambda: ON,
                                limits=Limits(**{"rate": 0.0, **limits})))


APP = app_for_abuse()
CLIENT = TestClient(APP)
few = settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))

HOSTILE = {
    "script": "<script>alert(1)</script>",
    "attribute": "\"' autofocus onfocus=alert(1) x=\"",
    "image": "</title></textarea><img src=x onerror=alert(1)>",
    "comment": "--><svg/onload=alert(1)><!--",
    "template": "{{ 7 * 7 }}{% for %}${7*7}",
    "entity": "&lt;b&gt;&#x202e;&nbsp",
    "null": "a\x00b",
    "control": "\x1b[31mred\x07\x08",
    "right to left": "\u202egnp.exe\u202c",
    "isolate": "\u2066\u2067\u2069",
    "arabic": "رقم الإطار",
    "no character": "\ufffe\uffff\ufdd0",
    "line separator": "a\u2028b\u2029c",
    "marks": "Z" + "\u0301" * 400,
    "beyond the plane": "𝔉𝔯𝔞𝔪𝔢 🏍" * 20,
    "header": "x\r\nSet-Cookie: a=b\r\n\r\n<b>",
    "path": "../../../../etc/passwd",
    "percent": "%00%0d%0a%c0%ae",
    "digits": "9" * 400,
    "long": "Quillby " * 70,
    "10 MB": "x" * 10_000_000,
}
REFUSALS = {400, 404, 410, 413, 414, 415, 422}

SCHEMA = schemathesis.openapi.from_asgi("/openapi.json", APP)
# A name or date can fit its schema and yet be none: whether it is one, the ruleset says.
UNTRUE = [CHECKS.get_one("positive_data_acceptance")]


@SCHEMA.parametrize()
@few
def test_whatever_fits_or_breaks_the_description_is_answered_as_described(case: Any) -> None:
    """Drawn by schemathesis from the published OpenAPI: status, headers, media type and schema."""
    case.call_and_validate(excluded_checks=UNTRUE)


def whole_case(text: str) -> dict[str, Any]:
    """Return a case with a text in every place that takes one."""
    return {
        "jurisdiction": "ZZ", "title": text, "on": "2026-04-01",
        "facts": {"vehicle.kind": "car", "vehicle.built": "1962", "vehicle.frame_number": text,
                  "vehicle.engine_capacity": "250 cc", "purchase.price": "10 EUR"},
        "papers": [{"evidence": "age-letter", "named": text, "reference": text, "language": "fr",
                    "dated": "2026-01-01", "shows": {"vehicle.frame_number": text}}],
        "done": [{"requirement": "report-to-the-port", "on": "2026-03-01", "reference": text}],
        "rates": [{"from": "EUR", "to": "GBP", "rate": "0.85", "on": "2026-03-01",
                   "source": text}],
    }


def places(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the place of every text in a document."""
    parts = data.items() if isinstance(data, dict) else enumerate(data)
    for step, part in parts:
        if isinstance(part, (dict, list)):
            yield from places(part, (*path, step))
        else:
            yield (*path, step)


def with_text(data: Any, path: tuple[Any, ...], text: str) -> Any:
    changed = copy.deepcopy(data)
    part = changed
    for step in path[:-1]:
        part = part[step]
    part[path[-1]] = text
    return changed


PLACES = list(places(whole_case("A 1")))


def test_the_whole_case_is_one() -> None:
    """Else the tests that put hostile texts into it would prove nothing."""
    response = CLIENT.post("/assess", json=whole_case("A 1"))
    assert response.status_code == 200, response.text


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_text_in_a_case_is_data_or_refused(text: str) -> None:
    """In every place of a case, written plainly and with escapes; the answer stays JSON."""
    for path in PLACES:
        for escaped in (True, False):
            body = json.dumps(with_text(whole_case("A 1"), path, text), ensure_ascii=escaped)
            response = CLIENT.post("/assess", content=body.encode("utf-8", "surrogatepass"),
                                   headers={"content-type": "application/json"})
            assert response.status_code in {200, *REFUSALS}, (path, response.status_code)
            assert "json" in response.headers["content-type"]
            assert response.json() and "set-cookie" not in response.headers
            if len(text) > 1_000_000:
                assert response.status_code == 413
                break


@few
@given(text=st.text(max_size=60), path=st.sampled_from(PLACES))
def test_any_text_in_a_case_is_data_or_refused(text: str, path: tuple[Any, ...]) -> None:
    """Any characters at all, halves of pairs too."""
    response = CLIENT.post("/assess", content=json.dumps(with_text(whole_case("A 1"), path, text)),
                           headers={"content-type": "application/json"})
    assert response.status_code in {200, *REFUSALS}
    assert response.json()


FIELDS = ("answer", "written", "currency", "before", "again", "fact", "case")
ASKED = ("vehicle.frame_number", "vehicle.built", "vehicle.engine_capacity", "purchase.price",
         "arrival.from", "vehicle.kind", "use.on_road")


def without_foreign_markup(response: Any) -> None:
    """Check that a page is strictly HTML, with no element and no attribute that is not ours."""
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(response.text)
    for element in tree.iter():
        assert element.tag not in ("script", "img", "iframe", "object", "textarea", "style")
        assert not [name for name in element.attrib
                    if isinstance(name, str) and (name.startswith("on") or name == "autofocus")]
    assert "\u202e" not in response.text and "set-cookie" not in response.headers


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_text_in_a_form_is_data_or_refused(text: str) -> None:
    """In every field of every kind of question, and in every part of an address."""
    visitor = Visitor(CLIENT)
    token = visitor.get("/ask?jurisdiction=ZZ").fields["case"]
    for fact in ASKED:
        page = visitor.get(f"/ask?case={token}&change={fact}")
        for field in FIELDS:
            data = {**page.fields, "answer": "written", "written": "1", field: text}
            response = CLIENT.post("/ask", data=data, headers=BROWSER)
            assert response.status_code in {200, *REFUSALS}, (fact, field, response.status_code)
            without_foreign_markup(response)
            if len(text) > 1_000_000:
                return
    for address in ({"case": text}, {"jurisdiction": text}, {"jurisdiction": "ZZ", "on": text},
                    {"jurisdiction": "ZZ", "lang": text}, {"case": token, "change": text},
                    {"jurisdiction": "ZZ", "fragment": text}):
        response = CLIENT.get("/ask", params=address, headers={**BROWSER, "accept-language": "x"})
        assert response.status_code in {200, *REFUSALS}
        without_foreign_markup(response)


@pytest.mark.parametrize("text", [text for text in HOSTILE.values() if len(text) < 500])
def test_a_hostile_answer_is_shown_as_text_on_every_page(text: str) -> None:
    """On the pages of the questions, on the report and in the case to take along."""
    visitor = Visitor(CLIENT)
    token = visitor.get("/ask?jurisdiction=ZZ").fields["case"]
    page = visitor.get(f"/ask?case={token}&change=vehicle.frame_number")
    after = visitor.send(page, answer="written", written=text)
    if after.status == 422:
        return
    report = CLIENT.get(after.link("Show me the answer now"), headers=BROWSER)
    without_foreign_markup(report)
    change = visitor.get(after.link("Change"))
    taken = CLIENT.get(visitor.get(str(report.url)).link("as a file")).json()
    assert taken["facts"]["vehicle.frame_number"] == text.strip()
    assert change.fact == "vehicle.frame_number"


DOCUMENTS = {
    "deep lists": b"[" * 5_000,
    "deep maps": b'{"a":' * 5_000 + b"1" + b"}" * 5_000,
    "laughs": b"a: &a [x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a]\nc: [*b,*b,*b,*b,*b]\n",
    "tag": b"!!python/object/apply:os.system ['true']",
    "merge": b"a: {b: 1}\nc: {<<: {d: 2}}",
    "twice": b'{"jurisdiction": "ZZ", "jurisdiction": "ZZ", "facts": {}}',
    "huge number": b'{"jurisdiction": "ZZ", "facts": {"purchase.price": 1e999999}}',
    "long number": b'{"jurisdiction": "ZZ", "facts": {"purchase.price": ' + b"9" * 60_000 + b"}}",
    "not a number": b'{"jurisdiction": "ZZ", "facts": {"purchase.price": NaN}}',
    "half a pair": b'{"jurisdiction": "ZZ", "title": "\\ud800", "facts": {}}',
    "utf-16": '{"jurisdiction": "ZZ", "facts": {}}'.encode("utf-16"),
    "byte order mark": b'\xef\xbb\xbf{"jurisdiction": "ZZ", "facts": {}}',
    "cut off": b'{"jurisdiction": "ZZ", "facts": {"vehicle.kind": "ca',
    "many keys": json.dumps({"jurisdiction": "ZZ",
                             "facts": {f"a.b{n}": "x" for n in range(4_000)}}).encode(),
    "many papers": json.dumps({"jurisdiction": "ZZ", "facts": {},
                               "papers": [{"evidence": "age-letter"}] * 2_000}).encode(),
    "many documents": b"---\na: 1\n---\nb: 2\n",
    "file": b"/etc/hostname",
    "empty": b"",
    "binary": bytes(range(256)),
}


@pytest.mark.parametrize("kind", ["application/json", "application/yaml"])
@pytest.mark.parametrize("body", DOCUMENTS.values(), ids=DOCUMENTS)
def test_a_hostile_document_is_refused_with_a_reason(body: bytes, kind: str) -> None:
    for address in ("/assess", "/plan", "/next-question", "/packet/report-to-the-port"):
        response = CLIENT.post(address, content=body, headers={"content-type": kind})
        assert response.status_code in {200, *REFUSALS}, response.status_code
        assert response.status_code == 200 or response.json()["detail"]


def test_nothing_of_a_visitor_is_left_in_memory() -> None:
    """No case, no conversation, no assessment outlives its request."""
    def alive() -> int:
        gc.collect()
        return sum(isinstance(thing, (Case, Conversation, Assessment))
                   for thing in gc.get_objects())

    def visit(number: int) -> None:
        response = CLIENT.post("/assess", json=whole_case(f"QUILLBY{number}"))
        assert response.status_code == 200
        visitor = Visitor(CLIENT)
        page = visitor.answer(visitor.get("/ask?jurisdiction=ZZ"), None)
        visitor.get(page.link("Show me the answer now"))

    visit(0)
    before = alive()
    for number in range(1, 9):
        visit(number)
    assert alive() <= before
    held = [thing for thing in gc.get_objects() if isinstance(thing, dict) and any(
        isinstance(value, str) and value.startswith("QUILLBY") for value in list(thing.values()))]
    assert not held


@pytest.fixture(scope="module")
def loopback() -> Iterator[str]:
    """The application on a port of this machine, served by uvicorn as `regkit serve` does."""
    server = uvicorn.Server(uvicorn.Config(
        app_for_abuse(waiting=1_000, seconds=600.0), port=0, access_log=False, lifespan="off",
        log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        threading.Event().wait(0.02)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(timeout=10)


def test_many_clients_at_once_each_get_their_own_answer(loopback: str) -> None:
    """120 on loopback; tests/benchmarks/web.py sends 1,000."""
    async def one(client: httpx2.AsyncClient, number: int) -> None:
        own = f"QUILLBY{number:04}"
        case = whole_case(own)
        case["facts"]["vehicle.kind"] = "motorcycle" if number % 2 else "car"
        found = (await client.post("/assess", json=case)).json()
        assert found["case"]["facts"]["vehicle.frame_number"] == own
        assert found["case"]["facts"]["vehicle.kind"] == case["facts"]["vehicle.kind"]
        assert json.dumps(found).count("QUILLBY") == json.dumps(found).count(own)

    async def all_of_them() -> None:
        async with httpx2.AsyncClient(base_url=loopback, timeout=600, limits=httpx2.Limits(
                max_connections=120)) as client:
            await asyncio.gather(*(one(client, number) for number in range(120)))

    asyncio.run(all_of_them())


def test_a_flood_is_answered_in_time_and_never_with_an_error() -> None:
    """More than can wait: some are told to come back, none fails."""
    flooded = app_for_abuse(working=1, waiting=5, seconds=60.0)

    async def all_of_them() -> list[int]:
        transport = httpx2.ASGITransport(flooded, raise_app_exceptions=True)
        async with httpx2.AsyncClient(transport=transport, base_url="http://club") as client:
            answers = await asyncio.gather(*(
                client.post("/assess", json=whole_case(f"Q{number}")) for number in range(60)))
        for answer in answers:
            assert answer.status_code == 200 or int(answer.headers["retry-after"]) >= 1
        return [answer.status_code for answer in answers]

    statuses = asyncio.run(all_of_them())
    assert set(statuses) == {200, 503} and statuses.count(200) >= 6
