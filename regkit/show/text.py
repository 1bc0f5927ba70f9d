"""An assessment as plain text for a terminal, a pipe or an e-mail, 80 columns wide.

Marks carry the meaning and colour only repeats it, so nothing is lost when piped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from regkit.language import Speaker, phrase, speaker
from regkit.model.assessment import Assessment, ClassFinding, Finding, Outcome, Reason, Verdict
from regkit.model.deadline_document import deadline_sources
from regkit.model.ruleset import Source
from regkit.show.bill_text import cost_lines
from regkit.show.deadline_text import PROGRESS_MARKS, standing_lines
from regkit.show.lines import hanging, heading, leading, wrapped
from regkit.show.need_text import need_lines
from regkit.show.packet_text import trouble_lines
from regkit.show.resting_text import resting_lines
from regkit.show.settling import settling_lines, settling_most

MARKS = {Verdict.REQUIRED: "[!]", Verdict.UNDECIDED: "[?]", Verdict.NOT_REQUIRED: "[ ]"}
OUTCOME_MARKS = {Outcome.YES: phrase("yes"), Outcome.NO: phrase("no"),
                 Outcome.UNDECIDED: phrase("?")}

Paint = Callable[[str, Verdict | Outcome], str]


def plain(text: str, _: Verdict | Outcome) -> str:
    """Paint nothing."""
    return text


def assessment_lines(
    assessment: Assessment, language: str = "en", paint: Paint = plain, everything: bool = False
) -> Iterator[str]:
    """Yield the lines of an assessment.

    Args:
        paint: adds colour to a mark by what it means.
        everything: also say in full what is not required, and what waits for an event.
    """
    page = _Page(assessment, speaker(language), paint)
    yield from page.head(assessment)
    yield from page.classes(assessment)
    yield from page.findings(assessment, everything)
    yield from page.unknown(assessment)
    yield from trouble_lines(assessment.paper_trouble, page.speak)
    yield from cost_lines(assessment.bills, page.speak)
    yield from page.foot(assessment)


def why_lines(
    assessment: Assessment, finding: Finding, language: str = "en", paint: Paint = plain
) -> Iterator[str]:
    """Yield the whole explanation of one finding: sentence, tree, papers, sources."""
    page = _Page(assessment, speaker(language), paint)
    yield from page.why(finding)


class _Page:
    def __init__(self, assessment: Assessment, speak: Speaker, paint: Paint) -> None:
        self.assessment = assessment
        self.ruleset = assessment.ruleset
        self.speak = speak
        self.say = speak.say
        self.paint = paint
        self.outcome_width = max(len(self.say(mark)) for mark in OUTCOME_MARKS.values())

    def _mark(self, verdict: Verdict) -> str:
        return self.paint(MARKS[verdict], verdict)

    def _outcome(self, outcome: Outcome) -> str:
        mark = self.say(OUTCOME_MARKS[outcome])
        return self.paint(f"{mark:{self.outcome_width}}", outcome)

    def head(self, assessment: Assessment) -> Iterator[str]:
        title = assessment.case.title
        yield self.say(phrase("{place}, on {day}", place=self.ruleset.title, day=assessment.on))
        if title:
            yield from wrapped(title, "")
        version = f"{self.ruleset.jurisdiction}@{self.ruleset.version}"
        yield self.say(phrase("ruleset {version}",
                              version=f"{version} {self.ruleset.digest[:12]}"))

    def classes(self, assessment: Assessment) -> Iterator[str]:
        if not assessment.classes:
            return
        yield from heading(self.say(phrase("What it counts as")))
        for found in assessment.classes:
            mark = self._outcome(found.outcome)
            yield from hanging(mark, self.outcome_width + 1, self.say(found.title))
            if found.outcome != Outcome.NO:
                yield from wrapped(_after_verdict(self.say(found.sentence)), "      ")

    def findings(self, assessment: Assessment, everything: bool) -> Iterator[str]:
        for stage, title in self.ruleset.stages.items():
            here = [f for f in assessment.findings if f.requirement.stage == stage]
            shown = [f for f in here if everything or self._speaks(f)]
            if shown:
                yield from heading(self.say(title))
            for finding in shown:
                yield from self._finding(finding, everything)
        if everything:
            return
        waiting = [f for f in assessment.findings if f.waits_for]
        if waiting:
            yield from heading(self.say(phrase("Later, once it happens")))
            for finding in waiting:
                yield from hanging("-", 2, self.say(finding.requirement.title))
        silent = [f for f in assessment.findings if f.verdict == Verdict.NOT_REQUIRED]
        if silent:
            yield from heading(self.say(phrase("Not required")))
            for finding in silent:
                yield from hanging(self._mark(finding.verdict), 4,
                                    self.say(finding.requirement.title))
                yield from wrapped(_after_verdict(self.say(finding.sentence)), "      ")
                yield from self._other_readings(finding)

    def _speaks(self, finding: Finding) -> bool:
        return finding.verdict != Verdict.NOT_REQUIRED and not finding.waits_for

    def _finding(self, finding: Finding, everything: bool) -> Iterator[str]:
        requirement = finding.requirement
        yield from hanging(self._mark(finding.verdict), 4, self._title(finding))
        yield from wrapped(self.say(finding.sentence), "    ")
        for lead, says in standing_lines(finding, self.ruleset):
            yield from leading(lead, self.say(says), self.speak)
        if finding.verdict == Verdict.REQUIRED:
            for lead, says in need_lines(self.assessment.packet(finding.id), everything):
                yield from leading(lead, self.say(says), self.speak)
            if requirement.gives:
                yield from leading("gives", self._papers(requirement.gives), self.speak)
            for caution in requirement.cautions:
                yield from leading("mind", self.say(caution), self.speak)
        yield from self._other_readings(finding)
        for announced in finding.announced:
            says = phrase("announced, may change on {day}: then {verdict}",
                          day=announced.on or phrase("a day not yet fixed"),
                          verdict=phrase(announced.verdict.value))
            yield from leading("ahead", self.say(says), self.speak)
        yield from wrapped(self.say(self._rests(finding)), "    ")

    def _title(self, finding: Finding) -> str:
        """Return the title of a requirement, and how far it has come where that must be said."""
        says, state = finding.requirement.title, PROGRESS_MARKS[finding.progress]
        return self.say(phrase("{title} ({state})", title=says, state=phrase(state))
                        if state else says)

    def _other_readings(self, finding: Finding | ClassFinding) -> Iterator[str]:
        for other in finding.other_readings:
            kinds = tuple(phrase(self.ruleset.sources[name].kind) for name in other.sources)
            says = phrase("another official reading: {says} Then: {verdict} ({kinds}).",
                          says=other.says, verdict=phrase(other.verdict.value), kinds=kinds)
            yield from leading("but", self.say(says), self.speak)

    def _rests(self, finding: Finding) -> object:
        template = ("[{id}] rests on {kind}, last checked {day}; open questions: {open}"
                    if finding.open_questions else "[{id}] rests on {kind}, last checked {day}")
        return phrase(template, id=finding.id, kind=phrase(finding.weakest),
                      day=finding.oldest_check, open=len(finding.open_questions))

    def _papers(self, names: Iterable[str]) -> str:
        return "; ".join(self.say(self.ruleset.evidence[name].latest.title) for name in names)

    def unknown(self, assessment: Assessment) -> Iterator[str]:
        asked = settling_most(assessment)
        if not asked:
            return
        yield from heading(self.say(phrase("What would settle more")))
        for name in asked:
            question = self.say(self.ruleset.vocabulary[name].question)
            yield from hanging("-", 2, f"{name}: {question}")

    def foot(self, assessment: Assessment) -> Iterator[str]:
        yield from heading(self.say(phrase("Bear in mind")))
        for caution in assessment.cautions:
            yield from hanging("-", 2, self.say(caution))
        yield from hanging("-", 2, self.say(phrase(
            "Why, in full: regkit why CASE REQUIREMENT, with a name in [square brackets].")))

    def why(self, finding: Finding) -> Iterator[str]:
        requirement = finding.requirement
        yield from hanging(self._mark(finding.verdict), 4, self._title(finding))
        yield from wrapped(self.say(finding.sentence), "    ")
        for lead, says in standing_lines(finding, self.ruleset):
            yield from leading(lead, self.say(says), self.speak)
        yield from heading(self.say(phrase("Why it is demanded")))
        yield from wrapped(self.say(requirement.why), "")
        if requirement.layer != self.ruleset.jurisdiction:
            yield from wrapped(self.say(phrase(
                "Stated by the rules of {layer}, which these build on.",
                layer=requirement.layer)), "")
        yield from heading(self.say(phrase("How the answer came about")))
        yield from self._tree(finding.reason, 0, set())
        yield self.say(phrase("'>' marks what the answer rests on."))
        settling = list(settling_lines(finding, self.ruleset.vocabulary))
        if settling:
            yield from heading(self.say(phrase("What would settle it")))
        for says in settling:
            yield from hanging("-", 2, self.say(says))
        resting = list(resting_lines(self.assessment, finding))
        if resting:
            yield from heading(self.say(phrase("On whose word")))
        for says in resting:
            yield from hanging("-", 2, self.say(says))
        yield from self._other_readings(finding)
        for name in finding.open_questions:
            yield from leading("open", self.say(self.ruleset.questions[name].asks), self.speak)
        if requirement.note:
            yield from heading(self.say(phrase("The maintainer's note")))
            yield from wrapped(requirement.note, "")
        yield from heading(self.say(phrase("Sources")))
        known = dict.fromkeys(source.id for source in finding.sources)
        known |= dict.fromkeys(
            name for names in deadline_sources(finding.deadline) for name in names)
        for name in known:
            yield from self._source(self.ruleset.sources[name])

    def _tree(self, reason: Reason, depth: int, shown: set[str]) -> Iterator[str]:
        """Yield a reason and those below it; what a definition comes to is told once."""
        mark = self._outcome(reason.outcome)
        lead = f"{'  ' * depth}{'>' if reason.decisive else ' '} {mark} "
        text = self.say(reason.says)
        if reason.layer not in ("", self.ruleset.jurisdiction):
            text = self.say(phrase("{says} (rule of: {layer})", says=text, layer=reason.layer))
        again = reason.kind == "definition" and reason.name in shown and bool(reason.children)
        if again:
            text = self.say(phrase("{says} (as above)", says=text))
        elif reason.sources:
            text += f" [{', '.join(reason.sources)}]"
        yield from hanging(lead, 2 * depth + self.outcome_width + 3, text, gap="")
        shown.add(reason.name)
        for child in () if again else reason.children:
            yield from self._tree(child, depth + 1, shown)

    def _source(self, source: Source) -> Iterator[str]:
        yield from hanging("-", 2, f"[{source.id}] {source.citation}")
        says = phrase("{kind}; last checked {day}, to be looked at again by {again}",
                      kind=phrase(source.kind), day=source.checked, again=source.look_again)
        yield from wrapped(self.say(says), "  ")
        if source.address:
            yield f"  {source.address}"


def _after_verdict(sentence: str) -> str:
    """Leave out the verdict where a heading or mark has said it already."""
    _, _, rest = sentence.partition(": ")
    return rest or sentence
