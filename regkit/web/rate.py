"""How often one client may ask: a bucket of tokens each, filled at a steady rate."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from ipaddress import IPv6Address, ip_address
from math import ceil
from time import monotonic

from regkit.web.settings import Limits

Bucket = tuple[float, float]
"""How many tokens were in it, and when, in seconds of a steady clock."""


class Rate:
    """Counts the requests of client addresses, in memory alone, the latest `clients` of them."""

    def __init__(self, limits: Limits, clock: Callable[[], float] = monotonic) -> None:
        self._limits = limits
        self._clock = clock
        self._buckets: OrderedDict[str, Bucket] = OrderedDict()

    def wait(self, address: str, cost: int = 1) -> int:
        """Count a request; return 0 if it may be answered, else after how many seconds.

        Args:
            cost: for how many requests it counts.
        """
        limits, now = self._limits, self._clock()
        if not limits.rate:
            return 0
        client = network_of(address)
        tokens, then = self._buckets.pop(client, (float(limits.burst), now))
        tokens = min(float(limits.burst), tokens + (now - then) * limits.rate)
        cost = min(cost, limits.burst)
        allowed = tokens >= cost
        self._buckets[client] = (tokens - cost if allowed else tokens, now)
        if len(self._buckets) > limits.clients:
            self._buckets.popitem(last=False)
        return 0 if allowed else max(1, ceil((cost - tokens) / limits.rate))

    def __len__(self) -> int:
        return len(self._buckets)


def network_of(address: str) -> str:
    """Return what counts as one client: an IPv4 address, or the /64 network of an IPv6 one."""
    try:
        found = ip_address(address)
    except ValueError:
        return address
    if isinstance(found, IPv6Address):
        if found.ipv4_mapped is not None:
            return str(found.ipv4_mapped)
        return found.packed[:8].hex()
    return address
