"""A whole ruleset as one page that a committee can read, print and sign.

Every rule is said in the words that explanations use; the newest edition first, history below it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from regkit.language import Phrase, Speaker, phrase, speaker
from regkit.model.outline import Outline
from regkit.model.ruleset import Edition, Example, Ruleset, Source
from regkit.show.page import render
from regkit.show.rule_words import (
    charge_details,
    counting_details,
    evidence_details,
    requirement_details,
    route_details,
    say_in_force,
)

if TYPE_CHECKING:
    from regkit.conditions import Condition

Outliner = Callable[["Condition", Edition], Outline]
"""Returns a condition of an edition in outline."""

WORDS = {
    "covers": "What these rules cover",
    "does_not_cover": "What they do not cover",
    "cautions": "To bear in mind",
    "contents": "What is in here",
    "sources": "Where it is stated",
    "examples": "Worked examples",
    "questions": "Open and closed questions",
    "history": "Other editions",
    "dissent": "Another official source says otherwise",
    "why": "Why",
    "note": "Note",
    "sign": "Read and approved",
    "name": "Name",
    "day": "Day",
    "signature": "Signature",
    "checked": "last looked at",
    "look_again": "look again by",
    "kind": "kind",
    "every_case": "In every case.",
}
DETAILS = {
    "waits": "Waits for", "window": "By when", "needs": "Needs", "gives": "Gives",
    "takes": "Takes", "charges": "Costs", "late": "If late", "inspects": "An inspector looks at",
    "cautions": "Caution", "issued": "Issued by", "shows": "Shows", "form": "Form",
    "stands in": "Stands in for", "amount": "How much", "paid to": "Paid to",
    "counting": "Counting", "declares": "Declares", "agree": "Must agree",
}
CHAPTERS = {
    "definitions": "Named conditions",
    "evidence": "Papers",
    "charges": "Fees, duties, taxes and penalties",
    "counting": "How days are counted",
    "routes": "Ways into the country",
    "crosschecks": "What must agree",
}
EXPECTED = {
    "yes": "yes", "no": "no", "undecided": "undecided", "required": "required",
    "not required": "not required",
}
"""The outcomes that examples expect in words; days and amounts stand as they are."""


def ruleset_page(
    ruleset: Ruleset, on: date, outline: Outliner, language: str = "en"
) -> str:
    """Return the page.

    Args:
        on: the day as of which it says what is in force.
        outline: says a condition, part below part.

    Raises:
        ImportError: Jinja2 is not installed.
    """
    page = _Page(ruleset, on, outline, speaker(language))
    say = page.say
    own = [s for s in ruleset.sources.values() if s.layer == ruleset.jurisdiction]
    return render(
        "ruleset.html",
        language=language,
        title=say(ruleset.title),
        about=say(phrase("Rules of {code}, version {version} ({digest}), as of {day}",
                         code=ruleset.jurisdiction, version=ruleset.version,
                         digest=ruleset.digest[:12], day=on)),
        words={name: say(phrase(text)) for name, text in WORDS.items()},
        covers=[say(text) for text in ruleset.covers],
        does_not_cover=[say(text) for text in ruleset.does_not_cover],
        cautions=[say(text) for text in ruleset.cautions],
        chapters=[chapter for chapter in page.chapters() if chapter["entries"]],
        questions=[page.question(name) for name in ruleset.questions],
        sources=[page.source(source) for source in sorted(own, key=lambda s: (s.rank, s.id))],
        foot=say(phrase("This page informs. It replaces neither the texts it names nor the "
                        "authority's decision.")),
    )


@dataclass(frozen=True)
class _Page:
    ruleset: Ruleset
    on: date
    outline: Outliner
    speak: Speaker

    def say(self, said: Any) -> str:
        return self.speak.say(said)

    def chapters(self) -> Iterator[dict[str, Any]]:
        rules = self.ruleset
        yield self._chapter("definitions", rules.definitions)
        for stage, title in rules.stages.items():
            here = {name: history for name, history in rules.requirements.items()
                    if history.latest.stage == stage}
            yield {"id": f"stage-{stage}", "title": self.say(title), "entries": self._entries(here)}
        yield self._chapter("evidence", rules.evidence)
        yield self._chapter("charges", rules.charges)
        yield self._chapter("counting", rules.counting)
        yield self._chapter("routes", rules.routes)
        yield self._chapter("crosschecks", rules.crosschecks)

    def _chapter(self, kind: str, histories: Mapping[str, Any]) -> dict[str, Any]:
        return {"id": kind, "title": self.say(phrase(CHAPTERS[kind])),
                "entries": self._entries(histories)}

    def _entries(self, histories: Mapping[str, Any]) -> list[dict[str, Any]]:
        return [self._entry(history) for history in histories.values()
                if history.latest.layer == self.ruleset.jurisdiction]

    def _entry(self, history: Any) -> dict[str, Any]:
        shown = history.on(self.on) or history.latest
        others = [edition for edition in reversed(history.editions) if edition is not shown]
        governed = self.ruleset.vocabulary.get(history.governed_by)
        return {
            "id": history.id,
            "title": self.say(shown.title),
            "why": self.say(shown.why) if getattr(shown, "why", None) else "",
            "authority": self._authority(shown),
            "governed": "" if governed is None else self.say(
                phrase("The edition of this day counts: {label}", label=governed.label)),
            "shown": self._edition(shown),
            "others": [self._edition(edition) for edition in others],
            "examples": [self._example(example, history.id)
                         for example in self.ruleset.examples.values()
                         if any(history.id in names for names in example.expect.values())],
        }

    def _authority(self, edition: Any) -> str:
        known = self.ruleset.authorities.get(getattr(edition, "authority", ""))
        return self.say(known.title) if known else ""

    def _edition(self, edition: Any) -> dict[str, Any]:
        when = getattr(edition, "when", None)
        return {
            "in_force": self.say(say_in_force(edition, self.on)),
            "title": self.say(edition.title),
            "rule": None if when is None else self._lines(self.outline(when, edition)),
            "has_rule": hasattr(edition, "when") and (when is not None or hasattr(edition, "why")),
            "details": [(self.say(phrase(DETAILS[name])), self.say(says))
                        for name, says in _details(edition, self.ruleset)],
            "dissents": [
                {"says": self.say(dissent.says), "sources": dissent.sources,
                 "rule": self._lines(self.outline(dissent.when, edition))}
                for dissent in getattr(edition, "dissents", ())
            ],
            "note": edition.note,
            "sources": [self._named(name) for name in edition.sources],
            "questions": edition.questions,
        }

    def _lines(self, outline: Outline) -> dict[str, Any] | None:
        """Return a rule as nested lines; None if it holds in every case."""
        if outline.kind == "all" and not outline.parts:
            return None
        return {"says": self.say(outline.says), "kind": outline.kind, "name": outline.name,
                "parts": [self._lines(part) for part in outline.parts]}

    def _named(self, name: str) -> dict[str, str]:
        source = self.ruleset.sources[name]
        return {"id": name, "citation": source.citation, "kind": self.say(phrase(source.kind)),
                "own": "yes" if source.layer == self.ruleset.jurisdiction else ""}

    def _example(self, example: Example, name: str) -> str:
        expected = [names[name] for part, names in example.expect.items()
                    if name in names and part not in ("cautions", "papers", "periods")]
        words = [{True: "yes", False: "no"}.get(value, str(value)) for value in expected]
        said = tuple(phrase(EXPECTED[word]) if word in EXPECTED else phrase("{word}", word=word)
                     for word in words)
        return self.say(phrase("{title} ({day}): {outcomes}" if said else "{title} ({day})",
                               title=example.title, day=example.on, outcomes=said))

    def question(self, name: str) -> dict[str, Any]:
        question = self.ruleset.questions[name]
        closed = question.closed
        return {
            "id": name, "asks": self.say(question.asks),
            "state": self.say(phrase("open since {day}", day=question.opened) if closed is None
                              else phrase("closed on {day}", day=closed)),
            "answer": "" if question.answer is None else self.say(question.answer),
        }

    def source(self, source: Source) -> dict[str, str]:
        return {
            "id": source.id, "citation": source.citation, "address": source.address,
            "kind": self.say(phrase(source.kind)), "note": source.note,
            "checked": self.say(phrase("{day}", day=source.checked)),
            "look_again": self.say(phrase("{day}", day=source.look_again)),
        }


def _details(edition: Any, ruleset: Ruleset) -> Iterator[tuple[str, Phrase]]:
    kind = type(edition).__name__
    if kind == "Requirement":
        yield from requirement_details(edition, ruleset)
    elif kind == "Evidence":
        yield from evidence_details(edition, ruleset)
    elif kind == "Charge":
        yield from charge_details(edition, ruleset)
    elif kind == "Counting":
        yield from counting_details(edition)
    elif kind == "Route":
        yield from route_details(edition, ruleset)
    elif kind == "CrossCheck":
        labels = tuple(ruleset.vocabulary[name].label for name in edition.agree)
        yield "agree", phrase("{labels}", labels=labels)
