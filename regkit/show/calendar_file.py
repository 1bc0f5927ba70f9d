"""Deadlines, steps and changes ahead as an iCalendar file (RFC 5545), with alarms.

Identifiers are the same for the same thing in the same case, whatever the day of assessment, and
the sequence number grows with that day: importing a newer file updates the entries and doubles
none. All entries are whole days. The file depends on nothing but the assessment.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING, Any
from uuid import NAMESPACE_URL, uuid5

from regkit.language import Speaker, joined, phrase, speaker
from regkit.model.ahead import Ahead
from regkit.model.assessment import Assessment, Finding
from regkit.model.plan import Step, StepState
from regkit.show.ahead_text import say_change
from regkit.show.deadline_text import say_due, say_late_charge, say_window
from regkit.show.plan_words import say_when

if TYPE_CHECKING:
    from icalendar import Event

ALARMS = (timedelta(days=7), timedelta(days=1))
"""How long before a last day an alarm rings."""

_EPOCH = date(2000, 1, 1)


def calendar_file(
    assessment: Assessment, key: str, ahead: Ahead | None = None, language: str = "en"
) -> bytes:
    """Return the calendar of an assessment.

    Args:
        key: what the case is called among the keeper's cases; entries keep their identity as long
            as it stays the same.
        ahead: changes ahead, to be entered too.

    Raises:
        ImportError: icalendar is not installed.
    """
    try:
        from icalendar import Calendar
    except ImportError as missing:
        raise ImportError(
            "Writing a calendar needs the package 'icalendar': pip install icalendar"
        ) from missing
    page = _Page(assessment, key, speaker(language))
    calendar = Calendar()
    calendar.add("prodid", "-//regkit//deadlines and steps//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", " ".join((assessment.case.title or key).split()))
    for event in (*page.deadlines(), *page.steps(), *page.changes(ahead)):
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


class _Page:
    def __init__(self, assessment: Assessment, key: str, speak: Speaker) -> None:
        self.assessment = assessment
        self.key = key
        self.say = speak.say

    def deadlines(self) -> Iterator[Event]:
        for finding in self.assessment.findings:
            deadline = finding.deadline
            if deadline is None or deadline.first is None or deadline.at_once:
                continue
            title = finding.requirement.title
            done = finding.met is not None
            says = phrase("Done: {title}" if done else "Last day: {title}", title=title)
            event = self._event(f"deadline/{finding.id}", says, deadline.first, deadline.first,
                                self._about(finding), "deadline")
            if not done:
                self._alarms(event, says)
            yield event

    def _about(self, finding: Finding) -> str:
        deadline, window = finding.deadline, finding.requirement.window
        assert deadline is not None and window is not None
        parts = [phrase("{sentence}", sentence=finding.sentence),
                 say_window(window, self.assessment.ruleset, deadline)]
        if deadline.first is not None and not deadline.exact:
            parts.append(say_due(deadline))
        parts += deadline.notes
        parts += [say_late_charge(charge, self.assessment.ruleset)
                  for charge in deadline.charges]
        return self.say(joined(*parts, by=". "))

    def steps(self) -> Iterator[Event]:
        for step in self.assessment.plan.steps:
            if step.state in (StepState.DONE, StepState.STUCK) or step.start is None:
                continue
            assert step.finish is not None
            title = self.assessment.finding(step.requirement).requirement.title
            last = step.finish.last if step.duration_kind else step.start.first
            yield self._event(f"step/{step.requirement}", phrase("Step: {title}", title=title),
                              step.start.first, max(last, step.start.first),
                              self._about_step(step), "step")

    def _about_step(self, step: Step) -> str:
        ruleset = self.assessment.ruleset
        parts = [say_when(step)]
        parts += [phrase("needs {paper}", paper=ruleset.evidence[part.evidence].latest.title)
                  for part in step.missing]
        if step.perhaps:
            parts.append(phrase("it is not settled yet whether this applies"))
        return self.say(joined(*parts, by=". "))

    def changes(self, ahead: Ahead | None) -> Iterator[Event]:
        for change in ahead.changes if ahead is not None else ():
            if change.on is None:
                continue
            says = say_change(change)
            name = f"change/{change.kind}/{change.id}/{change.on}"
            yield self._event(name, says, change.on, change.on, self.say(change.why), "change")

    def _event(
        self, name: str, says: object, first: date, last: date, about: str, category: str
    ) -> Event:
        from icalendar import Event

        on, jurisdiction = self.assessment.on, self.assessment.ruleset.jurisdiction
        event: Any = Event()
        event.add("uid", f"{uuid5(NAMESPACE_URL, f'regkit/{jurisdiction}/{self.key}/{name}')}")
        event.add("dtstamp", datetime.combine(on, time(), UTC))
        event.add("sequence", max((on - _EPOCH).days, 0))
        event.add("dtstart", first)
        event.add("dtend", last + timedelta(days=1))
        event.add("summary", self.say(says))
        event.add("description", about)
        event.add("categories", [category])
        event.add("transp", "TRANSPARENT")
        return event  # type: ignore[no-any-return]

    def _alarms(self, event: Any, says: object) -> None:
        from icalendar import Alarm

        for before in ALARMS:
            alarm: Any = Alarm()
            alarm.add("action", "DISPLAY")
            alarm.add("trigger", -before)
            alarm.add("description", self.say(says))
            event.add_component(alarm)
