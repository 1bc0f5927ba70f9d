"""`regkit follow JOURNAL …`: follow open cases from day to day."""

from __future__ import annotations

from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import click

from regkit.commands.common import (
    main,
    plainly,
    read_case_file,
    ruleset_option,
    ruleset_place,
)
from regkit.follow import (
    CaseOpened,
    DayPassed,
    Event,
    FactLearnt,
    Follower,
    PaperReceived,
    StepDone,
)
from regkit.read.text import read_file


@main.group()
def follow() -> None:
    """Follow open cases: tell what happens, hear what is due soon, overdue, possible or changed.

    All cases stand in one JOURNAL, a file to which lines are only added. Run `day` once a day.
    """


journal = click.argument("journal", type=click.Path(dir_okay=False, path_type=Path))
case = click.argument("case")


def _take(path: Path, event: Event) -> None:
    with closing(Follower(path, lambda notice: click.echo(str(notice)))) as follower:
        follower.take(event)


@follow.command("open")
@journal
@case
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@ruleset_option
@plainly
def open_case(journal: Path, case: str, file: Path, folder: str | None) -> None:
    """Follow the case in a FILE from now on, under the name CASE.

    The journal keeps where the ruleset is; its folder must stay there.
    """
    read_case_file(str(file), folder)
    data: dict[str, Any] = {key: value for key, value in read_file(file).data.items()
                            if key != "on"}
    _take(journal, CaseOpened(case, data, ruleset_place(folder)))


@follow.command()
@journal
@case
@click.argument("fact")
@click.argument("value")
@plainly
def learn(journal: Path, case: str, fact: str, value: str) -> None:
    """Tell a FACT of a CASE, such as vehicle.built 1962."""
    _take(journal, FactLearnt(case, fact, value))


@follow.command()
@journal
@case
@click.argument("evidence")
@click.option("--dated", help="The day it was issued.")
@click.option("--as", "form", help="original, certified copy or copy.")
@click.option("--reference", help="Its number or mark.")
@plainly
def paper(
    journal: Path, case: str, evidence: str, dated: str | None, form: str | None,
    reference: str | None,
) -> None:
    """Tell that a paper has come, by its name in the ruleset."""
    more = {"dated": dated, "as": form, "reference": reference}
    _take(journal, PaperReceived(case, {
        "evidence": evidence, **{key: value for key, value in more.items() if value}}))


@follow.command()
@journal
@case
@click.argument("requirement")
@click.argument("on")
@click.option("--reference", default="", help="The reference it was given.")
@plainly
def done(journal: Path, case: str, requirement: str, on: str, reference: str) -> None:
    """Tell that a REQUIREMENT was met ON a day, such as 2026-03-12."""
    _take(journal, StepDone(case, requirement, on, reference))


@follow.command()
@journal
@click.argument("day", required=False)
@plainly
def day(journal: Path, day: str | None) -> None:
    """Tell that it is a DAY now; by default today."""
    _take(journal, DayPassed(day or date.today().isoformat()))
