"""`regkit packet CASE REQUIREMENT`: which papers meet which need, and what is missing."""

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
    plainly,
    ruleset_option,
    say_day,
    sent_option,
)
from regkit.model.packet_document import packet_document
from regkit.show.packet_text import packet_lines


@main.command()
@case_argument
@click.argument("requirement")
@on_option
@ruleset_option
@sent_option
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@click.option("--all", "everything", is_flag=True, help="Show what is not needed too.")
@plainly
def packet(
    case: str, requirement: str, on: date | None, folder: str | None, sent: date | None,
    language: str, as_json: bool, everything: bool,
) -> None:
    """Check the papers of the CASE for one REQUIREMENT: what is missing, stale or contradicts."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    made = assessment.packet(finding_named(assessment, requirement).id, sent)
    if as_json:
        document = packet_document(made, language)
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
    else:
        echo(packet_lines(made, language, everything))
