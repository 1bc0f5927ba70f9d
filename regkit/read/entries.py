"""Written entries to editions: definitions, requirements, evidence, charges, counting rules."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise
from typing import Any, TypeVar

from regkit.conditions import Condition
from regkit.conditions.kinds.kind import period
from regkit.language import Text
from regkit.model.calendar import Period
from regkit.model.figure import Figure, Rounding
from regkit.model.ruleset import (
    Charge,
    Counting,
    Definition,
    Dissent,
    Edition,
    Evidence,
    Fresh,
    History,
    Inspected,
    Need,
    Requirement,
)
from regkit.model.window import Duration, SpecialDay, Window
from regkit.read.conditions import ALWAYS, ConditionReader
from regkit.read.figures import FIGURE_KEYS, read_figure
from regkit.read.folder import Written
from regkit.read.problems import OVERLAPPING_EDITIONS
from regkit.read.text import Path_

E = TypeVar("E", bound=Edition)


@dataclass(frozen=True)
class Fields:
    """The fields of one edition: its own, else those of its entry, each with its place."""

    written: Written
    own: dict[str, Any]
    own_path: Path_
    conditions: ConditionReader

    def get(self, key: str, default: Any = None) -> Any:
        """Return a field as written."""
        return self.own[key] if key in self.own else self.written.data.get(key, default)

    def path(self, key: str) -> Path_:
        """Return where a field stands."""
        return (*(self.own_path if key in self.own else self.written.path), key)

    def text(self, key: str) -> Text | None:
        """Return a text for people."""
        found = self.get(key)
        return None if found is None else Text.of(found)

    def names(self, key: str) -> tuple[str, ...]:
        """Return a list of identifiers; a single one counts as a list."""
        found = self.get(key, ())
        return (found,) if isinstance(found, str) else tuple(found)

    def condition(self, key: str = "when") -> Condition | None:
        """Return a condition, None if it is left out."""
        found = self.get(key)
        return None if found is None else self.read_condition(self.path(key), found)

    def read_condition(self, path: Path_, written: Any) -> Condition:
        """Return the condition written at a place."""
        return self.conditions.read(self.written.document, path, written)

    def day(self, key: str) -> date | None:
        """Return a date; one that does not exist is a problem."""
        found = self.get(key)
        if found is None:
            return None
        try:
            return date.fromisoformat(found)
        except (TypeError, ValueError):
            self.conditions.problems.append(self.written.document.problem(
                self.path(key), f"`{key}` is {found!r}; write a day that exists, such as "
                "2017-04-01"))
            return None

    def common(self) -> dict[str, Any]:
        """Return what every edition has."""
        document = self.written.document
        return {
            "id": self.written.id,
            "title": self.text("title") or Text.of(self.written.id),
            "first": self.day("from"),
            "last": self.day("until"),
            "state": self.get("state", "enacted"),
            "sources": self.names("sources"),
            "note": self.get("note", ""),
            "questions": self.names("questions"),
            "line": f"{document.file}:{document.line(self.own_path)}",
            "layer": self.written.layer,
        }


def read_history(
    written: Written, make: Callable[[Fields], E], conditions: ConditionReader
) -> History[E]:
    """Return all editions of an entry, oldest first; overlapping ones are a problem."""
    editions = written.data.get("editions") or [{}]
    made = []
    before = len(conditions.problems)
    for at, own in enumerate(editions):
        path = (*written.path, "editions", at) if "editions" in written.data else written.path
        made.append(make(Fields(written, own if isinstance(own, dict) else {}, path, conditions)))
    made.sort(key=lambda edition: edition.first or date.min)
    if len(conditions.problems) == before:  # else a day that was not read would seem to be missing
        conditions.problems.extend(
            written.document.problem(written.path, text, OVERLAPPING_EDITIONS)
            for text in _overlaps(written.id, made)
        )
    return History(written.id, tuple(made), written.data.get("governed by", ""))


def _overlaps(name: str, editions: list[E]) -> Iterator[str]:
    enacted = [edition for edition in editions if edition.state == "enacted"]
    for edition in editions:
        if edition.first and edition.last and edition.last < edition.first:
            yield f"`{name}`: an edition ends on {edition.last}, before its first day"
    for earlier, later in pairwise(enacted):
        if earlier.last is None or (later.first or date.min) <= earlier.last:
            yield (f"`{name}` has two editions in force from {later.first or 'the beginning'}; "
                   f"end the earlier with `until:` the day before")


def definition(fields: Fields) -> Definition:
    """Make an edition of a definition."""
    return Definition(
        **fields.common(),
        when=fields.condition() or ALWAYS,
        dissents=_dissents(fields),
        is_class=said_yes(fields.get("class")),
        excludes=tuple(fields.get("excludes", ())),
    )


def requirement(fields: Fields) -> Requirement:
    """Make an edition of a requirement."""
    return Requirement(
        **fields.common(),
        why=fields.text("why") or Text.of(""),
        stage=fields.get("stage", ""),
        authority=fields.get("authority", ""),
        when=fields.condition() or ALWAYS,
        on_event=fields.get("on event", ""),
        window=_window(fields.get("window")),
        needs=tuple(
            _need(fields, (*fields.path("needs"), at), need)
            for at, need in enumerate(fields.get("needs", ()))
        ),
        gives=fields.names("gives"),
        takes=_duration(fields),
        charges=fields.names("charges"),
        late=fields.names("late"),
        inspects=tuple(
            Inspected(Text.of(item["looks at"]), item.get("fact", ""),
                      tuple(item.get("sources", ())),
                      "yes" if said_yes(item.get("should be", "yes")) else "no")
            for item in fields.get("inspects", ()) if "looks at" in item
        ),
        cautions=tuple(Text.of(caution) for caution in fields.get("cautions", ())),
        dissents=_dissents(fields),
    )


def evidence(fields: Fields) -> Evidence:
    """Make an edition of an evidence type."""
    return Evidence(
        **fields.common(),
        issued_by=fields.text("issued by"),
        from_outside=said_yes(fields.get("from outside")) or fields.get("from outside") == "seller",
        from_seller=fields.get("from outside") == "seller",
        shows=fields.names("shows"),
        form=fields.get("as", ""),
        fresh=tuple(_fresh(fields)),
        named=fields.get("named", ""),
        language=fields.text("language"),
        stands_in_for=fields.names("stands in for"),
        takes=_duration(fields),
        charges=fields.names("charges"),
    )


def _fresh(fields: Fields) -> Iterator[Fresh]:
    written = fields.get("no older than")
    if isinstance(written, str):
        yield Fresh(_period(written))
        return
    for at, one in enumerate(written or ()):
        path = (*fields.path("no older than"), at, "when")
        yield Fresh(_period(one["period"]), None if "when" not in one
                    else fields.read_condition(path, one["when"]))


def counting(fields: Fields) -> Counting:
    """Make an edition of a counting rule."""
    return Counting(
        **fields.common(),
        day_of_event=fields.get("day of event", "not stated"),
        rest_day=fields.get("rest day", "not stated"),
        holidays=fields.get("holidays", ""),
        special_days=tuple(_special_days(fields)),
        least_working=fields.get("at least working days", 0),
        last_moment=fields.text("last moment"),
        season=fields.names("outside the season"),
    )


def _special_days(fields: Fields) -> Iterator[SpecialDay]:
    for at, written in enumerate(fields.get("special days", ())):
        inner = Fields(fields.written, written, (*fields.path("special days"), at),
                       fields.conditions)
        on = inner.day("on")
        if on is not None:
            yield SpecialDay(on, written["is"] == "rest day", Text.of(written["title"]),
                             tuple(written["sources"]))


def charge(fields: Fields) -> Charge:
    """Make an edition of a charge."""
    cases = fields.get("cases")
    whole = {key: fields.get(key) for key in FIGURE_KEYS if fields.get(key) is not None}
    figures: tuple[Figure, ...] = (read_figure(whole, None),)
    if cases is not None:
        figures = tuple(
            read_figure(case, None if "when" not in case else fields.read_condition(
                (*fields.path("cases"), at, "when"), case["when"]))
            for at, case in enumerate(cases)
        )
    rounding = fields.get("rounding")
    written = " ".join(str(part) for part in ([whole] if cases is None else cases))
    currencies = re.findall(r"\d ([A-Z]{3})\b", written)
    return Charge(
        **fields.common(),
        figures=figures,
        when=fields.condition(),
        payable=fields.get("payable") is None or said_yes(fields.get("payable")),
        paid_to=fields.get("paid to", ""),
        currency=currencies[0] if currencies else "",
        rounding=None if rounding is None else Rounding(
            Decimal(rounding["to"]), rounding["how"], tuple(rounding["sources"])),
    )


def _duration(fields: Fields) -> Duration | None:
    takes = fields.get("takes")
    return None if takes is None else Duration(
        _length(takes["from"]), _length(takes["to"]), tuple(takes["sources"]))


def _length(written: str) -> Period:
    """Return how long a step takes; five working days fill a week."""
    if "working" not in written:
        return _period(written)
    return Period(-(-_period(written.replace("working ", "")).count * 7 // 5), "days")


def _dissents(fields: Fields) -> tuple[Dissent, ...]:
    made = []
    for at, written in enumerate(fields.get("dissents", ())):
        path = (*fields.path("dissents"), at)
        if not isinstance(written, dict) or not {"says", "when"} <= set(written):
            continue
        inner = Fields(fields.written, written, path, fields.conditions)
        made.append(Dissent(
            Text.of(written["says"]),
            fields.read_condition((*path, "when"), written["when"]),
            tuple(written.get("sources", ())),
            inner.day("from") if "from" in written else None,
            inner.day("until") if "until" in written else None,
        ))
    return tuple(made)


_LENGTH_OF_WINDOW = {"of": "within", "before": "at least", "by": ""}
"""By the key that names the event, the key of the period; `by` the event itself has none."""


def _window(written: dict[str, Any] | None) -> Window | None:
    named = [key for key in _LENGTH_OF_WINDOW if key in written] if isinstance(
        written, dict) else []
    if not isinstance(written, dict) or not named:
        return None
    length, of = str(written.get(_LENGTH_OF_WINDOW[named[0]], "0 days")), written[named[0]]
    return Window(
        within=None if length == "forthwith" else _period(length.replace("working ", "")),
        working="working" in length,
        of=(of,) if isinstance(of, str) else tuple(of),
        counting=written.get("counting", ""),
        extended_by=Text.of(written["extended by"]) if "extended by" in written else None,
        back=named[0] == "before",
    )


def _need(fields: Fields, path: Path_, written: Any) -> Need:
    if isinstance(written, str):
        return Need(evidence=written)
    if not isinstance(written, dict):
        return Need()
    when = None
    if "when" in written:
        when = fields.read_condition((*path, "when"), written["when"])
    for key, many in (("all of", None), ("any of", 1), ("of", written.get("so many"))):
        if key in written:
            parts = tuple(_need(fields, (*path, key, at), part)
                          for at, part in enumerate(written[key]))
            return Need(parts=parts, count=len(parts) if many is None else many, when=when)
    fresh = written.get("no older than")
    return Need(evidence=written.get("evidence", ""), when=when, form=written.get("as", ""),
                fresh=None if fresh is None else _period(fresh))


def _period(written: Any) -> Period:
    return period(str(written)) or Period(0, "days")


def said_yes(written: Any) -> bool:
    """Return whether a yes/no field says yes; left out means no."""
    return written in ("yes", True)
