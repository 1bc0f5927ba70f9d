"""What the parts of the report share: who speaks, and how steps, facts and sources are linked."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from html import escape
from typing import Any

from regkit.language import Phrase, phrase
from regkit.model.assessment import Assessment
from regkit.model.packet import Packet
from regkit.model.plan import Step, StepState
from regkit.model.ruleset import Source
from regkit.model.used_sources import used_sources
from regkit.show.html_words import Html, HtmlSpeaker

GROUPS = (
    ("Ready now", StepState.READY),
    ("Ready once you have the papers", StepState.NEEDS_PAPERS),
    ("Waiting for other steps", StepState.WAITING),
    ("Cannot be done as things stand", StepState.STUCK),
    ("Done", StepState.DONE),
)
"""The headings of the checklist, in their order, and the steps that stand under each."""


@dataclass(frozen=True)
class ReportPage:
    """An assessment, and the speaker that says it."""

    assessment: Assessment
    speak: HtmlSpeaker

    def say(self, said: Any) -> Html:
        """Return words as HTML."""
        return self.speak.say(said)

    @cached_property
    def groups(self) -> tuple[tuple[Html, tuple[Step, ...]], ...]:
        """The steps of the plan in the order of the checklist, under their headings."""
        in_state = self.assessment.plan.in_state
        return tuple((self.say(phrase(title)), in_state(state))
                     for title, state in GROUPS if in_state(state))

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The steps of the plan in the order of the checklist."""
        return tuple(step for _, steps in self.groups for step in steps)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The number of each step of the checklist that is not done, by requirement."""
        left = (step for step in self.steps if step.state != StepState.DONE)
        return {step.requirement: number for number, step in enumerate(left, 1)}

    @cached_property
    def packets(self) -> dict[str, Packet]:
        """The papers of each step that is not done, by requirement."""
        return {name: self.assessment.packet(name) for name in self.numbers}

    def link(self, requirement: str) -> Html:
        """Return the title of a finding as a link to it, behind its number in the checklist."""
        title = self.say(self.assessment.finding(requirement).requirement.title)
        number = self.numbers.get(requirement)
        lead = "" if number is None else f"{number}. "
        return Html(f'<a href="#finding-{escape(requirement)}">{lead}{title}</a>')

    def fact_link(self, name: str) -> Html:
        """Return the label of an open fact as a link to its question."""
        label = self.say(self.assessment.ruleset.vocabulary[name].label)
        return Html(f'<a href="#fact-{escape(name)}">{label}</a>')

    def number_link(self, requirement: str) -> Html:
        """Return a link to a step of the checklist that says its number alone."""
        says = self.say(phrase("step {number}", number=self.numbers[requirement]))
        return Html(f'<a href="#finding-{escape(requirement)}">{says}</a>')

    @cached_property
    def sources(self) -> dict[str, Source]:
        """The sources of the assessment, the strongest kind first, then as they were checked."""
        used = used_sources(self.assessment).values()
        return {source.id: source for source in sorted(
            used, key=lambda s: (s.rank, s.checked, s.look_again, s.id))}

    @cached_property
    def source_numbers(self) -> dict[str, int]:
        """The number each source has in the list."""
        return {name: number for number, name in enumerate(self.sources, 1)}

    def marks(self, names: Iterable[str]) -> list[dict[str, Any]]:
        """Return what the page needs to link to sources."""
        known = self.source_numbers
        return sorted(({"id": name, "number": known[name]} for name in dict.fromkeys(names)
                       if name in known), key=lambda mark: mark["number"])

    def kinds(self, names: Iterable[str]) -> tuple[Phrase, ...]:
        """Return the kinds of some sources, each once, the strongest first."""
        found = sorted({self.assessment.ruleset.sources[name].rank: name for name in names}.items())
        return tuple(phrase(self.assessment.ruleset.sources[name].kind) for _, name in found)
