"""`regkit replay ASSESSMENT`: run an old assessment again, and say what differs."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path
from typing import Any

import click

import regkit
from regkit.commands.common import main, plainly, ruleset_named
from regkit.compare.replay import Difference, differences
from regkit.language import spoken
from regkit.read.released import released_versions
from regkit.show.changes_text import short

ANSWERS = ("verdict", "outcome")


@main.command()
@click.argument("assessment", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--now", is_flag=True, help="Use today's ruleset instead of the one recorded.")
@click.option("--ruleset", "folder", metavar="FOLDER",
              help="The folder of the ruleset it was made by, if that is none of the shipped ones.")
@plainly
def replay(assessment: Path, now: bool, folder: str | None) -> None:
    """Run a saved ASSESSMENT (JSON) again from the frozen copy of its ruleset.

    Exit codes: 0 identical; 1 something differs; 2 something given is wrong.
    """
    before = _read(assessment)
    recorded = before["ruleset"]
    name = f"{recorded['jurisdiction']}@{recorded['version']}"
    frozen = folder is None and name in released_versions()
    ruleset = regkit.load(recorded["jurisdiction"] if now or not frozen else name) if (
        folder is None) else ruleset_named(folder)
    if not now and ruleset.digest != recorded["digest"]:
        raise ValueError(_no_copy(name, frozen, recorded["digest"], ruleset.digest))
    case = regkit.read_case(before["case"], ruleset)
    answer = regkit.assess(case, ruleset, date.fromisoformat(before["on"]))
    # Words differ from a language that is spoken no more; the answers can be compared all the same.
    after = json.loads(json.dumps(answer.to_dict(spoken(str(before["language"])) or "en")))
    found = list(differences(before, after))
    if not found:
        click.echo(f"identical: {name} {recorded['digest'][:12]}, law of {before['on']}")
        return
    for line in _lines(found, before, ruleset, now):
        click.echo(line)
    sys.exit(1)


def _read(file: Path) -> dict[str, Any]:
    try:
        data = json.loads(file.read_text("utf-8"))
        if data["format"] != 1 or not {"ruleset", "on", "case", "language"} <= data.keys():
            raise KeyError
    except (ValueError, KeyError, TypeError) as wrong:
        raise ValueError(f"{file} is no assessment; save one with regkit assess CASE --json "
                         "> FILE") from wrong
    return dict(data)


def _no_copy(name: str, frozen: bool, recorded: str, found: str) -> str:
    if frozen:
        return (f"{name} was released with digest {found[:12]}, but the assessment was made with "
                f"{recorded[:12]}: with a version that was not yet released. Try --now.")
    return (f"{name} was never released, and today's ruleset has another digest ({found[:12]}, "
            f"not {recorded[:12]}), so it cannot be replayed exactly. Try --now.")


def _lines(
    found: list[Difference], before: dict[str, Any], ruleset: regkit.Ruleset, now: bool
) -> list[str]:
    answers = [one for one in found if one.where.rsplit(".", 1)[-1] in ANSWERS
               and one.where.count(".") == 2]
    lines = []
    if now:
        lines.append(f"today's ruleset is {ruleset.jurisdiction}@{ruleset.version} "
                     f"{ruleset.digest[:12]}, the recorded one {before['ruleset']['version']} "
                     f"{before['ruleset']['digest'][:12]}")
    engine = before.get("engine")
    if engine != regkit.__version__:
        lines.append(f"it was made with regkit {engine}, this is {regkit.__version__}")
    lines.append(f"{len(answers)} answers differ" if answers else "every answer is the same")
    lines += [f"  {_place(one.where)}: {one.before} → {one.after}" for one in answers]
    others = [one for one in found if one not in answers and not one.where.startswith("ruleset")]
    if others:
        lines.append(f"{len(others)} other places differ:")
        lines += [f"  {one.where}: {short(one.before, 60)} → {short(one.after, 60)}"
                  for one in others[:40]]
    return lines


def _place(where: str) -> str:
    return where.split(".")[1]
