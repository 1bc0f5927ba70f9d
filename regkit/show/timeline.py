"""A timeline of steps, windows and changes ahead as SVG, readable in black and white.

Shape and hatching carry the meaning, never colour: a bar is the time a step surely takes, its
hatched part the time it may take, a bracket a window, a triangle a change. SVG 1.1 (W3C), no
script, no external reference; texts are escaped.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from textwrap import shorten
from xml.sax.saxutils import escape

from regkit.language import Phrase, phrase, speaker
from regkit.model.ahead import Ahead
from regkit.model.assessment import Assessment
from regkit.model.plan import Step, StepState
from regkit.show.ahead_text import say_change
from regkit.show.span import drawn_steps, due_of, span_of

WIDTH, LABELS, ROW, TOP = 1000, 330, 26, 70
LABEL_LENGTH, CHANGE_LENGTH = 50, 90
DOTTED = ' stroke-width="0.5" stroke-dasharray="1 4"'


def timeline(assessment: Assessment, ahead: Ahead | None = None, language: str = "en") -> str:
    """Return the timeline of an assessment's plan, from its day on.

    Args:
        ahead: changes ahead, drawn below the steps; those after the last step widen the picture.
    """
    return _Drawing(assessment, ahead, language).svg()


@dataclass
class _Drawing:
    assessment: Assessment
    ahead: Ahead | None
    language: str
    parts: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.say = speaker(self.language).say
        plan = self.assessment.plan
        self.steps = drawn_steps(self.assessment)
        self.stuck = plan.in_state(StepState.STUCK)
        self.changes = [c for c in self.ahead.changes if c.on] if self.ahead else []
        self.span = span_of(self.assessment, (c.on for c in self.changes if c.on))

    def svg(self) -> str:
        rows = len(self.steps) + len(self.stuck) + len(self.changes)
        height = TOP + ROW * (rows + 1) + 90
        title = self.say(phrase("{place}: steps from {day}", place=self.assessment.ruleset.title,
                                day=self.assessment.on))
        self._text(10, 24, title, size=16, weight="bold")
        self._text(10, 44, shorten(self.assessment.case.title, 120, placeholder="…"))
        self._axis(TOP + ROW * rows)
        row = TOP + ROW
        for step in self.steps:
            self._step(step, row)
            row += ROW
        for step in self.stuck:
            self._label(step, row)
            self._text(LABELS + 10, row, self.say(phrase("cannot be done as things stand")))
            row += ROW
        for change in self.changes:
            assert change.on is not None
            self._change(change.on, say_change(change), row)
            row += ROW
        self._legend(row + 10)
        return "\n".join((
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{height}" '
            f'viewBox="0 0 {WIDTH} {height}" role="img" font-family="sans-serif" font-size="12">',
            f"<title>{escape(title)}</title>",
            '<defs><pattern id="may" width="6" height="6" patternUnits="userSpaceOnUse" '
            'patternTransform="rotate(45)"><rect width="6" height="6" fill="white"/>'
            '<line x1="0" y1="0" x2="0" y2="6" stroke="black" stroke-width="2"/></pattern></defs>',
            f'<rect width="{WIDTH}" height="{height}" fill="white"/>',
            *self.parts,
            "</svg>\n",
        ))

    def _x(self, day: date) -> float:
        return round(LABELS + (WIDTH - LABELS - 30) * self.span.share(day), 1)

    def _text(self, x: float, y: float, text: str, size: int = 12, weight: str = "normal",
              anchor: str = "start") -> None:
        if text:
            self.parts.append(f'<text x="{x}" y="{y}" font-size="{size}" font-weight="{weight}" '
                              f'text-anchor="{anchor}">{escape(text)}</text>')

    def _line(self, x1: float, y1: float, x2: float, y2: float, more: str = "") -> None:
        self.parts.append(f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" stroke="black"{more}/>')

    def _axis(self, bottom: float) -> None:
        self._line(LABELS, TOP, WIDTH - 30, TOP)
        for day, says in self.span.ticks():
            x = self._x(day)
            self._line(x, TOP - 4, x, bottom + ROW / 2, DOTTED)
            if x < WIDTH - 90:
                self._text(x + 2, TOP - 6, self.say(says), size=10)

    def _label(self, step: Step, y: float) -> None:
        title = self.say(self.assessment.finding(step.requirement).requirement.title)
        perhaps = self.say(phrase("(perhaps)")) + " " if step.perhaps else ""
        self._text(10, y, perhaps + shorten(title, LABEL_LENGTH - len(perhaps), placeholder="…"),
                   weight="bold" if step.critical else "normal")

    def _step(self, step: Step, y: float) -> None:
        self._label(step, y)
        assert step.start is not None and step.finish is not None
        sure, latest = self._x(step.finish.first), self._x(step.finish.last)
        begin = self._x(step.start.first)
        self._bar(begin, max(sure, begin + 3), y, "black" if step.critical else "#777")
        if latest > sure:
            self._bar(max(sure, begin + 3), latest, y, "url(#may)")
        due = due_of(self.assessment, step)
        if due is not None and due >= self.span.first:
            x = self._x(due)
            self._line(x, y - 14, x, y + 5, ' stroke-width="3"')
            self._line(x - 7, y - 14, x, y - 14, ' stroke-width="3"')
            self._line(x - 7, y + 5, x, y + 5, ' stroke-width="3"')

    def _bar(self, left: float, right: float, y: float, fill: str) -> None:
        self.parts.append(f'<rect x="{left}" y="{y - 10}" width="{round(right - left, 1)}" '
                          f'height="12" fill="{fill}" stroke="black"/>')

    def _change(self, day: date, says: Phrase, y: float) -> None:
        x = self._x(day)
        self.parts.append(f'<path d="M{x} {y - 10} l6 11 h-12 z" fill="white" stroke="black"/>')
        text = shorten(self.say(phrase("{day}: {says}", day=day, says=says)), CHANGE_LENGTH,
                       placeholder="…")
        left = x > (LABELS + WIDTH) / 2
        self._text(x - 10 if left else x + 10, y, text, anchor="end" if left else "start")

    def _legend(self, y: float) -> None:
        self._line(10, y - 8, WIDTH - 30, y - 8, ' stroke-width="0.5"')
        self._bar(10, 40, y + 14, "black")
        self._bar(40, 70, y + 14, "url(#may)")
        self._text(78, y + 14, self.say(phrase(
            "takes at least, and may take; black and bold: decides the end")))
        self._line(480, y, 480, y + 19, ' stroke-width="3"')
        self._line(473, y, 480, y, ' stroke-width="3"')
        self._line(473, y + 19, 480, y + 19, ' stroke-width="3"')
        self._text(490, y + 14, self.say(phrase("last day, by the safe reading")))
        self.parts.append(f'<path d="M716 {y + 4} l6 11 h-12 z" fill="white" stroke="black"/>')
        self._text(730, y + 14, self.say(phrase("changes by itself")))
        self._text(10, y + 40, self.say(phrase(
            "Lengths nobody states are drawn as no time. This informs; it does not replace the "
            "authority.")), size=10)
