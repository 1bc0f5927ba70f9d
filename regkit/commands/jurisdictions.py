"""`regkit jurisdictions`: whose rules this version knows."""

from __future__ import annotations

import click

import regkit
from regkit.commands.common import main, plainly
from regkit.language import speaker


@main.command()
@plainly
def jurisdictions() -> None:
    """List the jurisdictions whose rules this version knows."""
    for code in regkit.jurisdictions():
        ruleset = regkit.load(code)
        title = speaker().say(ruleset.title)
        click.echo(f"{code:8}{title}, version {ruleset.version}, {ruleset.digest[:12]}")
