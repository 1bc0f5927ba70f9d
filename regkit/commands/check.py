"""`regkit check PATH`: everything that is wrong with a ruleset, and what is still to do."""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

import regkit
from regkit.commands.common import main, plainly, read_day, ruleset_folder, write_whole
from regkit.keep.lint import Level, Remark, Report, lint
from regkit.keep.mend import mend
from regkit.keep.sarif import sarif

_LEVELS = click.Choice([level.value for level in Level])


@main.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option("--level", type=_LEVELS, default=Level.WARNING.value, show_default=True,
              help="Show remarks of this level and above; of those below only how many.")
@click.option("--fail-at", type=_LEVELS, default=Level.ERROR.value, show_default=True,
              help="Exit with 1 if there is a remark of this level or above.")
@click.option("--fix", is_flag=True, help="Put right what is mechanical; comments stay.")
@click.option("--format", "form", type=click.Choice(["text", "json", "sarif"]), default="text",
              show_default=True, help="sarif: for code hosts, which then show remarks in place.")
@click.option("--output", "-o", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write to a file; by default it is printed.")
@click.option("--on", callback=read_day, metavar="DAY",
              help="The day of the check, for what is overdue; by default today.")
@plainly
def check(
    paths: tuple[str, ...], level: str, fail_at: str, fix: bool, form: str, output: str | None,
    on: date | None,
) -> None:
    """Check the rulesets in folders, or by their codes: files, rules, and worked examples.

    Exit codes: 0 nothing of the level of --fail-at or above; 1 something; 2 something given is
    wrong.
    """
    day = on or date.today()
    folders = [ruleset_folder(path) for path in paths]
    reports = [lint(folder, day) for folder in folders]
    mended: list[Remark] = []
    if fix:
        for at, report in enumerate(reports):
            done = mend(report)
            mended += done
            reports[at] = lint(report.folder, day) if done else report
    text = _written(reports, mended, Level(level), form)
    if output is None:
        click.echo(text)
    else:
        write_whole(output, f"{text}\n")
    if any(report.at_least(Level(fail_at)) for report in reports):
        sys.exit(1)


def _written(reports: list[Report], mended: list[Remark], level: Level, form: str) -> str:
    if form == "sarif":
        return json.dumps(sarif(reports, regkit.__version__, _shown), ensure_ascii=False, indent=2)
    if form == "json":
        return json.dumps([
            {"ruleset": str(_shown(report.folder)),
             "remarks": [{**remark.to_dict(), "file": str(_shown(report.path(remark)))}
                         for remark in report.remarks]}
            for report in reports
        ], ensure_ascii=False, indent=2)
    lines = [f"mended: {remark.file}:{remark.line}: [{remark.code}] {remark.text}"
             for remark in mended]
    for report in reports:
        lines += _lines(report, level)
    return "\n".join(lines)


def _lines(report: Report, level: Level) -> Iterator[str]:
    for remark in report.at_least(level):
        place = f"{_shown(report.path(remark))}:{remark.line}"
        right = f"; {remark.right}" if remark.right else ""
        yield f"{place}: {remark.level.value} [{remark.code}] {remark.text}{right}"
    rest = Counter(r.code for r in report.remarks if r.level.rank > level.rank)
    if rest:
        counted = ", ".join(f"{count} {code}" for code, count in sorted(rest.items()))
        yield f"{_shown(report.folder)}: not shown: {counted} (see them with --level to-do)"
    yield f"{_shown(report.folder)}: {_summary(report)}"


def _summary(report: Report) -> str:
    counted = Counter(remark.level for remark in report.remarks)
    said = ", ".join(_count(counted[level], level.value) for level in Level)
    if report.ruleset is None:
        return f"{said}; it does not load, so its rules and examples were not looked at"
    ran = len(report.ruleset.examples)
    return f"{said}; {_count(ran, 'worked example')} run"


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def _shown(path: Path) -> Path:
    """Return a path as seen from here, where it lies below."""
    try:
        return path.resolve().relative_to(Path.cwd())
    except ValueError:
        return path
