"""Names that must exist, and definitions that must not go in a circle: what a schema cannot see."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from regkit.conditions import Holds
from regkit.model.ruleset import Requirement, Ruleset
from regkit.read.currencies import CURRENCIES
from regkit.read.depth import DEEPEST, too_deep
from regkit.read.figures import figure_problems, no_season
from regkit.read.folder import Written
from regkit.read.problems import CIRCLE, UNKNOWN_NAME, Problem, did_you_mean

Written_ = Mapping[str, Mapping[str, Written]]


def reference_problems(ruleset: Ruleset, written: Written_, head: Written) -> list[Problem]:
    """Return a problem for each name that leads nowhere, and for each circle of definitions."""
    problems = list(_names(ruleset, written))
    if not problems:
        problems += [problem for entry in written["charges"].values()
                     for problem in figure_problems(entry, ruleset.vocabulary)]
        problems += [
            entry.document.problem(entry.path, f"`{entry.id}`: {wrong}")
            for entry in written["counting"].values()
            for edition in ruleset.counting[entry.id].editions
            for wrong in no_season(edition.season, ruleset.vocabulary)]
        problems += _late_without_window(ruleset, written)
    currency = head.data["currency"]
    if currency not in CURRENCIES:
        problems.append(head.document.problem(
            ("currency",), f"`currency` {currency!r} is no currency of ISO 4217"
            f"{did_you_mean(currency, CURRENCIES)}; write for example EUR, or XTS to try out"))
    problems += _days_that_do_not_exist(written)
    for name in head.data["anniversary of 29 February"]["sources"]:
        if name not in ruleset.sources:
            problems.append(head.document.problem(
                ("anniversary of 29 February",), _nothing("source", name, ruleset.sources),
                UNKNOWN_NAME))
    circle = definition_circle(ruleset)
    if circle:
        first = written["definitions"][circle[0]]
        problems.append(first.document.problem(
            first.path, f"definitions go in a circle: {' → '.join(circle)}", CIRCLE))
    deep = None if circle else too_deep(ruleset)
    if deep:
        first = written["definitions"][deep[0]]
        problems.append(first.document.problem(
            first.path, f"`{deep[0]}` leads {deep[1]} conditions deep, through the definitions it "
            f"names; {DEEPEST} are the most"))
    circle = charge_circle(ruleset)
    if circle:
        first = written["charges"][circle[0]]
        problems.append(first.document.problem(
            first.path, f"charges go in a circle: {' → '.join(circle)}", CIRCLE))
    return problems


def _days_that_do_not_exist(written: Written_) -> Iterator[Problem]:
    """Yield the days from which an example counts a period, if there is no such day."""
    for entry in written["examples"].values():
        for rule, periods in entry.data["expect"].get("periods", {}).items():
            for text in periods:
                try:
                    date.fromisoformat(text.rpartition(" ")[2])
                except ValueError:
                    yield entry.document.problem(
                        (*entry.path, "expect", "periods", rule, text),
                        f"{text!r} names a day that does not exist")


def _late_without_window(ruleset: Ruleset, written: Written_) -> Iterator[Problem]:
    """Yield the charges for lateness that can never fall due: what they wait for has no end."""
    endless = {name for name, history in ruleset.requirements.items()
               if not any(edition.window for edition in history.editions)}
    right = "write by when it must be done, under `window`"
    for name in endless:
        if any(edition.late for edition in ruleset.requirements[name].editions):
            entry = written["requirements"][name]
            yield entry.document.problem(
                (*entry.path, "late"), f"`{name}` has no `window`, so nothing is ever `late`; "
                f"{right}, or put the charge under `charges`")
    for entry in written["charges"].values():
        for name in sorted({late for edition in ruleset.charges[entry.id].editions
                            for figure in edition.figures if figure.form == "per day"
                            for late in figure.of} & endless):
            yield entry.document.problem(
                (*entry.path, "of"), f"`{entry.id}`: `{name}` has no `window`, so it is never "
                f"late; {right}")


def _nothing(kind: str, name: str, known: Iterable[str]) -> str:
    return f"there is no {kind} `{name}`{did_you_mean(name, known)}"


def _names(ruleset: Ruleset, written: Written_) -> Iterator[Problem]:
    for kind, entries in written.items():
        for entry in entries.values():
            for path, what, name in _named(kind, entry, ruleset):
                known = _known(ruleset, what)
                if name not in known:
                    yield entry.document.problem(path, _nothing(what, name, known), UNKNOWN_NAME)


def _known(ruleset: Ruleset, what: str) -> Iterable[str]:
    return {
        "source": ruleset.sources,
        "question": ruleset.questions,
        "authority": ruleset.authorities,
        "stage": ruleset.stages,
        "evidence": ruleset.evidence,
        "charge": ruleset.charges,
        "counting rule": ruleset.counting,
        "fact": ruleset.vocabulary,
        "fact or charge": (*ruleset.vocabulary, *ruleset.charges),
        "requirement": ruleset.requirements,
        "definition": ruleset.definitions,
        "requirement or definition": (*ruleset.requirements, *ruleset.definitions),
        "route": ruleset.routes,
    }[what]


_FIELDS = {
    "sources": "source", "questions": "question", "authority": "authority", "stage": "stage",
    "gives": "evidence", "charges": "charge", "late": "charge", "on event": "fact",
    "governed by": "fact", "shows": "fact", "stands in for": "evidence", "paid to": "authority",
    "no later than": "fact", "asked after": "fact", "fact": "fact", "counting": "counting rule",
    "agree": "fact", "excludes": "definition", "outside the season": "fact",
}


def _named(kind: str, entry: Written, ruleset: Ruleset) -> Iterator[tuple[Any, str, str]]:
    """Yield place, sort and name of everything an entry names outside its conditions."""
    if kind == "renamed":
        return
    yield from _walk(entry.data, entry.path)
    if kind == "examples":
        expected = {"definitions": "definition", "requirements": "requirement",
                    "windows": "requirement", "charges": "charge",
                    "cautions": "requirement or definition", "papers": "requirement",
                    "done": "requirement", "periods": "counting rule", "routes": "route"}
        for part, what in expected.items():
            for name in entry.data["expect"].get(part, {}):
                yield (*entry.path, "expect", part, name), what, name
        for needed, papers in entry.data["expect"].get("papers", {}).items():
            yield from (((*entry.path, "expect", "papers", needed, name), "evidence", name)
                        for name in papers)
    if kind == "requirements":
        for edition in ruleset.requirements[entry.id].editions:
            for name in _evidence(edition):
                yield (*entry.path, "needs"), "evidence", name
    if kind == "charges":
        for figure in (f for e in ruleset.charges[entry.id].editions for f in e.figures):
            late = figure.form == "per day"
            for name in figure.of:
                yield entry.path, "requirement" if late else "fact or charge", name
            for name in figure.less:
                yield entry.path, "fact or charge", name
            for name in (figure.rate_fact, *(figure.each.of if figure.each else ()), figure.since):
                if name:
                    yield entry.path, "fact", name


def _walk(data: Any, path: tuple[Any, ...]) -> Iterator[tuple[Any, str, str]]:
    if isinstance(data, list):
        for at, part in enumerate(data):
            yield from _walk(part, (*path, at))
    if not isinstance(data, dict):
        return
    for key, inner in data.items():
        if key in ("when", "facts", "expect", "papers", "done"):
            continue
        what = _FIELDS.get(key)
        names = [inner] if isinstance(inner, str) else inner
        if what and isinstance(names, list) and all(isinstance(name, str) for name in names):
            for name in names:
                yield (*path, key), what, name
        elif key in ("of", "before", "by") and "counting" in data:
            for name in [inner] if isinstance(inner, str) else inner:
                yield (*path, key), "fact", name
        else:
            yield from _walk(inner, (*path, key))


def _evidence(requirement: Requirement) -> Iterator[str]:
    for need in requirement.needs:
        yield from (part.evidence for part in need.walk() if part.evidence)


def definition_circle(ruleset: Ruleset) -> list[str]:
    """Return the names along a circle of definitions, its first name also last; empty if none."""
    uses = {
        name: sorted({
            part.definition
            for edition in history.editions
            for tree in (edition.when, *(dissent.when for dissent in edition.dissents))
            for part in tree.walk() if isinstance(part, Holds)
        })
        for name, history in ruleset.definitions.items()
    }
    return _circle(uses)


def charge_circle(ruleset: Ruleset) -> list[str]:
    """Return the names along a circle of charges, each a base of the one before; empty if none."""
    return _circle({
        name: sorted({
            base for edition in history.editions for figure in edition.figures
            for base in (*figure.of, *figure.less) if base in ruleset.charges
        })
        for name, history in ruleset.charges.items()
    })


def _circle(uses: Mapping[str, list[str]]) -> list[str]:
    finished: set[str] = set()
    for start in uses:
        trail = [start]
        ways = [iter(uses[start])]
        while ways and start not in finished:
            step = next(ways[-1], None)
            if step is None:
                finished.add(trail.pop())
                ways.pop()
            elif step in trail:
                return [*trail[trail.index(step):], step]
            elif step not in finished:
                trail.append(step)
                ways.append(iter(uses[step]))
    return []
