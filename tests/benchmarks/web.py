"""The web adapter under 1,000 clients at once, on loopback: time, refusals, memory.

Each client has a case of its own, and its answer must hold that case and no other. One that is told
to come back (503, Retry-After) does. The server is a process of its own, as `regkit serve` starts
it. Run: python -m tests.benchmarks.web [CLIENTS [ROUNDS [WORKERS]]]
"""

from __future__ import annotations

import asyncio
import json
import re
import socket
import statistics
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import Any

import httpx2
import psutil

JURISDICTION = "IE"
TOKEN = re.compile(r'name="case" value="([^"]+)"')


@dataclass
class Round:
    """What happened to all clients of one round."""

    statuses: Counter[int] = field(default_factory=Counter)
    seconds: list[float] = field(default_factory=list)
    leaks: int = 0
    broken: int = 0


def own_case(number: int) -> dict[str, Any]:
    """Return a case with a frame number that no other client has."""
    return {"jurisdiction": JURISDICTION, "on": "2026-04-01", "facts": {
        "vehicle.kind": "motorcycle" if number % 2 else "car", "vehicle.place": "abroad",
        "vehicle.built": str(1950 + number % 40), "vehicle.frame_number": f"QUILLBY{number:05}"}}


async def sent(client: httpx2.AsyncClient, seen: Round, *request: Any, **more: Any) -> Any:
    """Send a request until it is answered; come back when told to."""
    while True:
        try:
            response = await client.request(*request, **more)
        except httpx2.TransportError:  # an idle connection was closed just then (RFC 9112, 9.3.1)
            seen.broken += 1
            continue
        seen.statuses[response.status_code] += 1
        if response.status_code != 503:
            return response
        await asyncio.sleep(int(response.headers["retry-after"]))


async def assess(client: httpx2.AsyncClient, number: int, seen: Round) -> None:
    """Have a case assessed."""
    text = (await sent(client, seen, "POST", "/assess", json=own_case(number))).text
    seen.leaks += not 0 < text.count("QUILLBY") == text.count(f"QUILLBY{number:05}")


async def answer(client: httpx2.AsyncClient, number: int, seen: Round) -> None:
    """Answer the first question of a conversation, and tell a frame number on its page."""
    first = await sent(client, seen, "GET", f"/ask?jurisdiction={JURISDICTION}")
    token = TOKEN.search(first.text)
    assert token is not None
    for fact, said in (("vehicle.place", {"answer": "abroad"}),
                       ("vehicle.frame_number",
                        {"answer": "written", "written": f"QUILLBY{number:05}"})):
        page = await sent(client, seen, "POST", "/ask", data={
            "case": token[1], "fact": fact, **said}, follow_redirects=True)
        token = TOKEN.search(page.text)
        assert token is not None
    taken = json.loads((await sent(client, seen, "GET", f"/case.json?case={token[1]}")).text)
    seen.leaks += taken["facts"].get("vehicle.frame_number") != f"QUILLBY{number:05}"
    seen.leaks += page.text.count("QUILLBY") != page.text.count(f"QUILLBY{number:05}")


Visit = Callable[[httpx2.AsyncClient, int, Round], Awaitable[None]]


async def all_at_once(address: str, clients: int, visit: Visit) -> Round:
    """Let all clients come at once, each with a connection of its own."""
    seen = Round()

    async def one(number: int) -> None:
        start = time.perf_counter()
        await visit(client, number, seen)
        seen.seconds.append(time.perf_counter() - start)

    limits = httpx2.Limits(max_connections=None, max_keepalive_connections=None)
    async with httpx2.AsyncClient(base_url=address, timeout=600, limits=limits) as client:
        await asyncio.gather(*(one(number) for number in range(clients)))
    return seen


def memory(server: psutil.Process) -> float:
    """Return the memory of a server and its processes, in MB."""
    return sum(one.memory_info().rss for one in (server, *server.children(recursive=True))) / 1e6


def main(clients: int = 1_000, rounds: int = 5, workers: int = 1) -> None:
    """Print a line for each round."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen([
        sys.executable, "-m", "regkit", "serve", "--port", str(port), "--rate", "0", "--workers",
        str(workers), "--jurisdictions", JURISDICTION])
    try:
        address = f"http://127.0.0.1:{port}"
        while True:
            try:
                httpx2.get(address)
                break
            except httpx2.TransportError:
                time.sleep(0.2)
        process = psutil.Process(server.pid)
        print(f"{clients} clients, {workers} processes; at rest {memory(process):.0f} MB")
        for name, visit in (("assess", assess), ("answer", answer)):
            for number in range(rounds):
                start = time.perf_counter()
                seen = asyncio.run(all_at_once(address, clients, visit))
                spent = time.perf_counter() - start
                middle, longest = statistics.median(seen.seconds), max(seen.seconds)
                print(f"{name} {number + 1}: {spent:.1f} s for all, median {middle:.1f} s, "
                      f"longest {longest:.1f} s; "
                      f"{dict(sorted(seen.statuses.items()))}; {seen.leaks} leaks, "
                      f"{seen.broken} broken; {memory(process):.0f} MB", flush=True)
    finally:
        server.terminate()
        server.wait()


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
