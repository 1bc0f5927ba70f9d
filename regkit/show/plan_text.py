"""A plan as a checklist in order, 80 columns wide: what now, what waits for what, by when."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Phrase, Speaker, joined, phrase, plural, speaker
from regkit.model.assessment import Assessment, Verdict
from regkit.model.deadline import Progress
from regkit.model.plan import Missing, Plan, Step, StepState, ToGet
from regkit.show.deadline_text import say_due, say_late, say_late_charge, say_met
from regkit.show.lines import hanging, heading, leading, wrapped
from regkit.show.plan_words import say_cost, say_days, say_end, say_when, title_of
from regkit.show.ways_text import way_lines

MARKS = {
    StepState.DONE: "[x]",
    StepState.READY: "[ ]",
    StepState.NEEDS_PAPERS: "[ ]",
    StepState.WAITING: "[.]",
    StepState.STUCK: "[!]",
}
HEADINGS = (
    ("Done", (StepState.DONE,)),
    ("Ready now", (StepState.READY,)),
    ("Ready once you have the papers", (StepState.NEEDS_PAPERS,)),
    ("Waiting for other steps", (StepState.WAITING,)),
    ("Cannot be done as things stand", (StepState.STUCK,)),
)


def plan_lines(assessment: Assessment, language: str = "en") -> Iterator[str]:
    """Yield the lines of an assessment's plan."""
    page = _Page(assessment, speaker(language))
    yield from page.head()
    yield from page.steps()
    yield from page.papers()
    yield from way_lines(assessment, language)
    yield from page.foot()


