"""`regkit assess CASE`: what applies, and why."""

from __future__ import annotations

import json
from datetime import date

import click

import regkit
from regkit.commands.common import (
    assess_carried,
    assess_file,
    case_argument,
    echo,
    language_option,
    main,
    on_option,
    paint,
    plainly,
    read_codes,
    read_day,
    ruleset_option,
    say_day,
    write_whole,
)
from regkit.compare.ahead import ahead as look_ahead
from regkit.language import speaker
from regkit.model.carried import Across, Carried
from regkit.model.carried_document import across_document, carried_document
from regkit.show.carried_text import across_lines, carried_lines
from regkit.show.report import report
from regkit.show.text import assessment_lines


@main.command()
@case_argument
@on_option
@ruleset_option
@language_option
@click.option("--jurisdiction", "codes", callback=read_codes, metavar="CODES",
              help="Whose rules count instead of the case's own, such as IE, or the folder of a "
                   "ruleset; several, such as DE,SE,IE, are compared.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@click.option("--html", type=click.Path(dir_okay=False), is_flag=False, flag_value="-",
              metavar="[FILE]", help="Write a page instead, to read, to print and to keep: one "
              "file of HTML; to the output if none is named.")
@click.option("--until", callback=read_day, metavar="DAY",
              help="With --html: also what changes by itself up to this day.")
@click.option("--all", "everything", is_flag=True, help="Say everything in full.")
@plainly
def assess(
    case: str, on: date | None, folder: str | None, language: str, codes: tuple[str, ...],
    as_json: bool, html: str | None, until: date | None, everything: bool,
) -> None:
    """Say what applies to the CASE in a YAML or JSON file, and why."""
    if html is not None and (as_json or len(codes) > 1):
        raise ValueError("--html writes the report of one country; leave --json out, and name one "
                         "jurisdiction at most")
    if until is not None and html is None:
        raise ValueError("--until adds to the report; name its file with --html, or see "
                         "regkit ahead")
    if codes:
        found, defaulted = assess_carried(case, codes, on, folder)
        say_day(found.countries[0].assessment, defaulted, language)
        if html is not None:
            (country,) = found.countries
            _write_report(html, country.assessment, language, until, country.carried)
        else:
            _show_carried(found, language, as_json, everything)
        return
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    if html is not None:
        _write_report(html, assessment, language, until)
    elif as_json:
        click.echo(json.dumps(assessment.to_dict(language), ensure_ascii=False, indent=2))
    else:
        echo(assessment_lines(assessment, language, paint, everything))


def _write_report(
    file: str, assessment: regkit.Assessment, language: str, until: date | None,
    carried: Carried | None = None,
) -> None:
    """Write the report; an old file stays until the new one is complete. A dash is the output."""
    ahead = None if until is None else look_ahead(
        assessment.case, assessment.ruleset, assessment.on, until)
    page = report(assessment, language, ahead, carried)
    if file == "-":
        click.echo(page, nl=False)
    else:
        write_whole(file, page)


def _show_carried(found: Across, language: str, as_json: bool, everything: bool) -> None:
    """Show one country in full, several side by side."""
    if len(found.countries) > 1:
        if as_json:
            document = across_document(found, language)
            click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        else:
            echo(across_lines(found, language))
        return
    (country,) = found.countries
    if as_json:
        document = country.assessment.to_dict(language)
        document["carried"] = carried_document(country.carried, speaker(language))
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return
    echo(assessment_lines(country.assessment, language, paint, everything))
    echo(carried_lines(country.carried, language))
