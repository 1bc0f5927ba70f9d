"""Checks of a ruleset that a schema cannot make, for those who keep it.

Each check is one module in `checks/`: a `Check` and a function `look` that yields its remarks. To
add one, add the module, its page `docs/lint/<code>.rst` and its pair of test files
`tests/lint/<code>.yaml` and `.expected`. A false alarm is the worse error: where a check cannot be
sure it says nothing.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from importlib import import_module
from pathlib import Path

from regkit.keep.lint import checks, reading
from regkit.keep.lint.kept import Kept, read_kept
from regkit.keep.lint.remark import Check, Level, Mend, Remark
from regkit.model.ruleset import Ruleset
from regkit.read.problems import Unreadable

_MODULES = [
    import_module(f"{checks.__name__}.{module.name}")
    for module in sorted(pkgutil.iter_modules(checks.__path__), key=lambda module: module.name)
]
_LOOKS: Mapping[str, Callable[[Kept], Iterator[Remark]]] = {
    module.CHECK.code: module.look for module in _MODULES
}
CHECKS: Mapping[str, Check] = {
    check.code: check
    for check in sorted(
        (*reading.CHECKS.values(), *(module.CHECK for module in _MODULES)),
        key=lambda check: check.code,
    )
}
"""Every check by its code."""


@dataclass(frozen=True)
class Report:
    """What there is to say about a ruleset.

    Attributes:
        ruleset: what was read; None if it does not load, so that most checks could not look.
        remarks: in the order of file and line.
    """

    folder: Path
    ruleset: Ruleset | None
    remarks: tuple[Remark, ...]

    def at_least(self, level: Level) -> tuple[Remark, ...]:
        """Return the remarks that matter at least as much as a level."""
        return tuple(remark for remark in self.remarks if remark.level.rank <= level.rank)

    def path(self, remark: Remark) -> Path:
        """Return where the file of a remark lies."""
        return self.folder.parent / remark.file


def lint(folder: Path, on: date) -> Report:
    """Look at a ruleset with every check.

    Args:
        on: the day of the check, for what is overdue.
    """
    try:
        kept = read_kept(folder, on)
    except Unreadable as wrong:
        return Report(folder, None, reading.remarks_of(wrong.problems, folder))
    remarks = {remark for look in _LOOKS.values() for remark in look(kept)}
    return Report(folder, kept.ruleset, tuple(sorted(remarks, key=_place)))


def _place(remark: Remark) -> tuple[str, int, int, str, str]:
    return remark.file, remark.line, remark.level.rank, remark.code, remark.text


__all__ = ["CHECKS", "Check", "Kept", "Level", "Mend", "Remark", "Report", "lint"]
