"""What an assessment says about papers and costs, as JSON data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from regkit.language import Speaker, speaker
from regkit.model.bill_document import bills_document
from regkit.model.case import Case
from regkit.model.packet_document import need_document, paper_document, trouble_document
from regkit.model.ruleset import Source

if TYPE_CHECKING:
    from regkit.model.assessment import Assessment, Finding


def paperwork_document(assessment: Assessment, language: str) -> dict[str, Any]:
    """Return what the facts rest on, what does not agree, and what each route costs."""
    speak = speaker(language)
    case = assessment.case
    return {
        "facts_shown_by_papers": [
            {
                "fact": name,
                "value": speak.say(case.vocabulary[name].say(case.value(name))),
                "rests_on": [
                    {"declared": True} if witness.paper is None else
                    {"declared": False, "evidence": witness.paper.evidence,
                     "title": _title(assessment, witness.paper.evidence, speak),
                     "reference": witness.paper.reference or None}
                    for witness in rest.witnesses
                ],
                "agreement": rest.likeness.value,
            }
            for name, rest in sorted(case.resting.items())
        ],
        **trouble_document(assessment.paper_trouble, speak),
        "bills": bills_document(assessment.bills, language),
    }


def paperwork_sources(assessment: Assessment) -> Iterator[Source]:
    """Yield the sources of bills and cross-checks."""
    for bill in assessment.bills:
        yield from bill.sources
        for line in bill.lines:
            yield from line.sources
    for apart in assessment.paper_trouble.disagreements:
        yield from (assessment.ruleset.sources[name] for name in apart.sources)


def packet_of_finding(
    assessment: Assessment, finding: Finding, speak: Speaker
) -> list[dict[str, Any]]:
    """Return each need of a finding that applies or may, with what the case has for it."""
    if not finding.asks_for_papers:
        return []
    packet = assessment.packet(finding.id)
    return [need_document(check, speak) for check in packet.needs]


def written_paperwork(case: Case) -> dict[str, Any]:
    """Return papers, steps taken and exchange rates as a case file writes them."""
    written: dict[str, Any] = {}
    if case.papers:
        written["papers"] = [paper_document(paper) for paper in case.papers]
    if case.done:
        written["done"] = [
            {"requirement": done.requirement, "on": done.on.isoformat(),
             **({"reference": done.reference} if done.reference else {})}
            for done in case.done
        ]
    if case.rates:
        written["rates"] = [
            {"from": rate.one, "to": rate.to, "rate": f"{rate.rate:f}", "on": rate.on.isoformat(),
             "source": rate.source}
            for rate in case.rates
        ]
    return written


def _title(assessment: Assessment, evidence: str, speak: Speaker) -> str:
    return speak.say(assessment.ruleset.evidence[evidence].latest.title)
