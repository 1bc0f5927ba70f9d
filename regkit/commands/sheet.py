"""`regkit sheet CASE REQUIREMENT`: a cover sheet; `--before-buying`: what to get before paying."""

from __future__ import annotations

from datetime import date

import click

import regkit
from regkit.commands.common import (
    assess_file,
    case_argument,
    finding_named,
    language_option,
    main,
    on_option,
    plainly,
    ruleset_option,
    say_day,
    sent_option,
    write_whole,
)
from regkit.read.problems import did_you_mean
from regkit.show.cover_sheet import cover_sheet
from regkit.show.handover_sheet import handover_sheet


@main.command()
@case_argument
@click.argument("requirement", required=False)
@click.option("--before-buying", is_flag=True,
              help="A blank sheet instead: what to have the seller hand over before you pay.")
@click.option("--route", default="", help="With --before-buying: the route to take, by its name.")
@on_option
@ruleset_option
@sent_option
@language_option
@click.option("--output", "-o", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write the page to a file; by default it is printed.")
@plainly
def sheet(
    case: str, requirement: str | None, before_buying: bool, route: str, on: date | None,
    folder: str | None, sent: date | None, language: str, output: str | None,
) -> None:
    """Make a page of HTML to print: the cover sheet for the papers of one REQUIREMENT."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    if before_buying:
        page = _before_buying(assessment, route, language)
    elif requirement is None:
        raise ValueError("name the requirement the papers are for, such as "
                         "apply-for-registration, or say --before-buying")
    else:
        packet = assessment.packet(finding_named(assessment, requirement).id, sent)
        page = cover_sheet(assessment, packet, language)
    if output is None:
        click.echo(page)
    else:
        write_whole(output, page)


def _before_buying(assessment: regkit.Assessment, route: str, language: str) -> str:
    try:
        handover = assessment.handover(route)
    except KeyError:
        known = assessment.ruleset.routes
        hint = did_you_mean(route, known) or f"; there are: {', '.join(known) or 'none'}"
        raise ValueError(f"there is no route `{route}`{hint}") from None
    return handover_sheet(assessment, handover, language)
