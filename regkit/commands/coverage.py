"""`regkit coverage PATH`: what the worked examples of a ruleset try, and what they do not."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

import regkit
from regkit.commands.common import echo, main, plainly, read_day, ruleset_named
from regkit.keep.boundaries import untouched
from regkit.keep.cells import unvisited
from regkit.keep.coverage import Tried, never_decisive, tried, verdicts_lacking
from regkit.keep.mutation import Score, score
from regkit.keep.to_complete import at_boundary, for_survivor
from regkit.language import speaker

SHOWN = 20


@main.command()
@click.argument("path", metavar="PATH")
@click.option("--mutants", is_flag=True,
              help="Also make every small mistake and see which no example notices; slower.")
@click.option("--examples", "prepare", is_flag=True,
              help="Print the missing examples as YAML, ready to be completed.")
@click.option("--all", "everything", is_flag=True, help=f"List all, not the first {SHOWN}.")
@click.option("--on", callback=read_day, metavar="DAY",
              help="The day whose cut-offs to look at; by default today.")
@plainly
def coverage(
    path: str, mutants: bool, prepare: bool, everything: bool, on: date | None
) -> None:
    """Say what the examples of a ruleset, in a folder or by its code, leave untried."""
    ruleset = ruleset_named(path)
    day = on or date.today()
    tries = tuple(tried(ruleset))
    found = score(ruleset, day) if mutants else None
    if prepare:
        echo(_prepared(ruleset, tries, day, found))
        return
    for heading, lines in _sections(ruleset, tries, day, found):
        shown = list(lines)
        cut = shown if everything else shown[:SHOWN]
        click.echo(f"\n{heading}: {len(shown) or 'none'}")
        echo(f"  {line}" for line in cut)
        if len(cut) < len(shown):
            click.echo(f"  … and {len(shown) - len(cut)} more (--all)")
    if found is not None:
        click.echo(f"\nMutants: noticed {found.noticed} of {found.told_apart} ({found.percent} %), "
                   f"{len(found.explained)} explained, {len(found.unexplained)} unexplained, "
                   f"{found.equivalent} equivalent (the same rule for every vehicle)")
    click.echo("\nTo write what is missing: --examples prints it, ready to be completed")


def _sections(
    ruleset: regkit.Ruleset, tries: tuple[Tried, ...], day: date, found: Score | None
) -> Iterator[tuple[str, Iterator[str]]]:
    say = speaker().say
    yield "Verdicts no example expects", (
        f"{name}: {', '.join(lacking)}" for name, lacking in verdicts_lacking(ruleset))
    yield "Tests that never decided an expected answer both ways", (
        f"{edition.line}: {entry}: '{say(test.rule())}' never decided as "
        f"{' or '.join(outcome.value for outcome in lacking)}"
        for entry, edition, test, lacking in never_decisive(ruleset, tries))
    yield "Points at a cut-off that no example touches", (
        f"{point.edition.line}: {point.entry}: {point.where} at '{say(point.test.rule())}'"
        for point in untouched(ruleset, tries, day))
    yield "Cells of a fact that no example visits", (
        f"{cell.edition.line}: {cell.entry}: {say(cell.says)}"
        for cell in unvisited(ruleset, tries, day))
    if found is not None:
        yield "Mutants that no example notices, unexplained", (
            f"{survivor.mutant.was.line}: {survivor.mutant.name}"
            for survivor in found.unexplained)
        yield "Mutants that no example notices, explained in survivors.yaml", (
            f"{one.line}: {one.mutant}: {one.why}"
            for survivor in found.explained if (one := survivor.explained))
        yield "Explanations in survivors.yaml that explain nothing", (
            f"{one.explained.line}: {one.explained.mutant}: {one.because}; take it out"
            for one in found.stale)


def _prepared(
    ruleset: regkit.Ruleset, tries: tuple[Tried, ...], day: date, found: Score | None
) -> Iterator[str]:
    yield "# Read the outcome out of the source and write it in, then move what you keep to"
    yield "# examples.yaml. Until an outcome is written, the file is refused."
    seen: dict[str, int] = {}
    texts = [at_boundary(point, ruleset) for point in untouched(ruleset, tries, day)]
    texts += [text for survivor in (found.unexplained if found else ())
              if (text := for_survivor(survivor, ruleset)) is not None]
    for text in texts:
        name, _, rest = text.partition(":\n")
        seen[name] = seen.get(name, 0) + 1
        yield f"\n{name}{'' if seen[name] == 1 else f'-{seen[name]}'}:\n{rest}"
