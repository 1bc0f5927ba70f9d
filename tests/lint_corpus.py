"""The files that lint is tried on: pairs in tests/lint, and the pages in docs/lint.

Each adds a few entries to the small ruleset of `tests/small_ruleset.py`; a head is changed key by
key. Files are named within the ruleset's folder; `qb/…` names another ruleset beside it, `before/…`
files as they were when a first version was released. `tampered` changes that version afterwards:
`this → that`.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import yaml

from regkit.keep.lint import Remark, lint
from regkit.keep.release import release
from tests.small_ruleset import FILES, write

ROOT = Path(__file__).resolve().parent.parent
PAGES = ROOT / "docs" / "lint"
PAIRS = ROOT / "tests" / "lint"
TODAY = date(2026, 11, 25)
_BLOCK = re.compile(r"^\.\. code-block:: yaml\n   :caption: (\S+)\n\n((?:   .*\n|\n)+)", re.M)


def lay(folder: Path, files: Mapping[str, str]) -> Path:
    """Write the small ruleset with files added; return its folder."""
    own = write(folder)
    for kind, text in FILES.items():
        changed = _changed_head(text, files.get("ruleset.yaml", "")) if kind == "ruleset" else text
        first = f"# yaml-language-server: $schema=../schemas/{kind}.schema.json\n"
        (own / f"{kind}.yaml").write_text(first + changed, "utf-8")
    before = {n.removeprefix("before/"): t for n, t in files.items() if n.startswith("before/")}
    if before or "tampered" in files:
        tampered = files.get("tampered", "").strip()
        _freeze(folder / "earlier", own.parent / "released", before, tampered)
    for name, text in files.items():
        kind, _, rest = name.removesuffix(".yaml").partition("/")
        if kind in ("ruleset", "before", "tampered"):
            continue
        target = own.parent / name if kind == "qb" else own / kind / f"{rest or 'added'}.yaml"
        target.parent.mkdir(exist_ok=True)
        target.write_text(text, "utf-8")
    return own


def _freeze(folder: Path, released: Path, files: Mapping[str, str], tampered: str) -> None:
    """Release the small ruleset as it was."""
    made = release(lay(folder, files), TODAY)
    released.mkdir()
    was, _, now = tampered.partition(" → ")
    copy = made.copy.replace(was, now) if tampered else made.copy
    (released / made.file.name).write_text(copy, "utf-8")


def _changed_head(text: str, changes: str) -> str:
    # A head that is JSON is a head that is YAML.
    head = {**yaml.load(text, yaml.BaseLoader), **(yaml.load(changes, yaml.BaseLoader) or {})}
    return json.dumps({**head, "notation": 1}, ensure_ascii=False, indent=1) if changes else text


def remarks(folder: Path, files: Mapping[str, str], code: str) -> list[Remark]:
    """Return the remarks of one check on the small ruleset with files added."""
    found = lint(lay(folder, files), TODAY).remarks
    return [remark for remark in found if remark.code == code]


def shown_on(page: Path) -> dict[str, dict[str, str]]:
    """Return the files a page shows, by its sections `Avoid` and `Prefer`."""
    text = page.read_text("utf-8")
    found = {}
    for section, following in (("Avoid", "Prefer"), ("Prefer", "Why")):
        body = text.split(f"\n{section}\n---", 1)[1].split(f"\n{following}\n---", 1)[0]
        found[section] = {name: textwrap.dedent(block).strip("\n") + "\n"
                          for name, block in _BLOCK.findall(body + "\n")}
    return found
