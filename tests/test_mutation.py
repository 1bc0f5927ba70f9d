"""No small mistake in a shipped ruleset goes unnoticed by its worked examples, or unexplained."""

from __future__ import annotations

from datetime import date

import pytest

import regkit
from regkit.keep.mutation import score

TODAY = date(2026, 11, 25)
"""The day the examples were last completed; equivalence looks twenty years ahead of it."""


@pytest.mark.parametrize("code", regkit.jurisdictions())
def test_examples_notice_every_small_mistake(code: str) -> None:
    """Each mutant is noticed, is the same rule for every vehicle, or has its reason written down.

    If this fails: regkit coverage CODE --mutants --all, and --examples for cases to complete.
    """
    found = score(regkit.load(code), TODAY)

    assert [survivor.mutant.name for survivor in found.unexplained] == []
    assert [(stale.explained.mutant, stale.because) for stale in found.stale] == []
    assert found.noticed > 100, "nothing was tried"
