"""Written conditions to condition trees."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from regkit.conditions import All, AnyOf, Condition, Holds, NoneOf, Open, Test
from regkit.conditions.kinds import KINDS, Misread
from regkit.conditions.kinds.choice import Choice
from regkit.conditions.kinds.kind import Kind
from regkit.language import Phrase, Text
from regkit.model.facts import Vocabulary
from regkit.model.values import UNKNOWN
from regkit.read.countries import COUNTRIES, not_a_country
from regkit.read.problems import MALFORMED, UNKNOWN_NAME, Problem, did_you_mean
from regkit.read.text import Document, Path_

ALWAYS = All(())
_GROUPS: Mapping[str, Callable[[tuple[Condition, ...]], Condition]] = {
    "all": All, "any": AnyOf, "none": NoneOf,
}


@dataclass(frozen=True)
class ConditionReader:
    """Reads the conditions of one ruleset; what is wrong goes into `problems`.

    Attributes:
        titles: the title of each definition that may be named after `holds`.
        questions: the open questions that may be named after `question`.
    """

    vocabulary: Vocabulary
    titles: Mapping[str, Text]
    questions: frozenset[str]
    problems: list[Problem]

    def read(self, document: Document, path: Path_, written: Any) -> Condition:
        """Return the condition written at a place; `ALWAYS` stands in for one that is wrong."""
        if not isinstance(written, dict) or len(written) != 1:
            place = next((part for part in reversed(path) if isinstance(part, str)), "when")
            return self._wrong(document, path, f"`{place}` holds no condition; write one of all, "
                               "any, none, holds, question or a fact, and put several under `all:`")
        (key, inner), = written.items()
        here = (*path, key)
        if key in _GROUPS:
            return self._group(document, here, key, inner)
        if key == "holds":
            return self._holds(document, here, str(inner))
        if key == "question":
            if str(inner) not in self.questions:
                hint = did_you_mean(str(inner), self.questions)
                return self._wrong(document, here, f"there is no question `{inner}`{hint}",
                                   UNKNOWN_NAME)
            return Open(str(inner))
        return self._test(document, here, key, inner)

    def _wrong(
        self, document: Document, path: Path_, says: Phrase | str, code: str = MALFORMED
    ) -> Condition:
        self.problems.append(document.problem(path, says, code))
        return ALWAYS

    def _group(self, document: Document, path: Path_, key: str, inner: Any) -> Condition:
        if not isinstance(inner, list) or not inner:
            return self._wrong(document, path, f"`{key}` must be a list of at least one condition")
        parts = tuple(self.read(document, (*path, at), part) for at, part in enumerate(inner))
        return _GROUPS[key](parts)

    def _holds(self, document: Document, path: Path_, name: str) -> Condition:
        if name not in self.titles:
            hint = did_you_mean(name, self.titles)
            return self._wrong(document, path, f"there is no definition `{name}`{hint}",
                               UNKNOWN_NAME)
        return Holds(name, self.titles[name])

    def _test(self, document: Document, path: Path_, name: str, written: Any) -> Condition:
        fact = self.vocabulary.get(name)
        if fact is None:
            hint = did_you_mean(name, self.vocabulary)
            return self._wrong(document, path, f"the vocabulary has no fact `{name}`{hint}",
                               UNKNOWN_NAME)
        fitting = [kind for kind in KINDS if fact.type in kind.types]
        try:
            for kind in fitting:
                test: Test | None = kind.read(fact, written, self.vocabulary)
                if test is not None:
                    return self._known_countries(document, path, test)
        except Misread as wrong:
            return self._wrong(document, path, str(wrong))
        right = "; or ".join(kind.example for kind in fitting)
        return self._wrong(document, path, f"{written!r} is no test of a {fact.type} fact"
                           f"{_meant(written, fitting)}; write {right}")

    def _known_countries(self, document: Document, path: Path_, test: Test) -> Condition:
        """Return the test, unless it names a country that ISO 3166 does not."""
        if test.fact.type == "country" and isinstance(test, Choice):
            for word in sorted(test.words_named - COUNTRIES - {UNKNOWN}):
                return self._wrong(document, path, not_a_country(word))
        return test


def _meant(written: Any, kinds: Iterable[type[Kind]]) -> str:
    """Return what the first strange word before a colon may have been meant for."""
    words = {word for kind in kinds for form in (kind.schema, *kind.schema.get("oneOf", ()))
             for word in form.get("properties", {})}
    strange = [key for key in written if key not in words] if isinstance(written, dict) else []
    return did_you_mean(str(strange[0]), sorted(words)) if strange else ""
