"""`regkit compare CASE CASE …`: scenarios side by side."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from regkit.commands.common import (
    assess_file,
    echo,
    language_option,
    main,
    on_option,
    plainly,
    ruleset_option,
    say_day,
)
from regkit.compare.scenarios import scenarios
from regkit.show.scenarios_text import scenario_lines


@main.command()
@click.argument("cases", metavar="CASE...", nargs=-1, type=click.Path(dir_okay=False),
                required=True)
@on_option
@ruleset_option
@language_option
@plainly
def compare(cases: tuple[str, ...], on: date | None, folder: str | None, language: str) -> None:
    """Set two or more CASEs side by side: what differs, by when, at what cost, and why."""
    read = [assess_file(case, on, folder) for case in cases]
    for assessment, defaulted in read:
        say_day(assessment, defaulted, language)
    names = [Path(case).stem for case in cases]
    echo(scenario_lines(scenarios(names, [assessment for assessment, _ in read]), language))
