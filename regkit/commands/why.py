"""`regkit why CASE REQUIREMENT`: one finding explained in full."""

from __future__ import annotations

import json
from datetime import date

import click

from regkit.commands.common import (
    assess_file,
    case_argument,
    echo,
    finding_named,
    language_option,
    main,
    on_option,
    paint,
    plainly,
    ruleset_option,
    say_day,
)
from regkit.model.document import finding_document
from regkit.show.text import why_lines


@main.command()
@case_argument
@click.argument("requirement")
@on_option
@ruleset_option
@language_option
@click.option("--json", "as_json", is_flag=True,
              help="Print the finding as JSON, as it stands in the assessment.")
@plainly
def why(
    case: str, requirement: str, on: date | None, folder: str | None, language: str, as_json: bool,
) -> None:
    """Explain the finding on one REQUIREMENT of the CASE in full."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    finding = finding_named(assessment, requirement)
    if as_json:
        document = finding_document(finding, assessment, language)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        echo(why_lines(assessment, finding, language, paint))
