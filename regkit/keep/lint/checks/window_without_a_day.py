"""Windows, events and governing facts that are not dates, so that they never begin."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("window-without-a-day", Level.ERROR, "a period counted from what is no date")


def look(kept: Kept) -> Iterator[Remark]:
    """Facts that do not exist at all are refused on reading."""
    for entry, history in kept.histories("definitions", "requirements"):
        named = [("governed by", history.governed_by)]
        for edition in history.editions:
            named.append(("on event", getattr(edition, "on_event", "")))
            window = getattr(edition, "window", None)
            named += [("window", name) for name in (window.of if window else ())]
        for key, name in dict.fromkeys(named):
            fact = kept.ruleset.vocabulary.get(name)
            if fact is not None and fact.type != "date":
                yield CHECK.remark(
                    place(entry, key),
                    f"`{key}` of `{entry.id}` names `{name}`, which is no date ({fact.type})",
                    "name a fact of the type date")
