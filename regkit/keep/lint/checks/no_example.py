"""Requirements and classes that no worked example speaks of."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("no-example", Level.TO_DO, "a requirement or class without a worked example")


def look(kept: Kept) -> Iterator[Remark]:
    """Which examples are still wanting in detail, `regkit coverage` says."""
    expected = {name for example in kept.ruleset.examples.values()
                for names in example.expect.values() for name in names}
    for entry, history in kept.histories("definitions", "requirements"):
        shown = entry.id in kept.ruleset.requirements or any(
            edition.is_class for edition in history.editions)
        counts = any(edition.state == "enacted" for edition in history.editions)
        if shown and counts and entry.id not in expected:
            yield CHECK.remark(entry.line, f"no worked example expects anything of `{entry.id}`",
                               "write one in examples.yaml; `regkit coverage` prepares it")
