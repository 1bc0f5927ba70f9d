"""`regkit read JURISDICTION`: the whole ruleset as one page to read, print and sign."""

from __future__ import annotations

from datetime import date

import click

from regkit.commands.common import (
    language_option,
    main,
    plainly,
    read_day,
    ruleset_named,
    write_whole,
)
from regkit.keep.outline import outline
from regkit.show.ruleset_page import ruleset_page


@main.command()
@click.argument("jurisdiction")
@click.option("--on", callback=read_day, metavar="DAY",
              help="The day as of which to say what is in force; by default today.")
@language_option
@click.option("--output", "-o", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write the page to a file; by default it is printed.")
@plainly
def read(jurisdiction: str, on: date | None, language: str, output: str | None) -> None:
    """Make a page of HTML of all rules of a JURISDICTION: its code, or the folder of a ruleset."""
    ruleset = ruleset_named(jurisdiction)
    page = ruleset_page(ruleset, on or date.today(),
                        lambda when, edition: outline(when, edition, ruleset), language)
    if output is None:
        click.echo(page)
    else:
        write_whole(output, page)
