"""What every test may ask for.

No test asserts how long anything takes: on a busy machine a slow draw is no failure.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from starlette.testclient import TestClient

from tests.rulesets_under_test import INVENTED
from tests.web_visitor import Visitor, client
from tests.zedland_changed import Mutate, changing

# Tests hold many rulesets for long: looking through them for circles again and again would take a
# fifth of the time.
gc.set_threshold(50_000)

# The same draws each time, so that what passed passes again; new ones for whoever looks for faults.
settings.register_profile(
    "regkit", deadline=None, suppress_health_check=[HealthCheck.too_slow],
    derandomize=os.environ.get("REGKIT_DRAWS") != "new")
settings.load_profile("regkit")


@pytest.fixture
def mutated(tmp_path: Path) -> Mutate:
    """A function that changes one text of Zedland and compares."""
    return changing(tmp_path)


@pytest.fixture(scope="module")
def served() -> Iterator[TestClient]:
    """The web adapter with some jurisdictions, and the invented one."""
    with client(jurisdictions=("IE", "GB", "DE", "SE", INVENTED / "zz")) as found:
        yield found


@pytest.fixture
def visitor(served: TestClient) -> Visitor:
    """Someone with a browser, at its pages."""
    return Visitor(served)
