"""`regkit bill CASE`: what each route costs, line by line."""

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
    ruleset_option,
    say_day,
)
from regkit.model.bill_document import bills_document
from regkit.show.bill_text import bill_lines


@main.command()
@case_argument
@on_option
@ruleset_option
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@plainly
def bill(case: str, on: date | None, folder: str | None, language: str, as_json: bool) -> None:
    """Reckon what the CASE costs on each route: fees, duty, tax, penalties for lateness."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    if as_json:
        document = bills_document(assessment.bills, language)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        echo(bill_lines(assessment.bills, language))
