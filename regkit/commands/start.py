"""`regkit start CODE`: a folder for a new jurisdiction that passes at once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from regkit.commands.common import main, plainly, read_day
from regkit.keep.start import start as write_folder


@main.command()
@click.argument("code")
@click.option("--in", "where", type=click.Path(file_okay=False), default=".", show_default=True,
              metavar="FOLDER", help="Where to write the folder.")
@click.option("--on", callback=read_day, metavar="DAY",
              help="The day you begin; by default today.")
@plainly
def start(code: str, where: str, on: date | None) -> None:
    """Write the folder of a new ruleset for a jurisdiction, by its ISO 3166 CODE."""
    folder = write_folder(code, Path(where), on or date.today())
    click.echo(f"{folder} is written, and passes: regkit check {folder}\n"
               f"What is still to do in it: regkit check {folder} --level to-do\n"
               "Begin with ruleset.yaml and sources.yaml; the guide is docs/maintaining.rst")
