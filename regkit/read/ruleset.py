"""Reading a ruleset: its folder, those it builds on, and the common vocabulary, as one value."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from regkit.language import Text, phrase
from regkit.model.explained import Explained
from regkit.model.facts import Fact, Vocabulary
from regkit.model.ruleset import (
    Authority,
    Edition,
    Example,
    History,
    Question,
    Ruleset,
    Source,
)
from regkit.read import entries
from regkit.read.conditions import ConditionReader
from regkit.read.crosschecks import crosscheck, route
from regkit.read.entries import Fields, said_yes
from regkit.read.folder import KINDS, Folder, Written, read_folder
from regkit.read.places import shipped
from regkit.read.problems import Problem, Unreadable, hinted
from regkit.read.references import reference_problems
from regkit.read.renamed import renamed_names

E = TypeVar("E", bound=Edition)
COMMON = "common"
NOT_HERE = "not here"
_WORDS = ("title", "why", "stage", "authority", "class", "issued by", "facts", "agree")
"""What an entry that does not hold here keeps of the layer below, so that it can be named."""


def available(root: Path | None = None) -> tuple[str, ...]:
    """Return the codes of the jurisdictions that have a ruleset, in alphabetical order."""
    folder = root or shipped("rulesets")
    return tuple(sorted(
        item.name.upper() for item in folder.iterdir() if (item / "ruleset.yaml").is_file()
    ))


@lru_cache(maxsize=64)
def read_ruleset(where: str | Path, root: Path | None = None) -> Ruleset:
    """Return the ruleset of a jurisdiction by its code, or from a folder.

    Args:
        where: a code such as GB, the path of a ruleset folder, or a released version such as
            GB@2026.1.
        root: the folder that holds the folders of rulesets; the shipped ones by default. What a
            ruleset builds on is looked for beside it first, then among the shipped ones.

    Raises:
        Unreadable: there is no such ruleset, or something in it is wrong; nothing of it was taken.
    """
    return assemble(read_layers(where, root))


def read_layers(where: str | Path, root: Path | None = None) -> list[Folder]:
    """Return what is written in a ruleset and in all that it builds on, the lowest layer first.

    Raises:
        Unreadable: there is no such ruleset, or something in its files is wrong.
    """
    if isinstance(where, str) and "@" in where:
        from regkit.read.released import read_released

        return read_released(where, root)
    chain = _chain(_folder(where, root))
    problems = [problem for part in chain for problem in part.problems]
    if problems:
        raise Unreadable(problems)
    return chain


def assemble(layers: list[Folder]) -> Ruleset:
    """Return the ruleset that layers make up.

    Raises:
        Unreadable: something in it is wrong.
    """
    return _Assembly(layers).ruleset()


def _folder(where: str | Path, root: Path | None) -> Path:
    if isinstance(where, Path) or "/" in where:
        return Path(where)
    found = (root or shipped("rulesets")) / where.lower()
    if not (found / "ruleset.yaml").is_file():
        codes = available(root)
        says = hinted(phrase("there is no ruleset of that name"), where.upper(), codes)
        raise Unreadable([Problem(where, 0, phrase("{wrong}; there are: {names}", wrong=says,
                                                   names=", ".join(codes)))])
    return found


def _chain(folder: Path) -> list[Folder]:
    """Return the common vocabulary, what the ruleset builds on, and itself, in this order."""
    own = read_folder(folder, folder.name.upper())
    if own.head is None and not own.problems:
        own.problems.append(Problem(folder.name, 0, "has no ruleset.yaml, the head of a ruleset"))
    chain = [own]
    seen = {folder.name}
    while own.head is not None and "builds on" in own.head.data:
        name = str(own.head.data["builds on"])
        beside = folder.parent / name.lower()
        parent = beside if beside.is_dir() else shipped("rulesets") / name.lower()
        if parent.name in seen or not parent.is_dir():
            own.problems.append(own.head.document.problem(
                ("builds on",), f"builds on `{name}`, which "
                + ("builds on this ruleset itself" if parent.name in seen else "is not there")))
            break
        seen.add(parent.name)
        own = read_folder(parent, parent.name.upper(), with_trials=False)
        chain.insert(0, own)
    common = folder.parent / COMMON
    common = common if common.is_dir() else shipped("rulesets") / COMMON
    chain.insert(0, read_folder(common, COMMON))
    return chain


class _Assembly:
    """Puts the layers of a ruleset together; later layers replace entries of earlier ones."""

    def __init__(self, chain: list[Folder]) -> None:
        self.chain = chain
        self.problems: list[Problem] = []
        self.written: dict[str, dict[str, Written]] = {kind: {} for kind in KINDS}
        for layer in chain:
            for kind in KINDS:
                self.written[kind].update({
                    name: self._not_here(entry, kind) if entry.data.get("state") == NOT_HERE
                    else entry for name, entry in layer.entries[kind].items()})
        heads = [layer.head for layer in chain if layer.head is not None]
        self.head = heads[-1]
        self.heads = heads

    def _not_here(self, entry: Written, kind: str) -> Written:
        """Return an entry that does not hold here, with the words it has in the layer below."""
        below = self.written[kind].get(entry.id)
        if below is None:
            self.problems.append(entry.document.problem(
                (*entry.path, "state"), f"`{entry.id}` is said not to hold here, but no layer "
                "below has it; leave it out"))
            return entry
        words = {key: said for key, said in below.data.items() if key in _WORDS}
        return replace(entry, data={**words, **entry.data})

    def ruleset(self) -> Ruleset:
        vocabulary = Vocabulary(
            (name, _fact(written)) for name, written in self.written["facts"].items()
        )
        conditions = ConditionReader(
            vocabulary,
            {name: Text.of(written.data.get("title", name))
             for name, written in self.written["definitions"].items()},
            frozenset(self.written["questions"]),
            self.problems,
        )
        head, fields = self.head.data, Fields(self.head, {}, (), conditions)
        leap = head["anniversary of 29 February"]
        ruleset = Ruleset(
            jurisdiction=head["jurisdiction"],
            title=Text.of(head["title"]),
            version=head["version"],
            digest=self._digest(),
            languages=tuple(head["languages"]),
            currency=head["currency"],
            leap_day=leap["falls on"],
            known_from=fields.day("known from"),
            covers=self._texts("covers"),
            does_not_cover=self._texts("does not cover"),
            cautions=self._texts("cautions"),
            authorities={
                name: Authority(name, Text.of(data["title"]), data.get("address", ""))
                for written in self.heads for name, data in written.data["authorities"].items()
            },
            stages={
                name: Text.of(title)
                for written in self.heads for name, title in written.data["stages"].items()
            },
            vocabulary=vocabulary,
            definitions=self._histories("definitions", entries.definition, conditions),
            requirements=self._histories("requirements", entries.requirement, conditions),
            evidence=self._histories("evidence", entries.evidence, conditions),
            charges=self._histories("charges", entries.charge, conditions),
            counting=self._histories("counting", entries.counting, conditions),
            sources={
                name: self._source(written, conditions)
                for name, written in self.written["sources"].items()
            },
            questions={
                name: self._question(written, conditions)
                for name, written in self.written["questions"].items()
            },
            examples={
                name: self._example(written, conditions)
                for name, written in self.written["examples"].items()
            },
            renamed=renamed_names(
                self.written["renamed"],
                (name for kind in KINDS if kind != "renamed" for name in self.written[kind]),
                self.problems,
            ),
            crosschecks=self._histories("crosschecks", crosscheck, conditions),
            routes=self._histories("routes", route, conditions),
            layers=tuple(layer.layer for layer in self.chain[1:]),
            survivors={
                name: Explained(name, written.data["why"], tuple(written.data.get("sources", ())),
                                written.line)
                for name, written in self.written["survivors"].items()
            },
        )
        if not self.problems:
            self.problems += reference_problems(ruleset, self.written, self.head)
        if self.problems:
            raise Unreadable(self.problems)
        return ruleset

    def _digest(self) -> str:
        # A kind that came later is left out where nothing is written of it: digests of released
        # versions stay as they were.
        whole: dict[str, Any] = {
            kind: {name: written.data for name, written in entries_.items()}
            for kind, entries_ in self.written.items() if entries_ or kind != "survivors"
        }
        # The order of writing is the order of an assessment's findings.
        whole["order"] = [*self.written["definitions"], *self.written["requirements"]]
        whole["heads"] = [
            {**written.data, "stage order": list(written.data["stages"])} for written in self.heads
        ]
        return hashlib.sha256(canonical(whole)).hexdigest()

    def _texts(self, key: str) -> tuple[Text, ...]:
        return tuple(Text.of(text) for text in self.head.data.get(key, ()))

    def _histories(
        self, kind: str, make: Callable[[Fields], E], conditions: ConditionReader
    ) -> Mapping[str, History[E]]:
        return {
            name: entries.read_history(written, make, conditions)
            for name, written in self.written[kind].items()
        }

    def _source(self, written: Written, conditions: ConditionReader) -> Source:
        fields, data = Fields(written, {}, written.path, conditions), written.data
        return Source(
            id=written.id,
            kind=data["kind"],
            citation=data["citation"],
            address=data.get("address", ""),
            checked=fields.day("checked") or date.min,
            look_again=fields.day("look again") or date.min,
            seen=data.get("edition", ""),
            copy=said_yes(data.get("copy")),
            note=data.get("note", ""),
            layer=written.layer,
        )

    def _question(self, written: Written, conditions: ConditionReader) -> Question:
        fields = Fields(written, {}, written.path, conditions)
        return Question(
            id=written.id,
            asks=Text.of(written.data["asks"]),
            opened=fields.day("opened") or date.min,
            closed=fields.day("closed"),
            answer=fields.text("answer"),
            sources=fields.names("sources"),
        )

    def _example(self, written: Written, conditions: ConditionReader) -> Example:
        fields, data = Fields(written, {}, written.path, conditions), written.data
        return Example(
            id=written.id,
            title=data["title"],
            on=fields.day("on") or date.min,
            facts=data["facts"],
            expect=data["expect"],
            basis=data["basis"],
            sources=tuple(data["sources"]),
            papers=tuple(data.get("papers", ())),
            done=tuple(data.get("done", ())),
            line=written.line,
        )


def canonical(data: Any) -> bytes:
    """Return canonical JSON: sorted keys, no blanks, UTF-8 (RFC 8785 for the types we hold)."""
    return json.dumps(data, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def _fact(written: Written) -> Fact:
    data = written.data
    plain = written.id.rsplit(".", 1)[-1].replace("_", " ")
    return Fact(
        name=written.id,
        type=data["type"],
        question=Text.of(data["question"]),
        label=Text.of(data.get("label", plain)),
        help=Text.of(data["help"]) if "help" in data else None,
        group=data["group"],
        unit=data.get("unit", ""),
        values=tuple((word, Text.of(text)) for word, text in data.get("values", {}).items()),
        no_later_than=tuple(data.get("no later than", ())),
        asked_after=tuple(data.get("asked after", ())),
        of_this_country=said_yes(data.get("of this country")),
        layer=written.layer,
    )
