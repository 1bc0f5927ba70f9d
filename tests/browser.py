"""A real browser for the tests: Debian's Chromium, driven by Playwright.

Where there is no browser its tests are skipped and say so; `REGKIT_BROWSER=required` makes that a
failure. The accessibility checks are those of axe-core (Deque, npm), which tests WCAG 2.2 A and AA.
"""

from __future__ import annotations

import os
import shutil
import threading
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NoReturn

import pytest
import uvicorn

from tests.rulesets_under_test import ROOT

REQUIRED = os.environ.get("REGKIT_BROWSER") == "required"
AXE = Path(os.environ.get("REGKIT_AXE", ROOT / ".venv" / "axe")) / (
    "node_modules/axe-core/axe.min.js")
PROGRAMS = ("chromium", "chromium-browser", "google-chrome")
# As root, in a container, and without asking anything of the network.
ARGUMENTS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
    "--disable-background-networking", "--disable-component-update",
)
WAIT = 60_000
"""Milliseconds; a busy machine is no failure."""


def missing(what: str) -> NoReturn:
    """Skip a test for want of something, or fail where it must be there."""
    if REQUIRED:
        pytest.fail(what)
    pytest.skip(what)


@contextmanager
def browser() -> Iterator[Any]:
    """Yield a browser."""
    program = next((found for name in PROGRAMS if (found := shutil.which(name))), None)
    if program is None:
        missing("there is no Chromium here (Debian: apt-get install chromium)")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("Playwright is not installed (pip install playwright)")
    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        yield found
        found.close()


@contextmanager
def serving(app: Any) -> Iterator[str]:
    """Serve an application on a free port of this machine; yield its address."""
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        assert thread.is_alive(), "the server did not start"
        time.sleep(0.02)
    (socket,) = server.servers[0].sockets
    yield f"http://127.0.0.1:{socket.getsockname()[1]}"
    server.should_exit = True
    thread.join()


def violations(page: Any) -> list[str]:
    """Return what axe-core finds wrong on a page, one line each."""
    if not AXE.is_file():
        missing(f"axe-core is not at {AXE} (npm install --prefix {AXE.parents[2]} axe-core)")
    page.evaluate(AXE.read_text("utf-8"))
    found: list[Mapping[str, Any]] = page.evaluate("""async () => (await axe.run(document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']
    })).violations""")
    return [f"{one['id']}: {one['help']}: {node['html'][:200]} {node['failureSummary']}"
            for one in found for node in one["nodes"]]


def sideways(page: Any) -> int:
    """Return by how many pixels a page is wider than its window."""
    return int(page.evaluate(
        "document.documentElement.scrollWidth - document.documentElement.clientWidth"))
