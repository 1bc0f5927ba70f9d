"""The command line. It uses the public face, and shows.

Exit codes: 0 the command did what was asked; 2 something that was given is wrong (a file, a name,
a day), with one sentence for each thing; nothing was half-read.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from datetime import date
from functools import wraps
from typing import Any

import click

import regkit
from regkit.language import speaker
from regkit.model.assessment import Outcome, Verdict
from regkit.show.facts import fact_lines
from regkit.show.text import assessment_lines, why_lines

COLOURS = {
    Verdict.REQUIRED: "yellow", Verdict.UNDECIDED: "cyan", Verdict.NOT_REQUIRED: "green",
    Outcome.YES: "green", Outcome.NO: None, Outcome.UNDECIDED: "cyan",
}


def _paint(text: str, meaning: Verdict | Outcome) -> str:
    return click.style(text, fg=COLOURS[meaning])


def _day(_: click.Context, __: click.Parameter, written: str | None) -> date | None:
    if written is None:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError as wrong:
        raise click.BadParameter(f"{written!r} is no day; write for example 2026-04-01") from wrong


def _plainly(command: Callable[..., None]) -> Callable[..., None]:
    """Turn errors that are for people into their sentences and exit code 2."""

    @wraps(command)
    def run(*arguments: Any, **options: Any) -> None:
        try:
            command(*arguments, **options)
        except regkit.Unreadable as wrong:
            for problem in wrong.problems:
                click.echo(str(problem), err=True)
            sys.exit(2)
        except (ImportError, ValueError) as wrong:
            click.echo(str(wrong), err=True)
            sys.exit(2)

    return run


def _echo(lines: Iterable[str]) -> None:
    for line in lines:
        click.echo(line)


_on = click.option("--on", callback=_day, metavar="DAY",
                   help="The day of assessment, such as 2026-04-01.")
_language = click.option("--language", default="en", show_default=True,
                         help="The language of the output, ISO 639-1.")


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(regkit.__version__, prog_name="regkit")
def main() -> None:
    """What it takes to get one old vehicle lawfully onto the register, and why.

    Exit codes: 0 done as asked; 2 something given is wrong.
    """


@main.command()
@click.argument("case", type=click.Path(dir_okay=False))
@_on
@_language
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@click.option("--all", "everything", is_flag=True, help="Say everything in full.")
@_plainly
def assess(case: str, on: date | None, language: str, as_json: bool, everything: bool) -> None:
    """Say what applies to the CASE in a YAML or JSON file, and why."""
    assessment, defaulted = _assess(case, on)
    if as_json:
        document = assessment.to_dict(language)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return
    if defaulted:
        click.echo(f"(no day was given: today, {assessment.on}, is taken)")
    _echo(assessment_lines(assessment, language, _paint, everything))


@main.command()
@click.argument("case", type=click.Path(dir_okay=False))
@click.argument("requirement")
@_on
@_language
@_plainly
def why(case: str, requirement: str, on: date | None, language: str) -> None:
    """Explain the finding on one REQUIREMENT of the CASE in full."""
    assessment, _ = _assess(case, on)
    try:
        finding = assessment.finding(requirement)
    except KeyError:
        from regkit.read.problems import did_you_mean

        names = assessment.ruleset.requirements
        raise ValueError(f"there is no requirement `{requirement}`"
                         f"{did_you_mean(requirement, names)}") from None
    _echo(why_lines(assessment, finding, language, _paint))


@main.command()
@click.argument("jurisdiction")
@_language
@_plainly
def facts(jurisdiction: str, language: str) -> None:
    """List what may be told about a case in a JURISDICTION, as questions."""
    _echo(fact_lines(regkit.load(jurisdiction), language))


@main.command()
@_plainly
def jurisdictions() -> None:
    """List the jurisdictions whose rules this version knows."""
    for code in regkit.jurisdictions():
        ruleset = regkit.load(code)
        title = speaker().say(ruleset.title)
        click.echo(f"{code:8}{title}, version {ruleset.version}, {ruleset.digest[:12]}")


def _assess(case: str, on: date | None) -> tuple[regkit.Assessment, bool]:
    """Return the assessment of a case file, and whether today had to stand in for its day."""
    read = regkit.read_case(case)
    day = on or read.on
    chosen = day if day is not None else date.today()
    ruleset = regkit.load(read.jurisdiction)
    return regkit.assess(read, ruleset, chosen), day is None
