"""Working an answer out beside the event loop, bounded in number and in time.

A thread cannot be stopped. So what a request can ask for is bounded first (its size, and the
engine's own limits); a thread whose visitor has given up ends its work, and until then takes no
other.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from random import randint
from typing import TypeVar

from regkit.web.settings import Limits

T = TypeVar("T")


class Busy(Exception):
    """Too many requests wait, or the answer takes too long; `after` seconds try again."""

    def __init__(self, after: int) -> None:
        super().__init__(f"busy, try again in {after} seconds")
        self.after = after


class Workbench:
    """A few threads, and a short queue before them. Needs the event loop of asyncio."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self._threads = ThreadPoolExecutor(limits.working, thread_name_prefix="regkit-web")
        self._inside = 0

    async def do(self, work: Callable[[], T]) -> T:
        """Return what a function returns, worked out in a thread.

        Whoever has waited in vain for a turn is sent away, and costs no work; once begun, an
        answer has as much time again. With one limit for both, a full queue would be worked off
        by its oldest requests, and these are given up before they are done.

        Raises:
            Busy: the queue is full, its turn did not come, or it took too long.
        """
        self.make_sure_of_room()
        self._inside += 1
        future = self._threads.submit(work)
        future.add_done_callback(self._left(asyncio.get_running_loop()))
        answer = asyncio.wrap_future(future)
        await asyncio.wait({answer}, timeout=self._limits.seconds)
        if not answer.done() and not future.cancel():
            await asyncio.wait({answer}, timeout=self._limits.seconds)
        if not answer.done() or answer.cancelled():
            # What becomes of it later concerns nobody any more, and is logged nowhere.
            answer.add_done_callback(lambda late: late.cancelled() or late.exception())
            raise self._busy()
        return answer.result()

    def make_sure_of_room(self) -> None:
        """Raise, before anything is read or worked out, if one more could not even wait.

        Raises:
            Busy: the queue is full.
        """
        if self._inside >= self._limits.working + self._limits.waiting:
            raise self._busy()

    def _busy(self) -> Busy:
        """Return when to come back: not all at once."""
        whole = max(1, round(self._limits.seconds))
        return Busy(after=randint(max(1, whole // 4), whole))

    def _left(self, loop: asyncio.AbstractEventLoop) -> Callable[[object], None]:
        def count(_: object) -> None:
            loop.call_soon_threadsafe(self._one_less)

        return count

    def _one_less(self) -> None:
        self._inside -= 1
