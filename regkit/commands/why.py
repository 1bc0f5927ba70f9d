"""`regkit why CASE REQUIREMENT`: one finding explained in full."""

from __future__ import annotations

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
    say_day,
)
from regkit.show.text import why_lines


@main.command()
@case_argument
@click.argument("requirement")
@on_option
@language_option
@plainly
def why(case: str, requirement: str, on: date | None, language: str) -> None:
    """Explain the finding on one REQUIREMENT of the CASE in full."""
    assessment, defaulted = assess_file(case, on)
    say_day(assessment, defaulted)
    finding = finding_named(assessment, requirement)
    echo(why_lines(assessment, finding, language, paint))
