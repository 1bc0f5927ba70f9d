"""`regkit assess CASE`: what applies, and why."""

from __future__ import annotations

import json
from datetime import date

import click

from regkit.commands.common import (
    assess_file,
    case_argument,
    echo,
    language_option,
    main,
    on_option,
    paint,
    plainly,
    say_day,
)
from regkit.show.text import assessment_lines


@main.command()
@case_argument
@on_option
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@click.option("--all", "everything", is_flag=True, help="Say everything in full.")
@plainly
def assess(case: str, on: date | None, language: str, as_json: bool, everything: bool) -> None:
    """Say what applies to the CASE in a YAML or JSON file, and why."""
    assessment, defaulted = assess_file(case, on)
    say_day(assessment, defaulted)
    if as_json:
        click.echo(json.dumps(assessment.to_dict(language), ensure_ascii=False, indent=2))
    else:
        echo(assessment_lines(assessment, language, paint, everything))
