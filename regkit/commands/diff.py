"""`regkit diff OLD NEW`: what differs between two versions, or between the law of two days."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from regkit.commands.common import echo, language_option, main, plainly, read_day, write_whole
from regkit.compare.changes import as_of, compare
from regkit.model.case import Case
from regkit.model.changes import Changes
from regkit.model.changes_document import changes_document
from regkit.model.ruleset import Ruleset
from regkit.read.case import read_case
from regkit.read.sides import ReadSide, read_side
from regkit.show.changes_markdown import changes_markdown
from regkit.show.changes_picture import changes_picture
from regkit.show.changes_text import changes_lines

YEARS_AHEAD = 20
FORMS = ("text", "json", "markdown", "svg")


@main.command()
@click.argument("old")
@click.argument("new", required=False)
@click.option("--law", nargs=2, metavar="DAY DAY", help="Compare the law of two days of one side.")
@click.option("--from", "first", callback=read_day, metavar="DAY",
              help="The first day of assessment compared.")
@click.option("--to", "last", callback=read_day, metavar="DAY", help="The last one.")
@click.option("--today", callback=read_day, metavar="DAY",
              help="The day 'from now on' counts from.")
@click.option("--cases", type=click.Path(exists=True, path_type=Path),
              help="A case file, or a folder of them, to answer on both sides.")
@click.option("--form", type=click.Choice(FORMS), default="text", show_default=True)
@click.option("--save", type=click.Path(file_okay=False, path_type=Path), metavar="FOLDER",
              help="Write a case file for each region, to assess on both sides.")
@click.option("--all", "everything", is_flag=True, help="List every region.")
@language_option
@plainly
def diff(
    old: str, new: str | None, law: tuple[str, str] | None, first: date | None,
    last: date | None, today: date | None, cases: Path | None, form: str, save: Path | None,
    everything: bool, language: str,
) -> None:
    """Say what differs between OLD and NEW: for which vehicles, on which days, and why.

    A side is a folder, a jurisdiction (GB), a released version (GB@2026.1) or a git revision
    (GB@HEAD~1). With --law, OLD alone is given, and the law of two days is compared.
    """
    now = today or date.today()
    if law is not None:
        changes = _law_days(old, new, law, first, last, now, cases)
    elif new is None:
        raise ValueError("one side is missing; give OLD and NEW, or --law and two days")
    else:
        sides = read_side(old), read_side(new)
        begin = first or min(side.ruleset.known_from or date(1990, 1, 1) for side in sides)
        end = last or max(begin, date(now.year + YEARS_AHEAD, 12, 31))
        changes = _compared(sides, begin, end, now, cases)
    if save is not None:
        click.echo(f"{_saved(changes, save)} cases written to {save}", err=True)
    _print(changes, form, language, everything)


def _law_days(
    old: str, new: str | None, law: tuple[str, str], first: date | None, last: date | None,
    now: date, cases: Path | None,
) -> Changes:
    if new is not None:
        raise ValueError("with --law there is one side only; leave NEW out")
    days = [date.fromisoformat(day) for day in law]
    side = read_side(old)
    sides = tuple(
        ReadSide(f"{side.label}, law of {day}", as_of(side.ruleset, day), {}) for day in days
    )
    begin = first or max(days)
    return _compared((sides[0], sides[1]), begin, last or date(begin.year + 10, 12, 31), now,
                     cases)


def _compared(
    sides: tuple[ReadSide, ReadSide], first: date, last: date, now: date, cases: Path | None
) -> Changes:
    old, new = sides
    files = _files(cases) if cases else []
    return compare(
        old.ruleset, new.ruleset, first, last, now,
        written=(old.written, new.written), labels=(old.label, new.label),
        cases=list(_read_cases(files, old.ruleset, new.ruleset, now)),
    )


def _files(cases: Path) -> list[Path]:
    if cases.is_file():
        return [cases]
    return sorted(file for file in cases.iterdir() if file.suffix in (".yaml", ".json"))


def _read_cases(
    files: list[Path], old: Ruleset, new: Ruleset, now: date
) -> Iterator[tuple[str, date, Case, Case]]:
    for file in files:
        one, other = read_case(file, old), read_case(file, new)
        yield file.name, one.on or now, one, other


def _print(changes: Changes, form: str, language: str, everything: bool) -> None:
    if form == "json":
        document = changes_document(changes, language)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    elif form == "markdown":
        click.echo(changes_markdown(changes, language), nl=False)
    elif form == "svg":
        click.echo(changes_picture(changes, language), nl=False)
    else:
        echo(changes_lines(changes, language, everything))


def _saved(changes: Changes, folder: Path) -> int:
    """Write the witness of each region as a case file; return how many."""
    folder.mkdir(parents=True, exist_ok=True)
    count = 0
    for effect in changes.effects:
        for number, region in enumerate(effect.regions, 1):
            if region.witness is not None:
                count += 1
                case = {
                    "jurisdiction": changes.new.jurisdiction,
                    "title": f"{effect.kind} {effect.id}: {region.before} → {region.after}",
                    "on": region.witness.on.isoformat(),
                    "facts": dict(region.witness.facts),
                }
                name = f"{count:03}-{effect.kind}-{effect.id}-{number}.json"
                text = json.dumps(case, ensure_ascii=False, indent=2) + "\n"
                write_whole(str(folder / name), text)
    return count
