"""`regkit release JURISDICTION`: freeze a version of a ruleset, with the notice of its changes."""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

import click

from regkit.commands.common import main, plainly, read_day, ruleset_folder, write_whole
from regkit.keep.release import Release, release
from regkit.show.changes_markdown import changes_markdown

_HEAD = "# Notice of change\n\nComputed from the frozen copies beside it.\n"


@main.command(name="release")
@click.argument("jurisdiction")
@click.option("--today", callback=read_day, metavar="DAY", help="The day of the release.")
@click.option("--dry-run", is_flag=True, help="Say what would be written, and write nothing.")
@plainly
def release_command(jurisdiction: str, today: date | None, dry_run: bool) -> None:
    """Freeze the ruleset of a JURISDICTION as it stands, under the version its head names.

    Refused if a check or a worked example fails, or if the version did not move. The notice of
    what changed is written beside the frozen copy.
    """
    folder = ruleset_folder(jurisdiction)
    made = release(folder, today or date.today())
    notice = _notice(made)
    if not dry_run:
        made.file.parent.mkdir(exist_ok=True)
        write_whole(str(made.file), made.copy)
        digests = made.file.parent / "DIGESTS"
        listed = digests.read_text("utf-8") if digests.exists() else ""
        own = hashlib.sha256(made.copy.encode()).hexdigest()
        write_whole(str(digests), f"{listed}{own}  {made.file.name}\n")
        write_whole(str(made.file.with_name(f"{made.name}.md")), f"{_HEAD}\n{notice}")
    click.echo(notice, nl=False)
    click.echo(f"{made.name} {'would be' if dry_run else 'is'} written to {Path(made.file)}",
               err=True)


def _notice(made: Release) -> str:
    if made.changes is None:
        return f"## {made.name}\n\nThe first released version.\n"
    return changes_markdown(made.changes)
