"""Zedland, the invented jurisdiction, with one text changed: what differs then."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from regkit.compare.changes import compare
from regkit.model.changes import Changes, Effect
from regkit.read.sides import read_side
from tests.rulesets_under_test import INVENTED

FIRST, LAST, TODAY = date(2020, 1, 1), date(2029, 12, 31), date(2026, 1, 1)
ONE_DAY = timedelta(days=1)
Mutate = Callable[[str, str, str], Changes]


def changing(tmp_path: Path) -> Mutate:
    """Return a function that changes one text of Zedland, in a folder of its own, and compares."""
    folder = tmp_path / "zz"
    shutil.copytree(INVENTED / "zz", folder)

    def change(file: str, before: str, after: str) -> Changes:
        path = folder / file
        text = path.read_text("utf-8")
        assert before in text
        path.write_text(text.replace(before, after, 1), "utf-8")
        old, new = read_side(str(INVENTED / "zz")), read_side(str(folder))
        return compare(old.ruleset, new.ruleset, FIRST, LAST, TODAY,
                       written=(old.written, new.written))

    return change


def effect(changes: Changes, entry: str) -> Effect:
    """Return the one effect on an entry itself."""
    found, = (one for one in changes.effects if one.id == entry and one.item is None)
    return found
