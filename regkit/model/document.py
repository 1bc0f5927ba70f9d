"""An assessment as JSON data. `schemas/assessment.schema.json` describes it; no field is ever
removed or changed in meaning within a major version.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from regkit.language import Speaker, speaker, spoken
from regkit.model.case import Case
from regkit.model.deadline_document import standing_document
from regkit.model.engine import ENGINE
from regkit.model.paperwork_document import (
    packet_of_finding,
    paperwork_document,
    written_paperwork,
)
from regkit.model.ruleset import Need, Source
from regkit.model.used_sources import used_sources

if TYPE_CHECKING:
    from regkit.model.assessment import Assessment, ClassFinding, Finding, Reason

FORMAT = 1


def assessment_document(assessment: Assessment, language: str) -> dict[str, Any]:
    """Return an assessment as JSON data, its texts in one language."""
    say = speaker(language).say
    ruleset = assessment.ruleset
    return {
        "format": FORMAT,
        "ruleset": {
            "jurisdiction": ruleset.jurisdiction,
            "title": say(ruleset.title),
            "version": ruleset.version,
            "digest": ruleset.digest,
        },
        "engine": ENGINE,
        "on": assessment.on.isoformat(),
        "language": spoken(language),
        "case": case_document(assessment.case),
        "classes": [_class(found, language) for found in assessment.classes],
        "findings": [finding_document(found, assessment, language)
                     for found in assessment.findings],
        **paperwork_document(assessment, language),
        "sources": {name: _source(source)
                    for name, source in used_sources(assessment).items()},
        "cautions": [say(caution) for caution in assessment.cautions],
        "does_not_cover": [say(text) for text in ruleset.does_not_cover],
    }


def case_document(case: Case) -> dict[str, Any]:
    """Return a case as JSON data, as it was written."""
    written: dict[str, Any] = {"jurisdiction": case.jurisdiction}
    if case.title:
        written["title"] = case.title
    if case.on is not None:
        written["on"] = case.on.isoformat()
    written["facts"] = {name: value.written for name, value in sorted(case.facts.items())}
    if case.elsewhere:
        written["elsewhere"] = {
            code: {name: value.written for name, value in sorted(facts.items())}
            for code, facts in sorted(case.elsewhere.items())
        }
    return {**written, **written_paperwork(case)}


def finding_document(
    finding: Finding, assessment: Assessment, language: str
) -> dict[str, Any]:
    """Return one finding as JSON data, its texts in one language."""
    speak = speaker(language)
    requirement, ruleset = finding.requirement, assessment.ruleset
    authority = ruleset.authorities[requirement.authority]
    document: dict[str, Any] = {
        "requirement": finding.id,
        "title": speak.say(requirement.title),
        "why": speak.say(requirement.why),
        "stage": requirement.stage,
        "layer": requirement.layer,
        "authority": {"id": authority.id, "title": speak.say(authority.title)},
        "verdict": finding.verdict.value,
        "sentence": speak.say(finding.sentence),
        "reason": reason_document(finding.reason, speak),
        "settles": list(finding.settles),
        "ways_to_settle": {
            "smallest": [list(facts) for facts in finding.ways_to_settle.smallest],
            "exactness": [
                {"fact": exact.fact, "unit": exact.unit, "years": list(exact.years)}
                for exact in finding.ways_to_settle.exactness
            ],
        },
        "waits_for": finding.waits_for or None,
        "rests_on": {
            "weakest": finding.weakest,
            "oldest_check": finding.oldest_check.isoformat(),
            "sources": [source.id for source in finding.sources],
        },
        "other_readings": _other_readings(finding, speak),
        "may_change": [
            {"on": announced.on.isoformat() if announced.on else None,
             "verdict": announced.verdict.value, "title": speak.say(announced.title),
             "sources": list(announced.sources)}
            for announced in finding.announced
        ],
        "open_questions": [
            {"id": name, "asks": speak.say(ruleset.questions[name].asks)}
            for name in finding.open_questions
        ],
        "needs": [_need(need, assessment, speak) for need in requirement.needs],
        "packet": packet_of_finding(assessment, finding, speak),
        "gives": [
            {"evidence": name, "title": speak.say(ruleset.evidence[name].latest.title)}
            for name in requirement.gives
        ],
        "charges": list(requirement.charges),
        "cautions": [speak.say(caution) for caution in requirement.cautions],
    }
    if requirement.window is not None:
        window = requirement.window
        within = f"{window.within.count} {window.within.unit}" if window.within else "forthwith"
        document["window"] = {
            "within": within,
            "working_days": window.working,
            "of": list(window.of),
            "counting": window.counting,
            "before": window.back,
        }
    return document | standing_document(finding, speak)


def _class(found: ClassFinding, language: str) -> dict[str, Any]:
    speak = speaker(language)
    return {
        "id": found.id,
        "title": speak.say(found.title),
        "outcome": found.outcome.value,
        "sentence": speak.say(found.sentence),
        "reason": reason_document(found.reason, speak),
        "other_readings": _other_readings(found, speak),
        "sources": [source.id for source in found.sources],
    }


def _other_readings(found: Finding | ClassFinding, speak: Speaker) -> list[dict[str, Any]]:
    return [
        {"says": speak.say(other.says), "verdict": other.verdict.value,
         "about": other.about, "sources": list(other.sources)}
        for other in found.other_readings
    ]


def reason_document(reason: Reason, speak: Speaker) -> dict[str, Any]:
    """Return a reason tree as JSON data; what does not apply to a node is left out."""
    document: dict[str, Any] = {
        "kind": reason.kind,
        "outcome": reason.outcome.value,
        "decisive": reason.decisive,
        "says": speak.say(reason.says),
    }
    if reason.name:
        document["name"] = reason.name
    if reason.fact:
        document["fact"] = reason.fact
    if reason.value is not None:
        document["value"] = speak.say(reason.value)
    if reason.cut is not None:
        document["rule"] = speak.say(reason.cut)
    if reason.sources:
        document["sources"] = list(reason.sources)
    if reason.layer:
        document["layer"] = reason.layer
    if reason.settles:
        document["settles"] = list(reason.settles)
    if reason.children:
        document["because"] = [reason_document(child, speak) for child in reason.children]
    return document


def _need(need: Need, assessment: Assessment, speak: Speaker) -> dict[str, Any]:
    document: dict[str, Any] = {}
    if need.evidence:
        title = assessment.ruleset.evidence[need.evidence].latest.title
        document |= {"evidence": need.evidence, "title": speak.say(title)}
    else:
        document |= {
            "count": need.count,
            "of": [_need(part, assessment, speak) for part in need.parts],
        }
    if need.form:
        document["form"] = need.form
    if need.fresh is not None:
        document["no_older_than"] = f"{need.fresh.count} {need.fresh.unit}"
    if need.when is not None:
        document["when"] = speak.say(need.when.rule())
    return document


def _source(source: Source) -> dict[str, Any]:
    return {
        "kind": source.kind,
        "citation": source.citation,
        "address": source.address or None,
        "seen": source.seen or None,
        "checked": source.checked.isoformat(),
        "look_again": source.look_again.isoformat(),
    }
