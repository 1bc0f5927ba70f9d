"""`regkit facts JURISDICTION`: what may be told about a case."""

from __future__ import annotations

import click

from regkit.commands.common import echo, language_option, main, plainly, ruleset_named
from regkit.show.facts import fact_lines


@main.command()
@click.argument("jurisdiction")
@language_option
@plainly
def facts(jurisdiction: str, language: str) -> None:
    """List what may be told about a case in a JURISDICTION (a code, or a folder), as questions."""
    echo(fact_lines(ruleset_named(jurisdiction), language))
