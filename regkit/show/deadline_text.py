"""Deadlines, done and lateness in words: the parts that text, plan and calendar share."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Argument, Phrase, phrase, plural
from regkit.model.assessment import Finding
from regkit.model.deadline import Deadline, Fulfilment, LateCharge, Progress
from regkit.model.ruleset import Ruleset
from regkit.model.window import Window

PROGRESS_MARKS = {
    Progress.TO_DO: "",
    Progress.PERHAPS_OVERDUE: "perhaps overdue",
    Progress.OVERDUE: "overdue",
    Progress.DONE: "done",
    Progress.PERHAPS_DONE_LATE: "done, perhaps late",
    Progress.DONE_LATE: "done late",
}


def standing_lines(finding: Finding, ruleset: Ruleset) -> Iterator[tuple[str, Phrase]]:
    """Yield a lead word and a phrase for each thing to say of progress and deadline."""
    if finding.met is not None:
        yield "done", say_met(finding.met, ruleset)
    window, deadline = finding.requirement.window, finding.deadline
    if window is None or deadline is None:
        return
    rule = say_window(window, ruleset, deadline)
    if deadline.first is None:
        yield "when", rule
    elif deadline.at_once:
        yield "when", phrase("at once, from {day}: {rule}", day=deadline.first, rule=rule)
    else:
        yield "by", phrase("{due}: {rule}", due=say_due(deadline), rule=rule)
    if deadline.late is not None and deadline.late.most and deadline.first is not None:
        yield "late", say_late(deadline, finding.progress)
    for charge in deadline.charges:
        yield "cost", say_late_charge(charge, ruleset)
    if finding.met is None:
        for note in deadline.notes:
            yield "count", note


def say_met(met: Fulfilment, ruleset: Ruleset) -> Phrase:
    """Say what shows that a requirement has been met, and how long that counts."""
    says = _shown_by(met, ruleset)
    return says if met.until is None else phrase("{shown}; it counts until {day}", shown=says,
                                                 day=met.until)


def _shown_by(met: Fulfilment, ruleset: Ruleset) -> Phrase:
    if met.evidence:
        paper = ruleset.evidence[met.evidence].latest.title
        if met.on is None:
            return phrase("shown by: {paper}", paper=paper)
        return phrase("shown by: {paper}, of {day}", paper=paper, day=met.on)
    if met.reference:
        return phrase("on {day}, reference {reference}", day=met.on or "", reference=met.reference)
    return phrase("on {day}", day=met.on or "")


def say_window(window: Window, ruleset: Ruleset, deadline: Deadline) -> Phrase:
    """Say a window's rule, with the event it runs from, or may run from."""
    events: tuple[Argument, ...] = tuple(ruleset.vocabulary[name].label for name in window.of)
    if deadline.event:
        events = (phrase("{event} ({day})", event=ruleset.vocabulary[deadline.event].label,
                         day=deadline.event_day or ""),)
    if window.within is None:
        return phrase("at once after: {events}", events=events)
    if window.back or not window.within.count:
        return phrase("{within}: {events}", within=window, events=events)
    return phrase("{within} of: {events}", within=window, events=events)


def say_due(deadline: Deadline) -> Phrase:
    """Say the last day, and how many days are left."""
    day = phrase("{day}", day=deadline.first or "")
    if deadline.last is not None and deadline.last != deadline.first:
        day = phrase("{first} to be safe (the last day may be as late as {last})",
                     first=deadline.first or "", last=deadline.last)
    elif deadline.last is None:
        day = phrase("{first} to be safe (the last day may be later)", first=deadline.first or "")
    left = deadline.days_left
    if left is None or left < 0:
        return day
    if left == 0:
        return phrase("{day}, today is the last day", day=day)
    return plural("{day}, {count} day left", "{day}, {count} days left", count=left, day=day)


def say_late_charge(charge: LateCharge, ruleset: Ruleset) -> Phrase:
    """Say what lateness costs, and the kinds of source that say so."""
    amount = phrase("{amount}, and it grows", amount=charge.amount) if charge.grows else (
        charge.amount)
    template = ("{title}: {amount} ({kinds})" if charge.certain
                else "{title}, may apply: {amount} ({kinds})")
    kinds = dict.fromkeys(ruleset.sources[name].kind for name in charge.sources)
    return phrase(template, title=charge.title, amount=amount,
                  kinds=tuple(phrase(kind) for kind in kinds))


def say_late(deadline: Deadline, progress: Progress) -> Phrase:
    """Say how late something is, or was done."""
    if deadline.late is None:
        return phrase(PROGRESS_MARKS[progress])
    state = phrase(PROGRESS_MARKS[progress])
    if deadline.overdue_since is None:
        return phrase("{state}: {days}", state=state, days=deadline.late)
    return phrase("{state} since {day}: {days}", state=state, day=deadline.overdue_since,
                  days=deadline.late)
