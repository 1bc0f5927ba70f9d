"""A plan as JSON data. `schemas/plan.schema.json` describes it."""

from __future__ import annotations

from typing import Any

from regkit.language import Speaker, speaker, spoken
from regkit.model.assessment import Assessment
from regkit.model.deadline_document import iso
from regkit.model.plan import Choice, Cost, Days, Missing, Step, ToGet, Way
from regkit.model.ruleset import Ruleset

FORMAT = 1


def plan_document(assessment: Assessment, language: str = "en") -> dict[str, Any]:
    """Return the plan of an assessment as JSON data, its texts in one language."""
    plan, ruleset, speak = assessment.plan, assessment.ruleset, speaker(language)
    return {
        "format": FORMAT,
        "ruleset": {"jurisdiction": ruleset.jurisdiction, "version": ruleset.version,
                    "digest": ruleset.digest},
        "on": plan.on.isoformat(),
        "language": spoken(language),
        "title": assessment.case.title or None,
        "finish": _days(plan.finish),
        "cost": _cost(plan.cost),
        "steps": [_step(step, assessment, speak) for step in plan.steps],
        "papers_to_get": [_to_get(paper, ruleset, speak) for paper in plan.to_get],
        "critical_path": list(plan.path),
        "choices": [_choice(choice, ruleset, speak) for choice in plan.choices],
        "exact": plan.exact,
        "dead_ends": [speak.say(end) for end in plan.dead_ends],
        "circles": [list(circle) for circle in plan.circles],
        "waits_for_an_event": [
            {"requirement": name, "event": assessment.finding(name).waits_for}
            for name in plan.waits
        ],
    }


def _step(step: Step, assessment: Assessment, speak: Speaker) -> dict[str, Any]:
    finding = assessment.finding(step.requirement)
    deadline = finding.deadline
    return {
        "requirement": step.requirement,
        "title": speak.say(finding.requirement.title),
        "authority": finding.requirement.authority,
        "state": step.state.value,
        "verdict": finding.verdict.value,
        "progress": finding.progress.value,
        "perhaps": step.perhaps,
        "demanded": step.demanded,
        "missing": [_missing(part, assessment.ruleset, speak) for part in step.missing],
        "start": _days(step.start),
        "finish": _days(step.finish),
        "act_by": iso(deadline.first) if deadline else None,
        "margin": step.margin,
        "too_late_at_best": step.hopeless,
        "spare": step.spare,
        "critical": step.critical,
        "duration_rests_on": step.duration_kind or None,
        "done_on": iso(finding.met.on) if finding.met else None,
    }


def _missing(part: Missing, ruleset: Ruleset, speak: Speaker) -> dict[str, Any]:
    return {
        "evidence": part.evidence,
        "title": speak.say(ruleset.evidence[part.evidence].latest.title),
        "given_by": part.step or None,
        "from_outside": part.outside,
        "perhaps": part.perhaps,
    }


def _to_get(paper: ToGet, ruleset: Ruleset, speak: Speaker) -> dict[str, Any]:
    return {
        "evidence": paper.evidence,
        "title": speak.say(ruleset.evidence[paper.evidence].latest.title),
        "for": list(paper.steps),
        "ready": _days(paper.ready),
        "cost": _cost(paper.cost),
        "duration_rests_on": paper.duration_kind or None,
    }


def _choice(choice: Choice, ruleset: Ruleset, speak: Speaker) -> dict[str, Any]:
    return {
        "requirement": choice.requirement,
        "ways": [_way(way) for way in choice.ways],
        "chosen": choice.chosen,
        "fastest": choice.fastest,
        "cheapest": choice.cheapest,
    }


def _way(way: Way) -> dict[str, Any]:
    return {
        "papers": list(way.papers),
        "steps": list(way.steps),
        "step_finish": _days(way.finish),
        "plan_cost": _cost(way.cost) if way.cost else None,
        "plan_papers": way.papers_to_get,
        "undecided": way.undecided,
        "open_questions": way.open_questions,
        "untimed": list(way.untimed),
        "weakest": way.weakest or None,
    }


def _days(days: Days | None) -> dict[str, Any] | None:
    if days is None:
        return None
    return {"first": days.first.isoformat(), "last": days.last.isoformat(),
            "or_later": days.or_later}


def _cost(cost: Cost) -> dict[str, Any]:
    return {"least": str(cost.least), "most": str(cost.most), "currency": cost.currency,
            "unknown": list(cost.unknown)}
