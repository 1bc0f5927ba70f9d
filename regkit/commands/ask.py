"""`regkit ask JURISDICTION`: the questions that still matter, one at a time."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import click

import regkit
from regkit.commands.common import (
    language_option,
    main,
    on_option,
    plainly,
    ruleset_named,
    write_whole,
)
from regkit.compare.next_question import Question, law_to_ask_about, next_question
from regkit.language import Phrase, Wrong, phrase, plural, speaker
from regkit.model.case import Case
from regkit.model.facts import Fact
from regkit.model.ruleset import Ruleset
from regkit.read.answered import with_answer
from regkit.read.facts import read_value
from regkit.read.text import read_file
from regkit.show.facts import answers

OPEN = phrase("don't know")
DONT_KNOW = ("don't know", "dont know", "do not know", "")


@main.command()
@click.argument("jurisdiction")
@click.option("--case", "file", type=click.Path(dir_okay=False, path_type=Path),
              default=Path("case.yaml"), show_default=True,
              help="The case file to write; one that is there is taken up again.")
@on_option
@language_option
@plainly
def ask(jurisdiction: str, file: Path, on: date | None, language: str) -> None:
    """Ask only what can still change a finding, most deciding first, and write the case file.

    The JURISDICTION is a code, or the folder of a ruleset.

    An empty line or "don't know" leaves a fact open; `unknown` says that nobody can know it; `?`
    explains the question; `stop` ends. The file is written after each answer.
    """
    ruleset = ruleset_named(jurisdiction)
    data = _begun(file, ruleset, on)
    day = on or (date.fromisoformat(data["on"]) if "on" in data else date.today())
    law, skip = law_to_ask_about(ruleset, day), set[str]()
    while True:
        case = regkit.read_case(data, ruleset)
        question = next_question(law, case, skip)
        if question is None:
            break
        written = _answer(question, ruleset, case, language)
        if written is None:
            break
        told = data["facts"].get(question.fact.name)
        if written in DONT_KNOW or written == str(told):
            skip.add(question.fact.name)
            continue
        data["facts"][question.fact.name] = written
        _write(file, data, question.fact.name)
    _end(file, data, ruleset, day, language)


def _begun(file: Path, ruleset: Ruleset, on: date | None) -> dict[str, Any]:
    """Return the case file as it stands, or the beginning of one."""
    data: dict[str, Any]
    if file.exists():
        regkit.read_case(file, ruleset)
        data = dict(read_file(file).data)
        data.setdefault("facts", {})
    else:
        data = {"jurisdiction": ruleset.jurisdiction, "on": date.today().isoformat(), "facts": {}}
    if on is not None:
        data["on"] = on.isoformat()
    return data


def _answer(question: Question, ruleset: Ruleset, case: Case, language: str) -> str | None:
    """Ask until the answer can be taken; None to stop, empty for 'don't know'."""
    say = speaker(language).say
    fact = question.fact
    click.echo("")
    click.echo(say(fact.question))
    if question.again:
        click.echo("  " + say(phrase(
            "Told so far: {told}. Tell it more exactly, if you can; else press Enter.",
            told=case.facts[fact.name].written)))
    click.echo(f"  [{say(_allowed(fact))}]")
    while True:
        try:
            written = click.prompt(fact.name, default="", show_default=False).strip()
        except (click.Abort, EOFError):
            return None
        if written == "stop":
            return None
        if written in (*DONT_KNOW, say(OPEN)):
            return ""
        written = _word(fact, written, say)
        if written == "?":
            _explain(question, ruleset, language)
            continue
        try:
            read_value(fact, written)
            told: Mapping[str, Any] = {n: value.written for n, value in case.facts.items()}
            regkit.read_case({"jurisdiction": case.jurisdiction,
                              "facts": {**told, fact.name: written}}, ruleset)
        except regkit.Unreadable as wrong:
            for problem in wrong.problems:
                click.echo(f"  {say(problem.says)}")
        except Wrong as wrong:
            click.echo(f"  {say(wrong.says)}")
        else:
            return str(written)


def _word(fact: Fact, written: str, say: Callable[[Any], str]) -> str:
    """Return the word of the vocabulary for an answer in the reader's own, such as `ja` for yes."""
    own = {say(fact.say_word(word)).casefold(): word for word in fact.allowed or ()}
    return own.get(written.casefold(), written)


def _allowed(fact: Fact) -> Phrase:
    if fact.type == "yes_no":
        yes, no = fact.say_word("yes"), fact.say_word("no")
        return phrase("{yes}, {no}, {open}, ?", yes=yes, no=no, open=OPEN)
    if fact.allowed is not None:
        return phrase("{words}, {open}, ?", words=", ".join(fact.allowed), open=OPEN)
    return phrase("{example}; {open}, ?", example=answers(fact), open=OPEN)


def _explain(question: Question, ruleset: Ruleset, language: str) -> None:
    """Say why the question is asked, and what the answers mean."""
    say = speaker(language).say
    titles = tuple(ruleset.requirements[name].latest.title for name in question.bears_on[:4])
    more = len(question.bears_on) - len(titles)
    asked = phrase("It is asked because these may depend on it: {titles}.", titles=titles)
    if more:
        asked = phrase("It is asked because these may depend on it: {titles}, {more}.",
                       titles=titles,
                       more=plural("and {count} more", "and {count} more", count=more))
    click.echo(f"  {say(asked)}")
    if question.fact.help is not None:
        click.echo(f"  {say(question.fact.help)}")
    for word, text in question.fact.values:
        click.echo(f"    {word}: {say(text)}")
    click.echo("  " + say(plural(
        "At most {count} question is left.",
        "At most {count} questions are left; mostly far fewer are asked.", count=question.left)))


def _write(file: Path, data: Mapping[str, Any], answered: str = "") -> None:
    if file.suffix == ".json":
        write_whole(str(file), json.dumps(data, ensure_ascii=False, indent=2) + "\n")
        return
    text = file.read_text("utf-8") if file.exists() else ""
    write_whole(str(file), with_answer(text, data, answered))


def _end(
    file: Path, data: Mapping[str, Any], ruleset: Ruleset, day: date, language: str
) -> None:
    if not file.exists():
        _write(file, data)
    assessment = regkit.assess(regkit.read_case(data, ruleset), ruleset, day)
    waiting = {finding.id for finding in assessment.findings if finding.waits_for}
    open_ = [name for name, verdict in assessment.verdicts.items()
             if verdict.value == "undecided" and name not in waiting]
    click.echo("")
    click.echo(speaker(language).say(phrase(
        "Facts told: {told}; requirements still open: {open}. What applies: regkit assess {file}",
        told=len(data["facts"]), open=len(open_), file=str(file))))
