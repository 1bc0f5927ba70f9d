"""One vehicle across several jurisdictions as text, 80 columns wide: a column a country."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from regkit.language import Phrase, Speaker, phrase, speaker
from regkit.model.assessment import Finding, Outcome, Verdict
from regkit.model.carried import Across, Carried, Country
from regkit.model.scenarios import NONE, THERE, TO_GET, Row
from regkit.show.lines import WIDTH, hanging, heading, wrapped
from regkit.show.text import MARKS

PAPERS = {THERE: "[x]", TO_GET: "[ ]"}
OUTCOMES = {Outcome.YES: phrase("yes"), Outcome.NO: phrase("no"), Outcome.UNDECIDED: phrase("?")}


def across_lines(found: Across, language: str = "en") -> Iterator[str]:
    """Yield the lines of a comparison across jurisdictions."""
    page = _Page(found, speaker(language))
    yield from page.head()
    yield from page.comes_to()
    yield from page.table(phrase("What it counts as"), page.classes())
    yield from page.table(phrase("What has to be done"), page.steps())
    yield from page.wrapped(phrase(
        "[!] required  [?] cannot be told yet  [ ] not required  [x] done"))
    yield from page.last_days()
    yield from page.table(phrase("Papers from outside"), page.papers())
    yield from page.wrapped(phrase("[x] there  [ ] to get"))
    yield from page.costs()
    yield from page.facts()
    yield from page.foot()


def carried_lines(carried: Carried, language: str = "en") -> Iterator[str]:
    """Yield what is to be said of a case that was carried to another jurisdiction."""
    speak = speaker(language)
    if carried.notes or carried.not_asked:
        yield from heading(speak.say(phrase("How the case was carried over")))
    for note in carried_notes(carried):
        yield from hanging("-", 2, speak.say(note))


def carried_notes(carried: Carried) -> Iterator[Phrase]:
    """Yield how the case was carried, and what is told but asked elsewhere only."""
    yield from carried.notes
    if carried.not_asked:
        yield phrase("Told, but asked elsewhere only: {facts}", facts=carried.not_asked)


class _Page:
    def __init__(self, found: Across, speak: Speaker) -> None:
        self.found = found
        self.say = speak.say
        self.column = max(6, *(len(code) + 2 for code in found.codes))
        self.left = max(24, WIDTH - self.column * len(found.codes))

    def wrapped(self, says: Phrase) -> Iterator[str]:
        yield from wrapped(self.say(says), "")

    def head(self) -> Iterator[str]:
        on = self.found.countries[0].assessment.on
        title = self.found.case.title
        yield from self.wrapped(
            phrase("One vehicle across borders, on {day}: {title}", day=on, title=title) if title
            else phrase("One vehicle across borders, on {day}", day=on))
        for country in self.found.countries:
            yield ""
            ruleset = country.assessment.ruleset
            yield from hanging(country.code.ljust(self.column - 1), self.column, self.say(phrase(
                "{place}, ruleset {version}", place=ruleset.title,
                version=f"{ruleset.version} {ruleset.digest[:12]}")))
            for note in carried_notes(country.carried):
                yield from hanging("  -", 4, self.say(note))

    def comes_to(self) -> Iterator[str]:
        yield from heading(self.say(phrase("What it comes to")))
        for row in self.found.part("plan"):
            yield from self._listed(row)

    def table(self, title: Phrase, rows: Iterator[tuple[Row, list[str]]]) -> Iterator[str]:
        lines = list(rows)
        if not lines:
            return
        yield ""
        yield self._columns(self.say(title), list(self.found.codes))
        yield "-" * WIDTH
        for row, marks in lines:
            *above, last = _in_lines(self.say(row.title), self.left - 2)
            yield from above
            yield self._columns(last, marks)

    def _columns(self, left: str, marks: list[str]) -> str:
        columns = "".join(mark.rjust(self.column) for mark in marks)
        return f"{left:<{self.left}}{columns}".rstrip()

    def classes(self) -> Iterator[tuple[Row, list[str]]]:
        for row in self.found.part("class"):
            yield row, [
                self.say(next((OUTCOMES[one.outcome] for one in country.assessment.classes
                               if one.id == row.id), NONE))
                for country in self.found.countries]

    def steps(self) -> Iterator[tuple[Row, list[str]]]:
        for row in self.found.part("requirement"):
            here = [_finding(country, row.id) for country in self.found.countries]
            if any(finding is not None and _speaks(finding) for finding in here):
                yield row, [_mark(finding) for finding in here]

    def papers(self) -> Iterator[tuple[Row, list[str]]]:
        for row in self.found.part("paper"):
            yield row, [PAPERS.get(answer) or self.say(answer) for answer in row.answers]

    def last_days(self) -> Iterator[str]:
        days = [
            (finding.deadline.first, country.code, finding)
            for country in self.found.countries for finding in country.assessment.findings
            if finding.met is None and _speaks(finding) and finding.deadline is not None
            and finding.deadline.first is not None
        ]
        if days:
            yield from heading(self.say(phrase("Last days")))
        for day, code, finding in sorted(days, key=lambda item: item[:2]):
            yield from hanging(code.ljust(self.column - 1), self.column, self.say(phrase(
                "{day}: {title}", day=day, title=finding.requirement.title)))

    def costs(self) -> Iterator[str]:
        rows = self.found.part("charge")
        if rows:
            yield from heading(self.say(phrase(
                "What it costs, by the charges these rulesets state")))
        for row in rows:
            yield from self._listed(row)

    def facts(self) -> Iterator[str]:
        alone = [row for row in self.found.part("fact") if len(self.found.having(row)) == 1]
        if not alone or len(self.found.codes) == 1:
            return
        yield from heading(self.say(phrase("Facts that one country alone asks")))
        for at, country in enumerate(self.found.countries):
            here = [row for row in alone if self.found.having(row) == (country.code,)]
            told = [row for row in here if row.id in country.assessment.case.known]
            lines = [phrase("{title}: {answer}", title=row.title, answer=row.answers[at])
                     for row in told]
            untold = tuple(row.title for row in here if row not in told)
            if untold:
                lines.append(phrase("not told: {labels}", labels=untold))
            for line in lines:
                yield from hanging(country.code.ljust(self.column - 1), self.column, self.say(line))

    def _listed(self, row: Row) -> Iterator[str]:
        """Yield one row: all in one line where the countries agree, else a line for each."""
        if len(self.found.codes) > 1 and not row.differs:
            yield from self.wrapped(
                phrase("{title}: {answer}", title=row.title, answer=row.answers[0]))
            return
        yield from self.wrapped(phrase("{title}", title=row.title))
        for code, answer in zip(self.found.codes, row.answers, strict=True):
            if answer != NONE:
                yield from hanging(f"  {code}".ljust(self.column + 1), self.column + 2,
                                   self.say(answer))

    def foot(self) -> Iterator[str]:
        yield from heading(self.say(phrase("Bear in mind")))
        yield from hanging("-", 2, self.say(phrase(
            "A dash means that the country knows no such class, paper or step. What is told of one "
            "country is not taken to hold in another: tell it in the case, under "
            "'elsewhere' and the country's code.")))
        cautions = dict.fromkeys(self.say(caution) for country in self.found.countries
                                 for caution in country.assessment.cautions)
        for caution in cautions:
            yield from hanging("-", 2, caution)


def _in_lines(text: str, width: int) -> list[str]:
    """Return a text in lines of a width, at least one."""
    return wrap(text, width, subsequent_indent="  ") or [""]


def _finding(country: Country, name: str) -> Finding | None:
    return next((one for one in country.assessment.findings if one.id == name), None)


def _speaks(finding: Finding) -> bool:
    return finding.verdict != Verdict.NOT_REQUIRED and not finding.waits_for


def _mark(finding: Finding | None) -> str:
    if finding is None or finding.waits_for:
        return "–"
    return "[x]" if finding.met is not None else MARKS[finding.verdict]
