"""One vehicle across several jurisdictions: classes, days, steps, papers, charges and facts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from regkit.compare.scenarios import charge_rows, class_rows, plan_rows, requirement_rows
from regkit.language import Phrase, phrase
from regkit.model.assessment import Assessment, Verdict
from regkit.model.carried import Across, Carried, Country
from regkit.model.case import Case
from regkit.model.scenarios import NONE, THERE, TO_GET, Row


def across(case: Case, carried: Sequence[Carried], assessments: Sequence[Assessment]) -> Across:
    """Return one case across several jurisdictions.

    Args:
        case: the case as its keeper wrote it.
        carried: the case as it counts in each jurisdiction, which `assessments` judge.

    Raises:
        ValueError: there are none, their numbers differ, or a jurisdiction comes twice.
    """
    found = tuple(assessments)
    codes = [one.ruleset.jurisdiction for one in found]
    if not found or len(found) != len(carried) or len(set(codes)) != len(codes):
        raise ValueError("name at least one jurisdiction, and each only once")
    countries = tuple(Country(one, judged) for one, judged in zip(carried, found, strict=True))
    rows = (*class_rows(found), *plan_rows(found), *requirement_rows(found), *_papers(found),
            *charge_rows(found), *_facts(found))
    return Across(case, countries, rows)


def _papers(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield a row for each paper that has to come from outside, or is there already."""
    needed = [_paper_states(one) for one in cases]
    for name in dict.fromkeys(name for papers in needed for name in papers):
        title = next(one.ruleset.evidence[name].latest.title
                     for one, papers in zip(cases, needed, strict=True) if name in papers)
        yield Row("paper", name, title, tuple(papers.get(name, NONE) for papers in needed))


def _paper_states(one: Assessment) -> dict[str, Phrase]:
    states = {paper.evidence: TO_GET for paper in one.plan.to_get}
    held = {paper.evidence for paper in one.case.papers}
    for finding in one.findings:
        if finding.verdict == Verdict.NOT_REQUIRED or finding.waits_for:
            continue
        for need in finding.requirement.needs:
            states |= {part.evidence: THERE for part in need.walk()
                       if part.evidence in held}
    return states


def _facts(cases: tuple[Assessment, ...]) -> Iterator[Row]:
    """Yield a row for each fact that a rule of any of the jurisdictions looks at."""
    asked = [{fact.name: fact for fact in one.ruleset.asked} for one in cases]
    for name in dict.fromkeys(name for facts in asked for name in facts):
        fact = next(facts[name] for facts in asked if name in facts)
        yield Row("fact", name, fact.label, tuple(
            NONE if name not in facts else
            fact.say(one.case.known[name]) if name in one.case.known else phrase("not told")
            for one, facts in zip(cases, asked, strict=True)))
