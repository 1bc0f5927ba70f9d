"""The web adapter for programs: JSON by published schemas, described by OpenAPI, bounded."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator
from starlette.testclient import TestClient

import regkit
from regkit.web import Limits
from regkit.web.rate import Rate, network_of
from tests.rulesets_under_test import ROOT, SCHEMAS
from tests.test_schemas import validator
from tests.web_visitor import client

CASES = ROOT / "docs" / "cases"
OFFERED = ("IE", "GB", "GB-NIR", "DE", "SE", "US-CA")
SLOW = 0.001
"""Requests a second: so few that a busy machine gains none while a test runs."""


@pytest.fixture(scope="module")
def served() -> Iterator[TestClient]:
    with client(jurisdictions=OFFERED) as found:
        yield found


def case(name: str) -> dict[str, Any]:
    """Return a case of the documentation as data."""
    data: dict[str, Any] = yaml.load((CASES / f"{name}.yaml").read_text("utf-8"), yaml.BaseLoader)
    return data


@pytest.fixture(scope="module")
def described(served: TestClient) -> dict[str, Any]:
    found: dict[str, Any] = served.get("/openapi.json").json()
    return found


def test_the_description_is_openapi_3_1(described: dict[str, Any]) -> None:
    """By the schema of the OpenAPI Initiative, and every schema in it by JSON Schema 2020-12."""
    OpenAPIV31SpecValidator(described).validate()

    assert described["openapi"].startswith("3.1.")
    for name, schema in described["components"]["schemas"].items():
        Draft202012Validator.check_schema(schema)
        assert (SCHEMAS / f"{name}.schema.json").is_file()


def test_everything_described_is_there_and_everything_there_is_described(
    described: dict[str, Any], served: TestClient
) -> None:
    """But for the pages for people."""
    app: Any = served.app
    pages = {"/", "/ask", "/report", "/case.json", "/openapi.json", "/style.css", "/look.css",
             "/report.css", "/fragment.css"}
    routes = {(route.path, method.lower()) for route in app.routes if route.path not in pages
              for method in route.methods - {"HEAD"}}

    assert routes == {(path, method) for path, operations in described["paths"].items()
                      for method in operations}


def answers_by(described: dict[str, Any], path: str, method: str, status: int) -> Any:
    """Return the validator of an answer, as the description gives it."""
    content = described["paths"][path][method]["responses"][str(status)]["content"]
    (schema,) = [kind["schema"] for kind in content.values()]
    return Draft202012Validator({**schema, "components": described["components"]})


JUDGED = [("/assess", "/assess"), ("/plan", "/plan"), ("/next-question", "/next-question"),
          ("/packet/{requirement}", "/packet/apply-for-registration")]


@pytest.mark.parametrize(("path", "address"), JUDGED)
@pytest.mark.parametrize("name", ["ie-import", "gb-papers", "de-too-young", "se-missed-window"])
def test_answers_are_as_described_and_as_published(
    path: str, address: str, name: str, served: TestClient, described: dict[str, Any]
) -> None:
    data = case(name)
    if "packet" in address:
        finding = next(iter(regkit.load(data["jurisdiction"]).requirements))
        address = address if name == "gb-papers" else f"/packet/{finding}"
    response = served.post(address, json=data, params={"lang": "de"})

    assert response.status_code == 200, response.text
    assert response.headers["cache-control"] == "no-store"
    assert response.headers["content-language"] == "de"
    found = response.json()
    assert found["language"] == "de"
    assert not list(answers_by(described, path, "post", 200).iter_errors(found))
    kind = path.split("/")[1].replace("assess", "assessment")
    assert not list(validator(SCHEMAS / f"{kind}.schema.json").iter_errors(found))


def test_an_assessment_is_the_librarys_own(served: TestClient) -> None:
    """Byte for byte the same data."""
    data = case("gb-papers")
    found = served.post("/assess", json=data, params={"on": "2025-06-01", "lang": "sv"}).json()
    ruleset = regkit.load("GB")
    own = regkit.assess(regkit.read_case(data, ruleset), ruleset, date(2025, 6, 1))

    assert found == json.loads(json.dumps(own.to_dict("sv")))


def test_a_case_can_be_sent_as_yaml(served: TestClient) -> None:
    """As the file stands (RFC 9512)."""
    text = (CASES / "ie-import.yaml").read_bytes()
    sent = served.post("/assess", content=text, headers={"content-type": "application/yaml"})

    assert sent.status_code == 200
    assert sent.json() == served.post("/assess", json=case("ie-import")).json()


def test_questions_can_be_asked_by_a_program_until_none_is_left(served: TestClient) -> None:
    """As `regkit ask` does it, skipping what is not known."""
    answers, told, skip = case("ie-import")["facts"], {}, []
    for _ in range(60):
        found = served.post("/next-question", params={"skip": skip},
                            json={"jurisdiction": "IE", "facts": told}).json()["question"]
        if found is None:
            break
        name = found["fact"]["name"]
        assert name not in told and name not in skip
        if name in answers:
            told[name] = answers[name]
        else:
            skip.append(name)
    assert found is None and told


@pytest.mark.parametrize("path", ["/jurisdictions", "/facts/{jurisdiction}"])
@pytest.mark.parametrize("lang", ["en", "de", "sv"])
def test_what_is_published_is_as_described(
    path: str, lang: str, served: TestClient, described: dict[str, Any]
) -> None:
    for code in OFFERED:
        found = served.get(path.format(jurisdiction=code), params={"lang": lang}).json()
        assert not list(answers_by(described, path, "get", 200).iter_errors(found))
        assert found["language"] == lang


def test_every_schema_is_published_as_it_is(served: TestClient) -> None:
    """Their references by file name lead from one to the next."""
    for file in SCHEMAS.glob("*.schema.json"):
        response = served.get(f"/schemas/{file.name}")
        assert response.headers["content-type"] == "application/schema+json"
        assert response.content == file.read_bytes()


@pytest.mark.parametrize(("body", "status", "pointer", "line", "detail"), [
    ('{"jurisdiction": "IE",\n "facts": {\n  "vehicle.biult": "1962"}}', 422,
     "#/facts/vehicle.biult", 3, "did you mean `vehicle.built`?"),
    ('{"jurisdiction": "IE", "facts": {"vehicle.built": "then"}}', 422, "#/facts/vehicle.built", 1,
     "is no date"),
    ('{"jurisdiction": "XX", "facts": {}}', 422, "#/jurisdiction", 1, "there are: IE, GB"),
    ('{"facts": {}}', 422, "#", 1, "lacks `jurisdiction`"),
    ('{"jurisdiction": "IE", "facts": {}, "papers": [{"evidence": "x"}]}', 422,
     "#/papers/0/evidence", 1, "knows no paper"),
    ('{"jurisdiction": "IE", "facts": {},\n "on": "2026-02-30"}', 422, "#/on", 2, "no day"),
    ('{"jurisdiction": "IE", "facts": {}', 400, "#", 1, "is not JSON"),
    ('{"a": 1, "a": 2}', 400, "#", 1, "a second time"),
    ('{"a": "\u202e"}', 400, "#", 1, "invisible character U+202E"),
])
def test_what_is_wrong_is_said_with_its_place(
    body: str, status: int, pointer: str, line: int, detail: str, served: TestClient
) -> None:
    """Problem details (RFC 9457): a pointer (RFC 6901) and the line."""
    response = served.post("/assess", content=body.encode(),
                           headers={"content-type": "application/json"})
    problem = response.json()

    assert response.status_code == problem["status"] == status
    assert response.headers["content-type"] == "application/problem+json"
    assert not list(validator(SCHEMAS / "problem.schema.json").iter_errors(problem))
    (error,) = problem["errors"]
    assert (error["pointer"], error["line"]) == (pointer, line) and detail in error["detail"]


@pytest.mark.parametrize(("asked", "accepted", "language", "detail", "error"), [
    ("", "en", "en", "The case cannot be read; nothing of it was taken", "'then' is no date"),
    ("?lang=de", "sv", "de", "Der Fall lässt sich nicht lesen; nichts davon wurde übernommen",
     "`vehicle.built`: 'then' ist kein Datum; richtig wäre: 1962,"),
    ("", "fr, sv-FI;q=0.8", "sv", "Ärendet går inte att läsa; inget av det togs emot",
     "`vehicle.built`: 'then' är inget datum; rätt vore: 1962,"),
])
def test_what_is_wrong_is_said_in_the_language_asked_for(
    asked: str, accepted: str, language: str, detail: str, error: str, served: TestClient
) -> None:
    """RFC 9457 leaves the words to content negotiation; the title is the name of the status."""
    response = served.post(f"/assess{asked}", headers={"accept-language": accepted}, json={
        "jurisdiction": "IE", "facts": {"vehicle.built": "then"}})
    problem = response.json()

    assert response.headers["content-language"] == language
    assert "Accept-Language" in response.headers["vary"]
    assert problem["title"].startswith("Unprocessable") and problem["detail"] == detail
    assert error in problem["errors"][0]["detail"]


@pytest.mark.parametrize(("body", "kind", "status"), [
    (b"[]", "application/json", 422), (b'"/etc/hostname"', "application/json", 422),
    (b"docs/cases/ie-import.yaml", "application/yaml", 422), (b"", "application/json", 400),
    (b"{}", "text/plain", 415), (b"\xff", "application/json", 400), (b"{}", "", 415),
    (b"a=1", "application/x-www-form-urlencoded", 415),
])
def test_what_is_no_case_is_refused(
    body: bytes, kind: str, status: int, served: TestClient
) -> None:
    """A text that names a file is no case: nothing but the body is read."""
    response = served.post("/assess", content=body, headers={"content-type": kind})

    assert response.status_code == status, response.text
    assert response.json()["status"] == status


@pytest.mark.parametrize(("address", "status"), [
    ("/assess?on=1850-01-01", 422), ("/assess?on=soon", 422), ("/plan?on=2500-01-01", 422),
    ("/packet/nothing", 404),
])
def test_what_is_asked_wrongly_is_refused(
    address: str, status: int, served: TestClient
) -> None:
    assert served.post(address, json=case("ie-import")).status_code == status


def test_too_large_a_body_is_refused_before_it_is_read() -> None:
    """By its stated length, and by its true one where none is stated."""
    small = client(limits=Limits(body=100, rate=0), jurisdictions=("IE",))
    kind = {"content-type": "application/json"}

    def pieces() -> Iterator[bytes]:
        for _ in range(5):
            yield b"x" * 30

    assert small.post("/assess", content=b"x" * 101, headers=kind).status_code == 413
    assert small.post("/assess", content=pieces(), headers=kind).status_code == 413
    assert small.post("/ask", data={"case": "x" * 200}).status_code == 413
    assert small.get("/ask", params={"case": "x" * 9_000}).status_code == 414


def test_who_asks_too_often_is_told_when_to_come_back() -> None:
    """429 with Retry-After (RFC 6585, RFC 9110); a bucket a client, filled at a steady rate."""
    limited = client(limits=Limits(burst=3, rate=SLOW), jurisdictions=("IE",))
    statuses = [limited.get("/style.css").status_code for _ in range(5)]
    refused = limited.get("/style.css")

    assert statuses == [200, 200, 200, 429, 429]
    assert 900 <= int(refused.headers["retry-after"]) <= 1000
    assert refused.json()["title"] == "Too Many Requests"
    judging = client(limits=Limits(burst=9, rate=SLOW, judging=5), jurisdictions=("IE",))
    assert [judging.post("/plan", json=case("ie-import")).status_code for _ in range(2)] == [
        200, 429]
    assert TestClient(limited.app, client=("192.0.2.9", 1)).get("/style.css").status_code == 200


def test_the_rate_is_a_bucket_that_fills_and_is_forgotten() -> None:
    now = [0.0]
    rate = Rate(Limits(burst=2, rate=1.0, clients=3), clock=lambda: now[0])

    assert [rate.wait("192.0.2.1") for _ in range(3)] == [0, 0, 1]
    now[0] = 1.0
    assert [rate.wait("192.0.2.1"), rate.wait("192.0.2.1")] == [0, 1]
    assert [rate.wait("192.0.2.7", 2), rate.wait("192.0.2.7", 2)] == [0, 2]
    for last in range(200):
        rate.wait(f"198.51.100.{last}")
    assert len(rate) == 3


def test_a_network_of_ipv6_is_one_client() -> None:
    """A household has a /64 (RFC 6177)."""
    assert network_of("2001:db8:1:2::1") == network_of("2001:db8:1:2:ffff::9")
    assert network_of("2001:db8:1:2::1") != network_of("2001:db8:1:3::1")
    assert network_of("::ffff:192.0.2.1") == network_of("192.0.2.1")
    assert network_of("testclient") == "testclient"


def test_what_takes_too_long_or_would_wait_too_long_is_refused_for_now() -> None:
    """503 with Retry-After; nothing of it stays behind."""
    hurried = client(limits=Limits(rate=0, seconds=0.0001), jurisdictions=("GB",))
    response = hurried.post("/assess", json=case("gb-import"))
    full = client(limits=Limits(rate=0, working=1, waiting=-1), jurisdictions=("GB",))

    assert response.status_code == 503 and int(response.headers["retry-after"]) >= 1
    assert full.post("/assess", json=case("gb-import")).status_code == 503
    assert full.get("/jurisdictions").status_code == 200
