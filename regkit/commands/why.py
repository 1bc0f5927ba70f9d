"""`regkit why CASE REQUIREMENT`: one finding explained in full."""

from __future__ import annotations

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
from regkit.read.problems import did_you_mean
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
    try:
        finding = assessment.finding(requirement)
    except KeyError:
        hint = did_you_mean(requirement, assessment.ruleset.requirements)
        raise ValueError(f"there is no requirement `{requirement}`{hint}") from None
    echo(why_lines(assessment, finding, language, paint))
