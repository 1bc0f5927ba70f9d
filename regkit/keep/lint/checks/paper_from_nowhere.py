"""Papers that a requirement needs and nobody gives."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.keep.lint.kept import Kept, place
from regkit.keep.lint.remark import Check, Level, Remark

CHECK = Check("paper-from-nowhere", Level.WARNING, "a needed paper that nothing gives")


def look(kept: Kept) -> Iterator[Remark]:
    """A paper that another one can stand in for is not missing as long as that one can be had."""
    had = _given(kept)
    for name, papers in kept.ruleset.evidence.items():
        if name in had or any(edition.from_outside for edition in papers.editions):
            had |= {name}
            had |= {stood for edition in papers.editions for stood in edition.stands_in_for}
    for entry, history in kept.histories("requirements"):
        needed = {need.evidence for edition in history.editions for top in edition.needs
                  for need in top.walk() if need.evidence}
        for name in sorted(needed - had):
            yield CHECK.remark(
                place(entry, "needs"), f"`{entry.id}` needs `{name}`, which no requirement gives",
                "name it under `gives:` of the step it comes from, or write `from outside: yes` "
                "on the paper")


def _given(kept: Kept) -> set[str]:
    found = {name for history in kept.ruleset.requirements.values()
             for edition in history.editions for name in edition.gives}
    for folder in kept.built_upon_by:
        for entry in folder.entries["requirements"].values():
            for data in (entry.data, *entry.data.get("editions", ())):
                found.update(data.get("gives", ()))
    return found
