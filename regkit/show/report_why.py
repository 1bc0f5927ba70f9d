"""Why, in the report: the reasons of findings and classes, each named condition explained once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from regkit.language import Phrase, Text, phrase
from regkit.model.assessment import ClassFinding, Finding, Reason, Verdict
from regkit.model.deadline_document import deadline_sources
from regkit.show.paper_words import some
from regkit.show.report_page import ReportPage
from regkit.show.resting_text import resting_lines
from regkit.show.settling import settling_lines

Tree = dict[str, Any]
"""A reason as the page needs it, with those below it under `children`."""


class Reasons:
    """The trees of reasons of one report.

    A named condition is explained in one place and linked to from wherever it matters. Should it
    have come about otherwise somewhere, it is explained there again.
    """

    def __init__(self, page: ReportPage) -> None:
        self.page = page
        self.classes = {found.id: found.reason for found in page.assessment.classes}
        self.first = dict(self.classes)

    def whole(self, reason: Reason) -> Tree:
        """Return a reason as a tree, with named conditions below it as links."""
        return self._node(reason, [self._below(child) for child in reason.children])

    def named(self) -> dict[str, Tree]:
        """Return the named conditions that were linked to, and what they link to themselves."""
        trees: dict[str, Tree] = {}
        while missing := set(self.first) - set(trees):
            trees |= {name: self.whole(self.first[name]) for name in missing}
        return trees

    def _below(self, reason: Reason) -> Tree:
        if reason.kind != "definition" or not reason.children:
            return self.whole(reason)
        if not alike(self.first.setdefault(reason.name, reason), reason):
            return self.whole(reason)
        place = "class" if reason.name in self.classes else "named"
        return self._node(reason, [], f"{place}-{reason.name}")

    def _node(self, reason: Reason, children: list[Tree], link: str = "") -> Tree:
        page, says = self.page, reason.says
        if reason.layer not in ("", page.assessment.ruleset.jurisdiction):
            says = phrase("{says} (rule of: {layer})", says=says, layer=reason.layer)
        return {
            "says": page.say(says),
            "outcome": reason.outcome.name.lower(),
            "word": page.say(phrase(reason.outcome.value)),
            "decisive": reason.decisive,
            "sources": page.marks(reason.sources),
            "children": children,
            "link": link,
            "named": reason.name if link else "",
        }


def explained(
    page: ReportPage, reasons: Reasons, findings: Iterable[dict[str, Any]]
) -> tuple[list[dict[str, Any]], list[Tree]]:
    """Return the classes, and the other named conditions.

    Those are `printed` that apply or may, and all that they or the findings rest on; of others
    paper says no reasons.
    """
    classes = [_why_class(page, reasons, found) for found in page.assessment.classes]
    named = reasons.named()
    printed = {found["id"] for found in classes if found["outcome"] != "no"}
    ahead = [name for found in (*(one["reason"] for one in findings),
                                *(named[name] for name in printed))
             for name in _rests_on(found)]
    while ahead:
        if (name := ahead.pop()) not in printed:
            printed.add(name)
            ahead += _rests_on(named[name])
    return ([{**found, "printed": found["id"] in printed} for found in classes],
            [{"id": name, "printed": name in printed, **named[name]}
             for name in page.assessment.ruleset.definitions
             if name in named and name not in reasons.classes])


def _rests_on(tree: Tree) -> Iterator[str]:
    """Yield the named conditions that what decides a tree links to."""
    if tree["named"]:
        yield tree["named"]
    for child in tree["children"]:
        if child["decisive"]:
            yield from _rests_on(child)


def alike(one: Reason, other: Reason) -> bool:
    """Whether two reasons say the same, all the way down."""
    return (one.outcome, one.sources, one.says) == (other.outcome, other.sources, other.says) and (
        len(one.children) == len(other.children)
        and all(map(alike, one.children, other.children)))


def why_finding(page: ReportPage, reasons: Reasons, finding: Finding) -> dict[str, Any]:
    """Return the whole explanation of one finding."""
    requirement, ruleset = finding.requirement, page.assessment.ruleset
    named = [source.id for source in finding.sources]
    named += [name for names in deadline_sources(finding.deadline) for name in names]
    return {
        "id": finding.id,
        "title": page.say(requirement.title),
        "verdict": finding.verdict.name.lower(),
        "word": page.say(phrase(finding.verdict.value)),
        "why": page.say(requirement.why),
        "sentence": page.say(finding.sentence),
        "hangs": page.say(_hangs_on(page, finding)),
        "settling": [] if finding.waits_for else [
            page.say(says) for says in settling_lines(finding, ruleset.vocabulary)],
        "resting": [page.say(says) for says in resting_lines(page.assessment, finding)],
        "reason": reasons.whole(finding.reason),
        "others": other_readings(page, finding),
        "announced": [
            page.say(phrase("announced, may change on {day}: then {verdict}",
                            day=announced.on or phrase("a day not yet fixed"),
                            verdict=phrase(announced.verdict.value)))
            for announced in finding.announced
        ],
        "questions": [page.say(ruleset.questions[name].asks) for name in finding.open_questions],
        "note": page.say(Text.of(requirement.note)),
        "layer": "" if requirement.layer == ruleset.jurisdiction else page.say(phrase(
            "Stated by the rules of {layer}, which these build on.", layer=requirement.layer)),
        "rests": page.say(phrase("Rests on {kind}, last checked {day}.",
                                 kind=phrase(finding.weakest), day=finding.oldest_check)),
        "sources": page.marks(named),
    }


def _why_class(page: ReportPage, reasons: Reasons, found: ClassFinding) -> dict[str, Any]:
    """Return a class, whether the case belongs to it, and why."""
    return {
        "id": found.id,
        "title": page.say(found.title),
        "outcome": found.outcome.name.lower(),
        "word": page.say(phrase(found.outcome.value)),
        "sentence": page.say(found.sentence),
        "reason": reasons.whole(found.reason),
        "others": other_readings(page, found),
    }


def other_findings(page: ReportPage, reasons: Reasons) -> list[dict[str, Any]]:
    """Return the findings that are no steps of the checklist, under headings.

    Of those that do not apply, or not yet, paper says the sentence alone: they are `brief`.
    """
    groups: dict[str, list[dict[str, Any]]] = {
        "required": [], "undecided": [], "waits": [], "not_required": []}
    steps = {step.requirement for step in page.steps}
    for finding in page.assessment.findings:
        if finding.id not in steps:
            kind = "waits" if finding.waits_for else finding.verdict.name.lower()
            groups[kind].append(why_finding(page, reasons, finding))
    return [{"kind": kind, "brief": kind in ("waits", "not_required"), "findings": found}
            for kind, found in groups.items() if found]


def _hangs_on(page: ReportPage, finding: Finding) -> Phrase:
    """Say what an undecided answer hangs on; nothing where it is decided or waits for an event."""
    if finding.verdict != Verdict.UNDECIDED or finding.waits_for:
        return phrase("")
    facts = tuple(phrase("{fact}", fact=page.fact_link(name)) for name in finding.settles)
    if not facts:
        return phrase("Whether this applies hangs on a rule that is not settled itself.")
    return phrase("Whether this applies hangs on: {facts}.", facts=some(facts))


def other_readings(page: ReportPage, found: Finding | ClassFinding) -> list[dict[str, Any]]:
    """Return what other official sources say where it would change the answer."""
    return [
        {"says": page.say(other.says), "verdict": page.say(phrase(other.verdict.value)),
         "sources": page.marks(other.sources)}
        for other in found.other_readings
    ]
