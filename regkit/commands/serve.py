"""`regkit serve`: the web adapter alone, on this machine or behind a proxy."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import click

from regkit.commands.common import main, plainly, read_codes


@main.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="The address to listen on.")
@click.option("--port", default=8000, show_default=True, type=click.IntRange(0, 65535),
              help="The port to listen on.")
@click.option("--jurisdictions", "codes", callback=read_codes, metavar="CODES",
              help="Whose rules are offered, such as GB,IE; by default all.")
@click.option("--language", default="en", show_default=True,
              help="For visitors none of whose languages is spoken here.")
@click.option("--frame-ancestor", "ancestors", multiple=True, metavar="SITE",
              help="A site that may show the pages in a frame, such as https://club.example.")
@click.option("--keys", type=click.Path(dir_okay=False, path_type=Path), metavar="FILE",
              help="A file of keys, one a line, the newest first, that seal the addresses of "
                   "pages. Without it, such addresses end with this process.")
@click.option("--days", default=14, show_default=True, type=click.IntRange(1, 3650),
              help="For how many days the address of a page can be opened.")
@click.option("--rate", default=4.0, show_default=True, type=click.FloatRange(0),
              help="How many requests a second one client may make for long; 0 for no limit.")
@click.option("--workers", default=1, show_default=True, type=click.IntRange(1, 64),
              help="How many processes answer.")
@click.option("--root-path", default="", metavar="PATH",
              help="Where a proxy shows these pages, such as /vehicles.")
@click.option("--proxy", "proxies", multiple=True, metavar="ADDRESS",
              help="A proxy whose word about the address of a client is believed.")
@plainly
def serve(
    host: str, port: int, codes: tuple[str, ...], language: str, ancestors: tuple[str, ...],
    keys: Path | None, days: int, rate: float, workers: int, root_path: str,
    proxies: tuple[str, ...],
) -> None:
    """Answer in browsers: questions one at a time, the report, and JSON for programs.

    Nothing about anybody is kept, and no log of requests is written.
    """
    from regkit.web.serving import run
    from regkit.web.settings import Limits, Settings

    run(
        Settings(
            jurisdictions=codes,
            keys=() if keys is None else _keys(keys),
            lifetime=timedelta(days=days),
            frame_ancestors=ancestors,
            language=language,
            limits=Limits(rate=rate),
        ),
        host=host, port=port, workers=workers, root_path=root_path, proxies=proxies,
    )


def _keys(file: Path) -> tuple[str, ...]:
    """Return the keys in a file."""
    try:
        lines = file.read_text("ascii").split()
    except (OSError, UnicodeDecodeError) as wrong:
        raise ValueError(f"{file} cannot be read: {wrong}") from wrong
    if not lines:
        raise ValueError(f"{file} holds no key; make one with: python -m regkit.web.seal")
    return tuple(lines)
