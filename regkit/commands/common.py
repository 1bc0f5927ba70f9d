"""What all commands share: the group, plain errors, days, colour."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from datetime import date
from errno import EPIPE
from functools import wraps
from pathlib import Path
from typing import Any

import click

import regkit
from regkit.compare.across import across
from regkit.compare.carried import carry
from regkit.language import Wrong, phrase, speaker, spoken
from regkit.model.assessment import Outcome, Verdict
from regkit.model.carried import Across
from regkit.read.places import shipped
from regkit.read.problems import hinted
from regkit.read.released import is_version
from regkit.read.text import read_file

COLOURS = {
    Verdict.REQUIRED: "yellow",
    Verdict.UNDECIDED: "cyan",
    Verdict.NOT_REQUIRED: "green",
    Outcome.YES: "green",
    Outcome.NO: None,
    Outcome.UNDECIDED: "cyan",
}


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(regkit.__version__, prog_name="regkit")
def main() -> None:
    """What it takes to get one old vehicle lawfully onto the register, and why.

    Exit codes: 0 done as asked; 2 something given is wrong.
    """


def paint(text: str, meaning: Verdict | Outcome) -> str:
    """Colour a mark by what it means; the mark alone already says it."""
    return click.style(text, fg=COLOURS[meaning])


def echo(lines: Iterable[str]) -> None:
    """Print lines."""
    for line in lines:
        click.echo(line)


def read_day(_: click.Context, __: click.Parameter, written: str | None) -> date | None:
    """Read a day given on the command line."""
    if written is None:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError as wrong:
        raise click.BadParameter(f"{written!r} is no day; write for example 2026-04-01") from wrong


def plainly(command: Callable[..., None]) -> Callable[..., None]:
    """Turn errors that are for people into their sentences and exit code 2.

    They are said in the language of the output, but for those of rulesets, which are English.
    """

    @wraps(command)
    def run(*arguments: Any, **options: Any) -> None:
        say = speaker(spoken(options.get("language", "en")) or "en").say
        try:
            command(*arguments, **options)
        except regkit.Unreadable as wrong:
            for problem in wrong.problems:
                click.echo(say(problem), err=True)
            sys.exit(2)
        except Wrong as wrong:
            click.echo(say(wrong.says), err=True)
            sys.exit(2)
        except (ImportError, ValueError) as wrong:
            click.echo(str(wrong), err=True)
            sys.exit(2)
        except OSError as wrong:
            if wrong.errno == EPIPE:  # who reads has seen enough; click ends quietly
                raise
            where = wrong.filename or "the output cannot be written"
            click.echo(f"{where}: {wrong.strerror or wrong}", err=True)
            sys.exit(2)

    return run


case_argument = click.argument("case", type=click.Path(dir_okay=False))
on_option = click.option(
    "--on", callback=read_day, metavar="DAY", help="The day of assessment, such as 2026-04-01."
)
sent_option = click.option(
    "--sent", callback=read_day, metavar="DAY",
    help="The day the papers are to be sent; by default the day of assessment.",
)
language_option = click.option(
    "--language", default="en", show_default=True, help="The language of the output: en, de or sv."
)


ruleset_option = click.option(
    "--ruleset", "folder", metavar="FOLDER",
    help="The folder of the ruleset to judge by; by default the shipped one of the case's "
         "jurisdiction.",
)


def read_codes(
    _: click.Context, __: click.Parameter, written: str | None
) -> tuple[str, ...]:
    """Read jurisdictions given on the command line, such as DE,SE,IE; each may be a folder."""
    return tuple(dict.fromkeys(
        code.strip() for code in (written or "").split(",") if code.strip()))


def assess_carried(
    case: str, codes: tuple[str, ...], on: date | None, folder: str | None = None
) -> tuple[Across, bool]:
    """Return a case file across jurisdictions, and whether today had to stand in for its day."""
    home, read = read_case_file(case, folder)
    day = on or read.on
    rulesets = [ruleset_named(code) for code in codes]
    carried = [carry(read, home, there) for there in rulesets]
    assessments = [regkit.assess(one.case, there, day or date.today())
                   for one, there in zip(carried, rulesets, strict=True)]
    return across(read, carried, assessments), day is None


def assess_file(
    case: str, on: date | None, folder: str | None = None
) -> tuple[regkit.Assessment, bool]:
    """Return the assessment of a case file, and whether today had to stand in for its day.

    Args:
        folder: of the ruleset to judge by; by default the shipped one of the case's jurisdiction.
    """
    ruleset, read = read_case_file(case, folder)
    day = on or read.on
    return regkit.assess(read, ruleset, day or date.today()), day is None


def read_case_file(case: str, folder: str | None) -> tuple[regkit.Ruleset, regkit.Case]:
    """Return a case file, and the ruleset to judge it by.

    Raises:
        ValueError: none of the case's jurisdiction is shipped, or the given one is another's.
        Unreadable: something in the file or the ruleset is wrong.
    """
    written = read_file(Path(case)).data
    code = str(written.get("jurisdiction", "")) if isinstance(written, dict) else ""
    if folder is None:
        if code and code not in regkit.jurisdictions():
            codes = regkit.jurisdictions()
            says = phrase("{file}: no ruleset of {code} is shipped", file=case, code=code)
            raise Wrong(phrase(
                "{wrong}; there are: {codes}; name the folder of another one with --ruleset",
                wrong=hinted(says, code.upper(), codes), codes=", ".join(codes)))
        read = regkit.read_case(case)
        return regkit.load(read.jurisdiction), read
    ruleset = ruleset_named(folder)
    if code and code != ruleset.jurisdiction:
        raise Wrong(phrase(
            "{file} is a case of {code}, and {folder} states the rules of {other}; change the "
            "`jurisdiction` of the case", file=case, code=code, folder=folder,
            other=ruleset.jurisdiction))
    return ruleset, regkit.read_case(case, ruleset)


def ruleset_named(where: str) -> regkit.Ruleset:
    """Return the ruleset in a folder, or that of a code (GB) or of a released version (GB@2026.1).

    Raises:
        ValueError: there is none of these.
        Unreadable: something in it is wrong.
    """
    return regkit.load(where if is_version(where) else ruleset_folder(where))


def ruleset_place(where: str | None) -> str:
    """Return where a ruleset is in words that hold in any folder; empty for the shipped one.

    Raises:
        ValueError: there is none.
    """
    if where is None or is_version(where):
        return where or ""
    folder = ruleset_folder(where).resolve()
    return "" if folder.parent == shipped("rulesets").resolve() else str(folder)


def ruleset_folder(where: str) -> Path:
    """Return the folder of a ruleset, given as a path or as the code of a shipped one.

    Raises:
        ValueError: there is neither; the message says which code is nearest.
    """
    folder, ours = Path(where), shipped("rulesets") / where.lower()
    if (ours / "ruleset.yaml").is_file() and not (folder / "ruleset.yaml").is_file():
        return ours
    if folder.is_dir():
        return folder
    codes = regkit.jurisdictions()
    says = phrase("{name} is no folder, and no code of a shipped ruleset", name=where)
    raise Wrong(phrase("{wrong}; there are: {names}", wrong=hinted(says, where.upper(), codes),
                       names=", ".join(codes)))


def write_whole(file: str, text: str) -> None:
    """Write a file whole or not at all; an old one stays until the new one is complete.

    What a link leads to is replaced, not the link. What is no file, such as /dev/stdout, is written
    to as it stands.

    Raises:
        ValueError: it cannot be written; the message says why.
    """
    target = Path(file)
    try:
        if target.exists() and not target.is_file():
            with target.open("w", encoding="utf-8", newline="") as stream:
                stream.write(text)
            return
        target = target.resolve()
        half = target.with_name(f".{target.name}.half")
        half.write_text(text, "utf-8", newline="")
        half.replace(target)
    except OSError as wrong:
        raise ValueError(f"{file} cannot be written: {wrong.strerror or wrong}") from wrong


def finding_named(assessment: regkit.Assessment, requirement: str) -> regkit.Finding:
    """Return the finding on a requirement.

    Raises:
        ValueError: there is no such requirement; the message says which is nearest.
    """
    try:
        return assessment.finding(requirement)
    except KeyError:
        says = phrase("there is no requirement `{name}`", name=requirement)
        raise Wrong(hinted(says, requirement, assessment.ruleset.requirements)) from None


def say_day(assessment: regkit.Assessment, defaulted: bool, language: str = "en") -> None:
    """Say that no day was given and today was taken; on standard error, so pipes stay clean."""
    if defaulted:
        says = phrase("(no day was given: today, {day}, is taken)", day=assessment.on.isoformat())
        click.echo(speaker(language).say(says), err=True)
