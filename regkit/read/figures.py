"""Written figures of a charge: amounts, rates, sums, what they count for each of, lateness."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Any

from regkit.conditions import Condition
from regkit.conditions.kinds.kind import period
from regkit.model.facts import Vocabulary
from regkit.model.figure import Figure, ForEach, unit_of
from regkit.model.season import MONTHS
from regkit.read.currencies import CURRENCIES
from regkit.read.folder import Written
from regkit.read.problems import Problem, did_you_mean

FIGURE_KEYS = (
    "amount", "rate", "sum", "of", "less", "for each", "in", "beyond", "up to", "per day",
    "at most days", "counted from", "at least", "at most", "lateness table",
)
_FORMS = ("amount", "rate", "per day", "lateness table", "sum")
_NUMBER = re.compile(r"^\d+(?:\.\d+)?")
_CURRENCY = re.compile(r"'\d+(?:\.\d+)? ([A-Z]{3})'")
_EACH = re.compile(r"(?:(started|full) )?(\d+(?:\.\d+)?) (\S+)")
NOT_KNOWN = "not known"


def read_figure(written: dict[str, Any], when: Condition | None) -> Figure:
    """Return one figure of a charge, as its schema lets it be written."""
    form = next((form for form in _FORMS if form in written), "amount")
    of = written.get("sum") if form == "sum" else written.get("of", ())
    rate = str(written.get("rate", "0 %"))
    steps = written.get("lateness table", ())
    kind = "rate" if any("rate" in step for step in steps) else "amount"
    parts = rate.partition("/")[2]
    return Figure(
        form=_form(form, written, kind),
        rate_fact="" if rate.endswith("%") or parts.isdigit() else rate,
        number=_number(written.get(form)) if form in ("amount", "rate", "per day") else Decimal(0),
        parts=int(parts) if parts.isdigit() else 100,
        of=_names(of),
        less=_names(written.get("less")),
        each=_each(written),
        since=written.get("counted from", ""),
        most_days=written.get("at most days"),
        least=_number(written["at least"]) if "at least" in written else None,
        most=_number(written["at most"]) if "at most" in written else None,
        steps=tuple((period(str(step["up to"])) if "up to" in step else None,
                     _number(step.get(kind))) for step in steps),
        when=when,
    )


def _form(form: str, written: dict[str, Any], kind: str) -> str:
    if form == "amount" and written.get("amount") == NOT_KNOWN:
        return NOT_KNOWN
    if form == "per day" and str(written["per day"]).endswith("%"):
        return "daily rate"
    return "lateness amounts" if form == "lateness table" and kind == "amount" else form


def _each(written: dict[str, Any]) -> ForEach | None:
    found = _EACH.fullmatch(str(written.get("for each", "")))
    if found is None:
        return None
    bounds = [_number(written[key]) if key in written else None for key in ("beyond", "up to")]
    return ForEach(Decimal(found[2]), _names(written.get("in")),
                   found[1] or "in proportion", *bounds)  # type: ignore[arg-type]


def _names(written: Any) -> tuple[str, ...]:
    return (written,) if isinstance(written, str) else tuple(written or ())


def _number(written: Any) -> Decimal:
    found = _NUMBER.match(str(written))
    return Decimal(found[0]) if found else Decimal(0)


def figure_problems(entry: Written, vocabulary: Vocabulary) -> Iterator[Problem]:
    """Yield what a schema cannot see in the figures of a charge: units, and shares left unrounded.

    Args:
        entry: a charge as written, its names known to exist.
    """
    editions = entry.data.get("editions", [{}])
    for at, own in enumerate(editions):
        whole = {**entry.data, **own}
        if whole.get("state") in ("not here", "withdrawn"):
            continue
        path = (*entry.path, "editions", at) if "editions" in entry.data else entry.path
        cases = whole.get("cases")
        for figure in [whole] if cases is None else cases:
            for text in (*_wrong_form(figure), *_wrong(figure, whole, vocabulary)):
                yield entry.document.problem(path, f"`{entry.id}`: {text}")


def _wrong_form(figure: dict[str, Any]) -> Iterator[str]:
    """Yield what makes a figure none, or more than one, and codes that are no currency."""
    forms = [form for form in _FORMS if form in figure]
    one = "write one of " + ", ".join(f"`{form}`" for form in _FORMS)
    if not forms:
        yield f"says no figure; {one}, or several under `cases`"
    elif len(forms) > 1:
        yield f"says {' and '.join(f'`{form}`' for form in forms)}; {one}"
    elif "rate" in figure and not figure.get("of"):
        yield "a `rate` needs the facts or charges `of` which it is taken"
    elif "per day" in figure and not figure.get("of"):
        yield "`per day` needs `of`: the requirement that is late, or what a rate is taken of"
    for code in sorted(set(_CURRENCY.findall(str(figure))) - CURRENCIES):
        near = did_you_mean(code, CURRENCIES)
        yield f"{code} is no currency of ISO 4217{near}; write for example 55 EUR"


def _wrong(
    figure: dict[str, Any], edition: dict[str, Any], vocabulary: Vocabulary
) -> Iterator[str]:
    if ("for each" in figure) != ("in" in figure):
        yield "`for each` and `in` go together; write for example for each: started 25 cc, in: " \
              "vehicle.engine_capacity"
        return
    kinds = {kind for step in figure.get("lateness table", ()) for kind in ("rate", "amount")
             if kind in step}
    if len(kinds) > 1:
        yield "a lateness table holds rates or amounts, not both; make two charges of it"
    each = _each(figure)
    if each is not None:
        wrong = tuple(_wrong_measure(each, vocabulary))
        if wrong:
            yield from wrong
            return
        right = unit_of(each, vocabulary)
        for key in ("for each", "beyond", "up to"):
            unit = str(figure.get(key, right)).split()[-1]
            if unit != right:
                yield f"`{key}` is in {unit}, but {' and '.join(each.of)} counts in {right}"
        if not each.step:
            yield "`for each` needs a step above 0"
    parts = str(figure.get("rate", "")).partition("/")[2]
    shares = [int(parts)] if parts.isdigit() else []
    if each is not None and each.counts == "in proportion" and each.step:
        shares.append(each.step.as_integer_ratio()[0])
    if any(_never_ends(share) for share in shares) and "rounding" not in edition and (
            edition.get("payable") in ("no", False)):
        yield "a share such as 1/365 never ends; say how it is rounded"


def _wrong_measure(each: ForEach, vocabulary: Vocabulary) -> Iterator[str]:
    """Yield what is no measure among the facts after `in`: one quantity, or two months."""
    if len(each.of) == 1 and vocabulary[each.of[0]].type != "quantity":
        yield f"`in` names {each.of[0]}, which is no quantity"
    if len(each.of) > 1:
        yield from no_season(each.of, vocabulary)


def no_season(facts: Iterable[str], vocabulary: Vocabulary) -> Iterator[str]:
    """Yield which facts cannot name the first or last month of a season."""
    for name in facts:
        if vocabulary[name].allowed != MONTHS:
            yield (f"{name} cannot name a month of a season; its words must be {MONTHS[0]} to "
                   f"{MONTHS[-1]}, in the order of the year")


def _never_ends(parts: int) -> bool:
    """Return whether a share of so many parts has no last decimal place."""
    for prime in (2, 5):
        while parts % prime == 0:
            parts //= prime
    return parts != 1