class _Page:
    def __init__(self, assessment: Assessment, speak: Speaker) -> None:
        self.assessment = assessment
        self.plan: Plan = assessment.plan
        self.ruleset = assessment.ruleset
        self.speak = speak
        self.say = speak.say

    def head(self) -> Iterator[str]:
        yield self.say(phrase("Plan for {place}, from {day}", place=self.ruleset.title,
                              day=self.plan.on))
        if self.assessment.case.title:
            yield from wrapped(self.assessment.case.title, "")
        yield ""
        if self.plan.finish is None:
            yield from wrapped(self.say(phrase("Not all of it can be done; see below.")), "")
            yield from wrapped(self.say(phrase("Charges of the steps still to take: {cost}.",
                                               cost=say_cost(self.plan.cost, self.ruleset))), "")
        else:
            yield from wrapped(self.say(say_end(self.plan, self.ruleset)), "")
        if any(finding.deadline and finding.deadline.charges
               for finding in self.assessment.findings):
            yield from wrapped(self.say(phrase(
                "What being late costs is not counted in it; it stands with its step.")), "")

    def steps(self) -> Iterator[str]:
        for title, states in HEADINGS:
            found = self.plan.in_state(*states)
            if found:
                yield from heading(self.say(phrase(title)))
            for step in found:
                yield from self._step(step)

    def _step(self, step: Step) -> Iterator[str]:
        finding = self.assessment.finding(step.requirement)
        yield from hanging(MARKS[step.state], 4, self.say(finding.requirement.title))
        if finding.met is not None and step.state == StepState.DONE:
            yield from leading("done", self.say(say_met(finding.met, self.ruleset)), self.speak)
        if step.state != StepState.DONE:
            for lead, says in self._about(step):
                yield from leading(lead, self.say(says), self.speak)
        deadline = finding.deadline
        if deadline is not None and deadline.late is not None and deadline.late.most:
            yield from leading("late", self.say(say_late(deadline, finding.progress)), self.speak)
        for charge in deadline.charges if deadline is not None else ():
            yield from leading("cost", self.say(say_late_charge(charge, self.ruleset)), self.speak)

    def _about(self, step: Step) -> Iterator[tuple[str, Phrase]]:
        deadline = self.assessment.finding(step.requirement).deadline
        if deadline is not None and deadline.first is not None:
            yield "by", (phrase("at once, from {day}", day=deadline.first) if deadline.at_once
                         else say_due(deadline))
        if step.start is not None and step.finish is not None:
            yield "when", say_when(step)
        for part in step.missing:
            yield "needs", self._missing(part)
        if step.perhaps:
            yield "mind", phrase("it is not settled yet whether this applies")
        if not step.demanded:
            yield "mind", phrase("not demanded for itself; taken for the paper it gives")
        if step.spare:
            yield "spare", plural("may slip by {count} day and not delay the end",
                                  "may slip by {count} days and not delay the end",
                                  count=step.spare)
        if self.assessment.finding(step.requirement).progress == Progress.OVERDUE:
            return
        if step.hopeless:
            yield "mind", phrase("even if all goes fast this is finished after its last day; "
                                 "ask for more time now, if anybody can give it")
        elif step.margin is not None and step.margin < 0:
            yield "mind", plural(
                "if all goes slowly this is finished {count} day after its last day",
                "if all goes slowly this is finished {count} days after its last day",
                count=-step.margin)

    def _missing(self, part: Missing) -> Phrase:
        paper = phrase("{paper}", paper=self.ruleset.evidence[part.evidence].latest.title)
        if part.perhaps:
            paper = phrase("{paper} (perhaps)", paper=paper)
        if part.step:
            title = self.assessment.finding(part.step).requirement.title
            return phrase("{paper}, from: {step}", paper=paper, step=title)
        if part.outside:
            return phrase("{paper}, to get", paper=paper)
        return phrase("{paper}, which nothing gives", paper=paper)

    def papers(self) -> Iterator[str]:
        if self.plan.to_get:
            yield from heading(self.say(phrase("Papers to get")))
        for paper in self.plan.to_get:
            yield from hanging("[ ]", 4, self.say(self._to_get(paper)))

    def _to_get(self, paper: ToGet) -> Phrase:
        title = self.ruleset.evidence[paper.evidence].latest.title
        parts = []
        if paper.duration_kind:
            parts.append(phrase("there by {days} ({kind})", days=say_days(paper.ready),
                                kind=phrase(paper.duration_kind)))
        if paper.cost.most or paper.cost.unknown:
            parts.append(say_cost(paper.cost, self.ruleset))
        return joined(phrase("{title}", title=title), *parts, by="; ")

    def foot(self) -> Iterator[str]:
        for sentence in self.plan.dead_ends:
            yield ""
            yield from wrapped(self.say(sentence), "")
        for circle in self.plan.circles:
            titles = tuple(self.assessment.finding(name).requirement.title for name in circle)
            yield ""
            yield from wrapped(self.say(phrase("These steps wait for each other: {steps}",
                                               steps=titles)), "")
        yield from heading(self.say(phrase("How to read the days")))
        path = tuple(title_of(self.assessment, name) for name in self.plan.path)
        if path:
            yield from hanging("-", 2, self.say(phrase("What decides the end: {path}", path=path)))
        for sentence in self._kinds():
            yield from hanging("-", 2, self.say(sentence))
        if self.plan.waits:
            yield from heading(self.say(phrase("Later, once it happens")))
        for name in self.plan.waits:
            title = self.assessment.finding(name).requirement.title
            yield from hanging("-", 2, self.say(title))
        yield from heading(self.say(phrase("Bear in mind")))
        for caution in self.assessment.cautions:
            yield from hanging("-", 2, self.say(caution))

    def _kinds(self) -> Iterator[Phrase]:
        kinds = {step.duration_kind for step in self.plan.steps if step.duration_kind}
        kinds |= {paper.duration_kind for paper in self.plan.to_get if paper.duration_kind}
        if kinds:
            yield phrase("How long things take rests on: {kinds}",
                         kinds=tuple(phrase(kind) for kind in sorted(kinds)))
        if self.plan.finish is not None and self.plan.finish.or_later:
            yield phrase("'or later' marks days that count no time for steps and papers whose "
                         "length nobody states.")
        if any(self.assessment.finding(step.requirement).verdict == Verdict.UNDECIDED
               for step in self.plan.steps):
            yield phrase("Steps that may not apply are in the plan until that is settled.")
