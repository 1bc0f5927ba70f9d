"""Reading a case: YAML, JSON or plain data, checked against the vocabulary of its ruleset."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Any

from regkit.language import Phrase, Wrong, phrase
from regkit.model.case import Case, Done, ExchangeRate, Paper
from regkit.model.facts import Vocabulary
from regkit.model.ruleset import Ruleset
from regkit.model.values import MISSING, NEVER, Value
from regkit.read.check import check
from regkit.read.edtf import read_date
from regkit.read.facts import read_value
from regkit.read.problems import Problem, Unreadable, hinted
from regkit.read.ruleset import available, read_ruleset
from regkit.read.text import DEEPEST, Document, Path_, hidden_character, read_file, too_deep
from regkit.read.units import read_currency, read_rate

_GIVEN = "<case>"


def read_case(source: str | Path | Mapping[str, Any], ruleset: Ruleset | None = None) -> Case:
    """Return the case in a file, or given as plain data.

    Args:
        source: the path of a YAML or JSON file, or a mapping of the same shape.
        ruleset: that of the case's jurisdiction, if it is not the shipped one.

    Raises:
        Unreadable: something in it is wrong; nothing of it was taken.
    """
    if isinstance(source, Mapping):
        document = Document(_GIVEN, _plain(source), {})
    else:
        document = read_file(Path(source))
    problems = check(document, "case")
    if problems:
        raise Unreadable(problems)
    code = document.data["jurisdiction"]
    if ruleset is not None and ruleset.jurisdiction != code:
        raise Unreadable([document.problem(("jurisdiction",), phrase(
            "this is a case of {code}, and the ruleset states the rules of {other}", code=code,
            other=ruleset.jurisdiction))])
    return _CaseReader(document, ruleset or read_ruleset(code)).case()


def _plain(data: Any, depth: int = 0) -> Any:
    """Return mappings and tuples as the JSON types, and dates and exact numbers as text.

    Raises:
        Unreadable: it is nested as deeply as no file may be, or holds an invisible character.
    """
    if depth > DEEPEST:
        raise Unreadable([Problem(_GIVEN, 0, too_deep())])
    if isinstance(data, Mapping):
        return {str(_plain(key)): _plain(value, depth + 1) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [_plain(value, depth + 1) for value in data]
    if isinstance(data, str):
        hidden = hidden_character(data)
        if hidden is not None:
            raise Unreadable([Problem(_GIVEN, 0, hidden)])
        return data
    if isinstance(data, date):
        return data.isoformat()
    return str(data) if isinstance(data, Decimal) else data


class _CaseReader:
    def __init__(self, document: Document, ruleset: Ruleset) -> None:
        self.document = document
        self.ruleset = ruleset
        self.vocabulary: Vocabulary = ruleset.vocabulary
        self.problems: list[Problem] = []

    def case(self) -> Case:
        data = self.document.data
        elsewhere = self._elsewhere(data)
        own = {name: value for name, value in data["facts"].items()
               if self._stated_by(name) is None}
        facts = self._facts(own, ("facts",))
        case = Case(
            jurisdiction=data["jurisdiction"],
            facts=MappingProxyType(facts),
            on=self._day(data["on"], ("on",)) if "on" in data else None,
            title=data.get("title", ""),
            papers=tuple(self._paper(paper, ("papers", at))
                         for at, paper in enumerate(data.get("papers", ()))),
            done=tuple(self._done(done, ("done", at))
                       for at, done in enumerate(data.get("done", ()))),
            rates=self._rates(data.get("rates", ())),
            elsewhere=MappingProxyType(elsewhere),
            vocabulary=self.vocabulary,
        )
        self._check_order(case)
        if self.problems:
            raise Unreadable(self.problems)
        return case

    def _wrong(self, path: Path_, says: Phrase) -> None:
        self.problems.append(self.document.problem(path, says))

    def _elsewhere(self, data: Mapping[str, Any]) -> dict[str, Mapping[str, Value]]:
        """Return what is told for other jurisdictions, and in words only these know."""
        found: dict[str, dict[str, Value]] = {}
        for code, written in data.get("elsewhere", {}).items():
            path: Path_ = ("elsewhere", code)
            if code not in available():
                self._wrong(path, hinted(phrase("there is no ruleset of that name"), code,
                                         available()))
                continue
            found[code] = self._facts(written, path, read_ruleset(code))
        for name, value in data["facts"].items():
            other = self._stated_by(name)
            if other is not None:
                read = self._facts({name: value}, ("facts",), other)
                code = other.jurisdiction
                found[code] = {**read, **found.get(code, {})}
        return {code: MappingProxyType(facts) for code, facts in found.items()}

    def _stated_by(self, name: str) -> Ruleset | None:
        """Return the other jurisdiction whose own vocabulary states a fact, None if none does."""
        if name in self.vocabulary or name in self.ruleset.renamed:
            return None
        code = name.partition(".")[0].upper().replace("_", "-")
        if code == self.ruleset.jurisdiction or code not in available():
            return None
        other = read_ruleset(code)
        return other if name in other.vocabulary or name in other.renamed else None

    def _facts(
        self, written: Mapping[str, Any], path: Path_, ruleset: Ruleset | None = None
    ) -> dict[str, Value]:
        ruleset = ruleset or self.ruleset
        facts = {}
        for told, value in written.items():
            name = ruleset.renamed.get(told, told)
            fact = ruleset.vocabulary.get(name)
            if fact is None:
                self._wrong((*path, told), hinted(
                    phrase("the vocabulary has no fact `{name}`", name=told), told,
                    ruleset.vocabulary))
                continue
            if name != told and name in written:
                self._wrong((*path, told), phrase(
                    "`{told}` is the old name of `{name}`, which stands here too; leave one out",
                    told=told, name=name))
                continue
            try:
                facts[name] = read_value(fact, value)
            except Wrong as wrong:
                self._wrong((*path, told), phrase("`{name}` {wrong}", name=told, wrong=wrong.says))
        return facts

    def _day(self, written: str, path: Path_) -> date:
        try:
            return date.fromisoformat(written)
        except ValueError:
            self._wrong(path, phrase(
                "`{name}` {written} is no day that exists; write for example 2026-04-01",
                name=str(path[-1]), written=repr(written)))
            return date.min

    def _paper(self, written: Mapping[str, Any], path: Path_) -> Paper:
        evidence = self.ruleset.renamed.get(written["evidence"], written["evidence"])
        if evidence not in self.ruleset.evidence:
            self._wrong((*path, "evidence"), hinted(
                phrase("the ruleset knows no paper `{name}`", name=evidence), evidence,
                self.ruleset.evidence))
        dated = MISSING
        if "dated" in written:
            try:
                dated = read_date(str(written["dated"]))
            except Wrong as wrong:
                self._wrong((*path, "dated"), phrase("`{name}` {wrong}", name="dated",
                                                     wrong=wrong.says))
        return Paper(
            evidence=evidence,
            form=written.get("as", "original"),
            shows=MappingProxyType(self._facts(written.get("shows", {}), (*path, "shows"))),
            dated=dated,
            named=written.get("named", ""),
            reference=written.get("reference", ""),
            language=written.get("language", ""),
            translated=written.get("translated", ""),
        )

    def _rates(self, written: Sequence[Mapping[str, Any]]) -> tuple[ExchangeRate, ...]:
        rates: dict[tuple[str, str], ExchangeRate] = {}
        for at, one in enumerate(written):
            path: Path_ = ("rates", at)
            pair = (one["from"], one["to"])
            try:
                rate = read_rate(one["rate"])
                pair = (read_currency(one["from"]), read_currency(one["to"]))
            except Wrong as wrong:
                self._wrong(path, phrase("the rate {wrong}", wrong=wrong.says))
                continue
            if pair in rates:
                self._wrong(path, phrase(
                    "gives a second rate from {one} to {other}; keep the one that counts",
                    one=pair[0], other=pair[1]))
            rates[pair] = ExchangeRate(*pair, rate, self._day(one["on"], (*path, "on")),
                                       one["source"])
        return tuple(rates[pair] for pair in sorted(rates))

    def _done(self, written: Mapping[str, Any], path: Path_) -> Done:
        requirement = written["requirement"]
        requirement = self.ruleset.renamed.get(requirement, requirement)
        if requirement not in self.ruleset.requirements:
            self._wrong((*path, "requirement"), hinted(
                phrase("there is no requirement `{name}`", name=requirement), requirement,
                self.ruleset.requirements))
        return Done(requirement, self._day(written["on"], (*path, "on")),
                    written.get("reference", ""))

    def _check_order(self, case: Case) -> None:
        """A date that must not be later than another, but is or never was, contradicts it.

        Only what the case itself tells is refused; papers that contradict it are reported.
        """
        told = replace(case, papers=())
        for name, value in case.facts.items():
            for other in self.vocabulary[name].no_later_than:
                later = told.value(other)
                if value.word == NEVER and later.happened:
                    self._wrong(("facts", name), phrase(
                        "`{name}` never happened, but `{other}` did, which cannot be; correct one",
                        name=name, other=other))
                elif NEVER not in (value.word, later.word) and value.low > later.high:
                    end: Phrase | str = later.written or phrase("bounded by `{name}`",
                                                                name=later.bounded_by)
                    self._wrong(("facts", name), phrase(
                        "`{name}` ({written}) lies after `{other}` ({end}), which cannot be; "
                        "correct one", name=name, written=value.written, other=other, end=end))
