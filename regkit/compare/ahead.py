"""What changes by itself: every day ahead on which an answer about a case becomes another one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from regkit.compare.candidates import candidate_days
from regkit.compare.state import Key, State, state_on
from regkit.judge.assess import assess
from regkit.language import Phrase, Text, phrase
from regkit.model.ahead import Ahead, Change
from regkit.model.assessment import Assessment, Finding, Verdict
from regkit.model.case import Case
from regkit.model.ruleset import Ruleset

ORDER = ("class", "requirement", "deadline", "progress", "charge", "late")


def ahead(case: Case, ruleset: Ruleset, on: date, until: date) -> Ahead:
    """Return every change of a case's answers after one day, up to another.

    The facts stay as they are; only days pass. Exact: on a day that is not named nothing changes.

    Raises:
        ValueError: `until` lies before `on`, or a day lies outside 1900 to 2199.
    """
    before = state_on(case, ruleset, on)
    days = candidate_days(case, ruleset, on, until)
    found: list[Change] = []
    for day in days:
        after = state_on(case, ruleset, day)
        found += _changes(before, after, day)
        before = after
    found += _announced(case, ruleset, on, until)
    found.sort(key=lambda change: (change.on or until + timedelta(days=1)))
    return Ahead(on, until, tuple(found), len(days) + 1)


def first_day_not_required(
    case: Case, ruleset: Ruleset, requirement: str, on: date, until: date
) -> date | None:
    """Return the first day from `on` to `until` on which a requirement is not required.

    None if there is none. A requirement that is undecided may still be required.

    Raises:
        KeyError: the ruleset has no such requirement.
    """
    for day in (on, *candidate_days(case, ruleset, on, until)):
        answers = state_on(case, ruleset, day).answers
        if answers["requirement", requirement] == Verdict.NOT_REQUIRED.value:
            return day
    return None


def _changes(before: State, after: State, day: date) -> Iterator[Change]:
    keys = sorted({*before.answers, *after.answers}, key=lambda key: (ORDER.index(key[0]), key[1]))
    for key in keys:
        if before.answers.get(key) != after.answers.get(key):
            change = _change(key, before.assessment, after.assessment, day)
            if change is not None:
                yield change


def _change(key: Key, before: Assessment, after: Assessment, day: date) -> Change | None:
    """Return one change in words; None for what goes without saying.

    Deadline and progress of a requirement that begins or ceases to apply are part of that change.
    """
    kind, name = key
    if kind == "class":
        old, new = (next(c for c in a.classes if c.id == name) for a in (before, after))
        return Change(day, kind, name, new.title, phrase(old.outcome.value),
                      phrase(new.outcome.value), new.sentence)
    if kind == "charge":
        return _charge(name, before, after, day)
    name, _, charge = name.partition(" ")
    earlier, later = before.finding(name), after.finding(name)
    title = later.requirement.title
    if kind == "requirement":
        wakes = name if later.verdict == Verdict.REQUIRED else ""
        return Change(day, kind, name, title, phrase(earlier.verdict.value),
                      phrase(later.verdict.value), later.sentence, act=wakes)
    if Verdict.NOT_REQUIRED in (earlier.verdict, later.verdict):
        return None
    if kind == "deadline":
        return Change(day, kind, name, title, _due(earlier), _due(later),
                      _ran_out(earlier, later) or phrase("the rule for this period changes"))
    if kind == "progress":
        return Change(day, kind, name, title, phrase(earlier.progress.value),
                      phrase(later.progress.value), _ran_out(earlier, later) or (
                          phrase("the last day was {day}", day=_due(later))
                          if later.met is None else phrase("it is done")))
    return _late(charge, earlier, later, after, day)


def _ran_out(earlier: Finding, later: Finding) -> Phrase | None:
    """Return that what showed a requirement to be met counts no more; None if it does."""
    met = earlier.met if later.met is None else None
    if met is None or met.until is None:
        return None
    return phrase("what showed it counted until {day}", day=met.until)


def _due(finding: Finding) -> Phrase:
    deadline = finding.deadline
    if deadline is None or deadline.first is None:
        return phrase("no day that can be told")
    if deadline.exact:
        return phrase("{day}", day=deadline.first)
    if deadline.last is None:
        return phrase("{first} or later", first=deadline.first)
    return phrase("{first} to {last}", first=deadline.first, last=deadline.last)


def _charge(name: str, before: Assessment, after: Assessment, day: date) -> Change:
    title = after.ruleset.charges[name].latest.title
    old, new = _amount(name, before), _amount(name, after)
    gone = phrase("") if new.template else phrase("nothing that applies asks for it")
    return Change(day, "charge", name, title, old, new, gone)


def _amount(name: str, assessment: Assessment) -> Phrase:
    lines = [line for line in assessment.bills[0].lines if line.charge == name]
    if not lines:
        return phrase("")
    template = "{amount}" if lines[0].certain else "{amount}, if it is due"
    return phrase(template, amount=lines[0].amount)


def _late(
    charge: str, earlier: Finding, later: Finding, after: Assessment, day: date
) -> Change:
    old, new = (
        next((c for c in (f.deadline.charges if f.deadline else ()) if c.charge == charge), None)
        for f in (earlier, later)
    )
    title: Text = after.ruleset.charges[charge].latest.title
    was = phrase("") if old is None else phrase(
        "growing" if old.grows else "{amount}", amount=old.amount)
    now = phrase("") if new is None else phrase(
        "{amount}, growing" if new.grows else "{amount}", amount=new.amount)
    return Change(day, "late", charge, title, was, now,
                  phrase("for: {title}", title=later.requirement.title))


def _announced(case: Case, ruleset: Ruleset, on: date, until: date) -> Iterator[Change]:
    """Yield rules that are announced and would change an answer of the day before they begin."""
    for requirement, day in _announced_days(case, ruleset, on, until):
        eve = on if day is None else day - timedelta(days=1)
        finding = assess(case, ruleset, eve).finding(requirement)
        for rule in finding.announced:
            if rule.on == day and rule.verdict != finding.verdict:
                yield Change(day, "requirement", requirement, finding.requirement.title,
                             phrase(finding.verdict.value), phrase(rule.verdict.value),
                             phrase("{title}: announced, not enacted; it may change",
                                    title=rule.title), announced=True)


def _announced_days(
    case: Case, ruleset: Ruleset, on: date, until: date
) -> list[tuple[str, date | None]]:
    found = {
        (finding.id, rule.on)
        for finding in assess(case, ruleset, on).findings for rule in finding.announced
        if rule.on is None or on < rule.on <= until
    }
    return sorted(found, key=lambda one: (one[1] or date.max, one[0]))
