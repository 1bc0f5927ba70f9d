"""Every source that an assessment rests on, or names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from regkit.model.deadline_document import deadline_sources
from regkit.model.paperwork_document import paperwork_sources
from regkit.model.ruleset import Source

if TYPE_CHECKING:
    from regkit.model.assessment import Assessment, ClassFinding, Finding


def used_sources(assessment: Assessment) -> dict[str, Source]:
    """Return the sources of findings, classes, other readings, deadlines, bills and cross-checks.

    The keys are their identifiers, in alphabetical order.
    """
    known = assessment.ruleset.sources
    explained: tuple[Finding | ClassFinding, ...] = (*assessment.findings, *assessment.classes)
    used = {source.id: source for found in explained for source in found.sources}
    used |= {source.id: source for source in paperwork_sources(assessment)}
    named = [other.sources for found in explained for other in found.other_readings]
    for finding in assessment.findings:
        named += [announced.sources for announced in finding.announced]
        named += deadline_sources(finding.deadline)
    used |= {name: known[name] for names in named for name in names}
    return {name: used[name] for name in sorted(used)}
