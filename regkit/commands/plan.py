"""`regkit plan CASE`: in which order, by when, and what waits for what."""

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
    plainly,
    say_day,
)
from regkit.model.plan_document import plan_document
from regkit.show.plan_text import plan_lines


@main.command()
@case_argument
@on_option
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@plainly
def plan(case: str, on: date | None, language: str, as_json: bool) -> None:
    """Put the steps of the CASE in order: what now, what waits for what, by when."""
    assessment, defaulted = assess_file(case, on)
    say_day(assessment, defaulted)
    if as_json:
        click.echo(json.dumps(plan_document(assessment, language), ensure_ascii=False, indent=2))
    else:
        echo(plan_lines(assessment, language))
