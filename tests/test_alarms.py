"""Alarms: durable-rules as a second opinion of the plain way."""

from __future__ import annotations

import sys
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from regkit.follow.alarms import Alarm, DurableAlarms, PlainAlarms

alarms = st.builds(
    lambda case, requirement, kind, rings: Alarm(
        case, requirement, kind, date.fromordinal(rings + 5), rings),
    st.sampled_from("ab"), st.sampled_from(["r", "s"]), st.sampled_from(["due soon", "overdue"]),
    st.integers(1, 60))
steps = st.lists(st.one_of(
    st.tuples(st.just("set"), st.sampled_from("ab"), st.lists(alarms, max_size=4)),
    st.tuples(st.just("ring"), st.integers(1, 70)),
), max_size=12)


@settings(max_examples=60, deadline=None)
@given(steps)
def test_durable_rules_rings_the_same_alarms_as_the_plain_way(drawn: list[Any]) -> None:
    pytest.importorskip("durable")
    plain, durable = PlainAlarms(), DurableAlarms()
    for kind, *rest in drawn:
        if kind == "ring":
            day = date.fromordinal(rest[0])
            assert plain.ring(day) == durable.ring(day)
        else:
            case, found = rest
            own = [Alarm(case, a.requirement, a.kind, a.due, a.rings) for a in found]
            plain.set(case, own)
            durable.set(case, own)


def test_without_durable_rules_the_message_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "durable", None)
    with pytest.raises(ImportError, match="pip install durable-rules"):
        DurableAlarms()
