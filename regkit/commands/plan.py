"""`regkit plan CASE`: in which order, by when, and what waits for what."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from regkit.commands.common import (
    assess_file,
    case_argument,
    echo,
    language_option,
    main,
    on_option,
    plainly,
    read_day,
    ruleset_option,
    say_day,
    write_whole,
)
from regkit.compare.ahead import ahead as look_ahead
from regkit.model.plan_document import plan_document
from regkit.show.calendar_file import calendar_file
from regkit.show.plan_text import plan_lines
from regkit.show.timeline import timeline as draw_timeline


@main.command()
@case_argument
@on_option
@ruleset_option
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@click.option("--calendar", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write last days, steps and changes as an iCalendar file instead.")
@click.option("--timeline", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write a picture of it as an SVG file instead.")
@click.option("--until", callback=read_day, metavar="DAY",
              help="In calendar and timeline: also what changes by itself up to this day.")
@click.option("--name", default="",
              help="What the calendar calls this case; by default the file's name. Keep it, and a "
                   "newer calendar updates the entries of an older one.")
@plainly
def plan(
    case: str, on: date | None, folder: str | None, language: str, as_json: bool,
    calendar: str | None, timeline: str | None, until: date | None, name: str,
) -> None:
    """Put the steps of the CASE in order: what now, what waits for what, by when."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    ahead = None if until is None else look_ahead(
        assessment.case, assessment.ruleset, assessment.on, until)
    if calendar is not None:
        key = name or Path(case).stem
        write_whole(calendar, calendar_file(assessment, key, ahead, language).decode())
    if timeline is not None:
        write_whole(timeline, draw_timeline(assessment, ahead, language))
    if calendar is not None or timeline is not None:
        return
    if as_json:
        click.echo(json.dumps(plan_document(assessment, language), ensure_ascii=False, indent=2))
    else:
        echo(plan_lines(assessment, language))
