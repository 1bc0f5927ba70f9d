"""`regkit ahead CASE --until DAY`: what changes by itself as days pass."""

from __future__ import annotations

import json
from dataclasses import replace
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
    read_day,
    ruleset_option,
    say_day,
)
from regkit.compare.ahead import ahead as look_ahead
from regkit.compare.ahead import first_day_not_required
from regkit.language import phrase, speaker
from regkit.model.ahead_document import ahead_document
from regkit.read.problems import did_you_mean
from regkit.show.ahead_text import ahead_lines


@main.command()
@case_argument
@click.option("--until", callback=read_day, metavar="DAY", required=True,
              help="The last day to look at, such as 2036-12-31.")
@on_option
@ruleset_option
@click.option("--about", metavar="NAME",
              help="Only changes of this requirement, class or charge.")
@click.option("--stops", metavar="REQUIREMENT",
              help="From which day on is it not required? Answers that alone.")
@language_option
@click.option("--json", "as_json", is_flag=True, help="Print JSON; its schema is published.")
@plainly
def ahead(
    case: str, until: date, on: date | None, folder: str | None, about: str | None,
    stops: str | None, language: str, as_json: bool,
) -> None:
    """Say on which days, up to a last one, the answers on the CASE change by themselves."""
    assessment, defaulted = assess_file(case, on, folder)
    say_day(assessment, defaulted, language)
    ruleset, told, first = assessment.ruleset, assessment.case, assessment.on
    if stops is not None:
        name = _known(stops, tuple(ruleset.requirements))
        day = first_day_not_required(told, ruleset, name, first, until)
        title = ruleset.requirements[name].latest.title
        says = phrase("{title}: not required from {day} on", title=title, day=day) if day else (
            phrase("{title}: required, or not settled, up to {day}", title=title, day=until))
        click.echo(speaker(language).say(says))
        return
    found = look_ahead(told, ruleset, first, until)
    if about is not None:
        name = _known(about, (*ruleset.requirements, *ruleset.definitions, *ruleset.charges))
        found = replace(found, changes=found.about(name))
    if as_json:
        click.echo(json.dumps(ahead_document(found, ruleset, language), ensure_ascii=False,
                              indent=2))
    else:
        echo(ahead_lines(found, ruleset, language))


def _known(name: str, names: tuple[str, ...]) -> str:
    if name not in names:
        raise ValueError(f"the ruleset has no `{name}`{did_you_mean(name, names)}")
    return name
