"""Carrying a case to another jurisdiction.

What is told of the vehicle, the purchase and the journey is carried as it is: the same vehicle,
brought to the other country instead, on the same day and in the same way. What is told of one
country (first registered *here*, a duty after registration, a step done at its office) says nothing
of another and stays behind; the case may tell it for each country under `elsewhere`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from regkit.language import Phrase, phrase
from regkit.model.carried import Carried
from regkit.model.case import Case, Done, Paper
from regkit.model.ruleset import Ruleset
from regkit.model.values import NEVER, Value, choice, never

PLACE, FROM = "vehicle.place", "arrival.from"
FIRST, FIRST_HERE = "vehicle.first_registered", "vehicle.first_registered_here"


def carry(case: Case, home: Ruleset, there: Ruleset) -> Carried:
    """Return a case as it counts under another jurisdiction.

    Args:
        home: the ruleset the case was written for.
        there: the ruleset it is carried to; `home` itself changes nothing.
    """
    told = {name: value for layer in there.layers
            for name, value in case.elsewhere.get(layer, {}).items()}
    if there.jurisdiction == home.jurisdiction:
        not_asked = sorted({name for facts in case.elsewhere.values() for name in facts
                            if name not in there.vocabulary})
        return Carried(replace(case, facts=MappingProxyType({**case.facts, **told})),
                       not_asked=tuple(not_asked))
    return _Journey(case, home, there, told).carried()


class _Journey:
    def __init__(
        self, case: Case, home: Ruleset, there: Ruleset, told: Mapping[str, Value]
    ) -> None:
        self.case, self.home, self.there, self.told = case, home, there, told
        self.country = there.jurisdiction[:2]
        self.from_there = case.value(FROM).options == frozenset([self.country])
        self.settled_home = case.value(PLACE).options in (
            frozenset(["registered_here"]), frozenset(["found_here"]))
        self.abroad = self.country != home.jurisdiction[:2]

    def carried(self) -> Carried:
        kept = [paper for paper in self.case.papers if self._counts(paper)]
        lost = [paper for paper in self.case.papers if not self._counts(paper)]
        done = [done for done in self.case.done if self._shared(done)]
        facts = {**self.case.facts, **self._shown_by(lost)}
        behind = {name for name in facts if self._stays(name)}
        facts = {name: value for name, value in facts.items()
                 if name in self.there.vocabulary and name not in behind}
        facts |= self._of_the_journey()
        facts |= self.told
        behind -= set(facts)
        kept = [replace(paper, shows=MappingProxyType({
            name: value for name, value in paper.shows.items()
            if name in self.there.vocabulary and not self._stays(name)})) for paper in kept]
        return Carried(
            replace(
                self.case, jurisdiction=self.there.jurisdiction, papers=tuple(kept),
                facts=MappingProxyType(facts), done=tuple(done), vocabulary=self.there.vocabulary,
            ),
            left_behind=tuple(sorted(name for name in behind if name in self.there.vocabulary)),
            not_asked=tuple(sorted(self._not_asked())),
            notes=tuple(self._notes(behind, lost, done)),
        )

    def _stays(self, name: str) -> bool:
        """Whether a fact is told of the home country, or of coming there, alone."""
        fact = self.home.vocabulary[name]
        if not self.abroad:
            return False
        arrived = name.startswith("arrival.") or name == PLACE
        return fact.of_this_country or (arrived and (self.from_there or self.settled_home))

    def _of_the_journey(self) -> dict[str, Value]:
        """Return what follows for the other country from where the vehicle is."""
        found: dict[str, Value] = {}
        if self.abroad and self.settled_home:
            found |= {PLACE: choice("abroad"), FROM: choice(self.home.jurisdiction[:2])}
        if self.case.value(FIRST).word == NEVER:
            found[FIRST_HERE] = never()
        return {name: value for name, value in found.items() if name in self.there.vocabulary}

    def _counts(self, paper: Paper) -> bool:
        """Whether a paper is the same there: from the same law, or from outside in both."""
        mine = self.home.evidence[paper.evidence].latest
        history = self.there.evidence.get(paper.evidence)
        return history is not None and (
            history.latest.layer == mine.layer
            or (mine.from_outside and history.latest.from_outside))

    def _shared(self, done: Done) -> bool:
        """Whether a step taken is a step there too: one of a law that both build on."""
        history = self.there.requirements.get(done.requirement)
        mine = self.home.requirements[done.requirement].latest.layer
        return history is not None and history.latest.layer == mine

    def _shown_by(self, papers: Sequence[Paper]) -> dict[str, Value]:
        """Return what papers that do not count there show; contradictions stay open."""
        return {name: self.case.resting[name].value for paper in papers for name in paper.shows}

    def _not_asked(self) -> Iterator[str]:
        yield from (name for name in self.case.facts if name not in self.there.vocabulary)
        for code, facts in self.case.elsewhere.items():
            if code not in self.there.layers:
                yield from (name for name in facts if name not in self.there.vocabulary
                            and self.home.vocabulary.get(name) is None)

    def _notes(
        self, behind: set[str], lost: Sequence[Paper], done: Sequence[Done]
    ) -> Iterator[Phrase]:
        place = self.home.title
        if self.abroad and self.settled_home:
            yield phrase("Taken as coming from: {place}; the day and way of arrival are not told.",
                         place=place)
        elif self.from_there:
            yield phrase("It comes from this country; how it came to the other one does not count.")
        elif self.abroad and any(name.startswith("arrival.") for name in self.case.facts):
            yield phrase("Taken as brought here instead, on the same day and in the same way.")
        if behind:
            yield phrase("Told of one country alone ({place}), and so open here: {labels}",
                         place=place, labels=tuple(
                             self.home.vocabulary[name].label for name in sorted(behind)))
        if lost:
            yield phrase("Papers of one country alone ({place}); they meet no need here, and what "
                         "they show counts as told: {papers}", place=place, papers=tuple(
                             self.home.evidence[paper.evidence].latest.title for paper in lost))
        undone = [one for one in self.case.done if one not in done]
        if undone:
            yield phrase("Steps taken under another law ({place}), and so not done here: {steps}",
                         place=place, steps=tuple(
                             self.home.requirements[one.requirement].latest.title
                             for one in undone))
        if done:
            yield phrase("Steps of a law that both share count as done: {steps}", steps=tuple(
                self.home.requirements[one.requirement].latest.title for one in done))
