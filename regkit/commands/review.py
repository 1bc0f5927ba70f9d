"""`regkit review`: the sources to look at again, worst first; also as a calendar."""

from __future__ import annotations

from datetime import date, timedelta

import click

import regkit
from regkit.commands.common import echo, main, plainly, read_day, ruleset_folder, write_whole
from regkit.keep.review import review as look_again
from regkit.keep.review import review_calendar, review_lines

_EVER = 36_500


@main.command()
@click.argument("paths", nargs=-1, metavar="[PATH]...")
@click.option("--ahead", type=click.IntRange(0, _EVER), metavar="DAYS",
              help="How many days ahead to look; by default 90, for a calendar all.")
@click.option("--calendar", type=click.Path(dir_okay=False), metavar="FILE",
              help="Write the days to look again as an iCalendar file instead; of one ruleset.")
@click.option("--on", callback=read_day, metavar="DAY",
              help="The day of the review; by default today.")
@plainly
def review(
    paths: tuple[str, ...], ahead: int | None, calendar: str | None, on: date | None
) -> None:
    """List the sources of rulesets that are to be looked at again, the longest overdue first.

    A PATH is a folder or the code of a shipped ruleset; without one, all that are shipped.
    """
    day = on or date.today()
    rulesets = [regkit.load(ruleset_folder(path)) for path in paths or regkit.jurisdictions()]
    if calendar is not None:
        if len(rulesets) > 1:
            raise ValueError("a calendar is of one ruleset; name one folder or code")
        dues = look_again(rulesets[0], day, _EVER if ahead is None else ahead)
        write_whole(calendar, review_calendar(rulesets[0], dues, day).decode())
        return
    ahead = 90 if ahead is None else ahead
    found = [(ruleset, due) for ruleset in rulesets for due in look_again(ruleset, day, ahead)]
    for ruleset, due in sorted(found, key=lambda pair: -pair[1].days):
        lines = list(review_lines(due))
        echo([f"{ruleset.jurisdiction}  {lines[0]}", *lines[1:], ""])
    overdue = sum(due.days > 0 for _, due in found)
    click.echo(f"{len(found)} to look at up to {day + timedelta(days=ahead)}; {overdue} overdue")
