"""`regkit serve` as it is run: processes that share keys, a port of this machine, no log."""

from __future__ import annotations

import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx2
import pytest
from click.testing import CliRunner
from cryptography.fernet import Fernet

from regkit.commands import main
from tests.rulesets_under_test import ROOT


def made_key() -> str:
    """Return a key as the documentation says to make one."""
    return subprocess.run([sys.executable, "-m", "regkit.web.seal"], capture_output=True, text=True,
                          check=True, cwd=ROOT).stdout


@contextmanager
def serving(*options: str) -> Iterator[tuple[httpx2.Client, list[str]]]:
    """Run `regkit serve`; afterwards the list holds what it printed."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    printed: list[str] = []
    server = subprocess.Popen(
        [sys.executable, "-m", "regkit", "serve", "--port", str(port), "--jurisdictions", "EU",
         *options], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, cwd=ROOT)
    try:
        with httpx2.Client(base_url=f"http://127.0.0.1:{port}",
                           headers={"accept": "text/html"}) as client:
            for _ in range(300):
                try:
                    client.get("/style.css")
                    break
                except httpx2.TransportError:
                    assert server.poll() is None, server.stdout and server.stdout.read()
                    time.sleep(0.1)
            yield client, printed
    finally:
        server.terminate()
        printed += (server.communicate(timeout=120)[0] or "").splitlines()


def test_two_processes_answer_with_the_same_keys(tmp_path: Path) -> None:
    """An address sealed by one is opened by the other; what was asked is written down nowhere."""
    keys = tmp_path / "keys.txt"
    keys.write_text(made_key(), "ascii")
    with serving("--workers", "2", "--keys", str(keys), "--rate", "0",
                 "--frame-ancestor", "https://club.example") as (client, printed):
        page = client.get("/ask?jurisdiction=EU&lang=sv")
        token = page.text.partition('name="case" value="')[2].partition('"')[0]
        statuses = set()
        for _ in range(20):  # each on a connection of its own, so that both processes answer
            statuses.add(httpx2.get(f"{client.base_url}/ask?case={token}").status_code)

    assert statuses == {200} and 'lang="sv"' in page.text
    assert "frame-ancestors https://club.example" in page.headers["content-security-policy"]
    assert "server" not in page.headers
    assert token and not [line for line in printed if "GET" in line or token in line]


def test_the_address_of_a_client_is_believed_from_a_named_proxy_alone() -> None:
    """X-Forwarded-For from anybody else changes nothing: the rate cannot be got round by it."""
    def statuses(*options: str) -> list[int]:
        with serving("--rate", "0.001", *options) as (client, _):
            return [client.get("/ask?jurisdiction=EU", headers={
                "x-forwarded-for": f"192.0.2.{number}"}).status_code for number in range(130)]

    assert statuses()[-1] == 429
    assert set(statuses("--proxy", "127.0.0.1")) == {200}


@pytest.mark.parametrize(("keys", "says"), [
    (None, "cannot be read"), ("", "holds no key; make one with"), ("short", "key"),
])
def test_what_is_wrong_with_the_keys_is_said(
    keys: str | None, says: str, tmp_path: Path
) -> None:
    file = tmp_path / "keys.txt"
    if keys is not None:
        file.write_text(keys, "ascii")
    done = CliRunner().invoke(main, ["serve", "--keys", str(file)])

    assert done.exit_code == 2 and says in done.output


def test_a_made_key_is_one() -> None:
    assert Fernet(made_key().strip())
