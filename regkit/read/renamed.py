"""Old names: each must lead, in one step or several, to something that still exists."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from regkit.read.folder import Written
from regkit.read.problems import LOST_NAME, Problem, did_you_mean


def renamed_names(
    renamed: Mapping[str, Written], known: Iterable[str], problems: list[Problem]
) -> dict[str, str]:
    """Return for each old name the name that holds now.

    Args:
        known: the names of all facts and entries.
        problems: takes one for each old name that leads nowhere, in a circle, or is still in use.
    """
    names = frozenset(known)
    found: dict[str, str] = {}
    for old, written in renamed.items():
        seen = [old]
        while seen[-1] in renamed and len(seen) <= len(renamed):
            seen.append(renamed[seen[-1]].data["to"])
        if old in names:
            wrong = f"`{old}` is renamed, but still names something; drop one"
        elif seen[-1] in renamed:
            wrong = f"renamed in a circle: {' → '.join(dict.fromkeys(seen))}"
        elif seen[-1] not in names:
            wrong = f"`{old}` leads to `{seen[-1]}`, which does not exist" + did_you_mean(
                seen[-1], names)
        else:
            found[old] = seen[-1]
            continue
        problems.append(written.document.problem(written.path, wrong, LOST_NAME))
    return found
