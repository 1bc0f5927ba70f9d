"""Names of a released version that lead nowhere any more."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint import reading
from regkit.keep.lint.kept import Kept
from regkit.keep.lint.released import released
from regkit.keep.lint.remark import Remark
from regkit.read.folder import TRIALS
from regkit.read.problems import LOST_NAME

CHECK = reading.CHECKS[LOST_NAME]
"""Old names in renamed.yaml that lead nowhere are refused on reading, under the same code."""


def look(kept: Kept) -> Iterator[Remark]:
    """Examples may go: nobody but the keeper names them."""
    rules = kept.ruleset
    now = {*rules.vocabulary, *rules.definitions, *rules.requirements, *rules.evidence,
           *rules.charges, *rules.counting, *rules.sources, *rules.questions, *rules.crosschecks,
           *rules.routes, *rules.renamed}
    lost: dict[str, str] = {}
    for version, layers in released(kept):
        own = layers[-1].entries
        for kind, entries in own.items():
            if kind not in (*TRIALS, "renamed"):
                lost.update((name, version) for name in entries if name not in now)
    for name, version in sorted(lost.items()):
        yield CHECK.remark(
            f"{kept.head.document.file}:1", f"`{name}` was released in {version} and is gone",
            "write what it became into renamed.yaml, or end its last edition instead of deleting")
