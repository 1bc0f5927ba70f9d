"""Changed regions as a picture: age against day of assessment, one panel an effect (SVG 1.1).

Hatching, not colour, tells what became what, so the picture survives a black and white printer.
A panel shows one date, the one that bounds the most regions; a region that another date bounds too
has no shape on it, so it is counted below and not drawn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from html import escape

from regkit.language import speaker
from regkit.model.changes import Changes, Effect, Limit, Region
from regkit.show.changes_text import effect_title, proof, short

WIDTH, PANEL, LEFT, TOP, GAP = 720, 150, 70, 70, 90
OLDEST = 80
MOST_PANELS = 12
_YEAR = 365.2425
_GAINED = ("yes", "required")


def changes_picture(changes: Changes, language: str = "en") -> str:
    """Return the picture of the regions in which two sides differ."""
    shown = [effect for effect in changes.effects if effect.kind in ("requirement", "definition")]
    shown = (shown or list(changes.effects))[:MOST_PANELS]
    height = TOP + max(len(shown), 1) * (PANEL + GAP)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{height}" '
        f'viewBox="0 0 {WIDTH} {height}" role="img" font-family="sans-serif" font-size="12">',
        f"<title>{escape(changes.old.label)} and {escape(changes.new.label)}</title>",
        f"<desc>{escape(speaker(language).say(proof(changes)))}</desc>",
        _PATTERNS,
        f'<rect width="{WIDTH}" height="{height}" fill="white"/>',
        f'<text x="{LEFT}" y="22" font-size="14">{escape(changes.old.label)} → '
        f"{escape(changes.new.label)}</text>",
        f'<rect x="{LEFT}" y="34" width="18" height="12" fill="url(#gained)" stroke="black"/>',
        f'<text x="{LEFT + 24}" y="44">became required, or yes</text>',
        f'<rect x="{LEFT + 220}" y="34" width="18" height="12" fill="url(#lost)" stroke="black"/>',
        f'<text x="{LEFT + 244}" y="44">became not required, or no, or open</text>',
    ]
    if not shown:
        lines.append(f'<text x="{LEFT}" y="{TOP + 20}">No difference for any case.</text>')
    for number, effect in enumerate(shown):
        panel = _Panel(changes.first, changes.last, TOP + number * (PANEL + GAP) + 30, language)
        lines += panel.draw(effect)
    return "\n".join([*lines, "</svg>"]) + "\n"


_PATTERNS = (
    '<defs><pattern id="gained" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<path d="M0,6 L6,0" stroke="black" stroke-width="1.2"/></pattern>'
    '<pattern id="lost" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<circle cx="2" cy="2" r="1.1" fill="black"/></pattern></defs>'
)


class _Panel:
    """Age in years upwards, days of assessment to the right."""

    def __init__(self, first: date, last: date, top: int, language: str) -> None:
        self.first, self.last, self.top = first, last, top
        self.say = speaker(language).say

    def draw(self, effect: Effect) -> Iterator[str]:
        title = short(self.say(effect_title(effect)), 100)
        yield f'<text x="{LEFT}" y="{self.top - 8}">{escape(title)}</text>'
        shown = _date_shown(effect)
        drawn = [region for region in effect.regions if _dates(region) <= {shown}]
        # Regions that other facts tell apart may have one shape; it is drawn once.
        yield from dict.fromkeys(shape for region in drawn for shape in self._region(region))
        right, bottom = WIDTH - 20, self.top + PANEL
        yield (f'<rect x="{LEFT}" y="{self.top}" width="{right - LEFT}" height="{PANEL}" '
               'fill="none" stroke="black"/>')
        for age in range(0, OLDEST + 1, 20):
            y = self._y(age)
            yield f'<line x1="{LEFT - 4}" y1="{y}" x2="{LEFT}" y2="{y}" stroke="black"/>'
            yield f'<text x="{LEFT - 8}" y="{y + 4}" text-anchor="end">{age}</text>'
        yield (f'<text x="16" y="{self.top + PANEL / 2}" text-anchor="middle" '
               f'transform="rotate(-90 16 {self.top + PANEL / 2})">age in years</text>')
        left = len(effect.regions) - len(drawn)
        said = f"age counted from: {self._name(shown, drawn)}" if shown else "of any age"
        if left:
            said += f"; not drawn: {left} of {len(effect.regions)} regions, which other dates bound"
        yield f'<text x="{LEFT}" y="{bottom + 32}">{escape(said)}</text>'
        for day in (self.first, self.last):
            anchor = "start" if day == self.first else "end"
            yield (f'<text x="{self._x(day)}" y="{bottom + 16}" text-anchor="{anchor}">'
                   f"assessed {day}</text>")

    def _name(self, shown: str, regions: list[Region]) -> str:
        """Return the name of the date whose age is drawn."""
        labels = (limit.label for region in regions for limit in region.limits
                  if limit.key == shown)
        return self.say(next(filter(None, labels), shown))

    def _region(self, region: Region) -> Iterator[str]:
        fill = "gained" if region.after in _GAINED else "lost"
        dated = next((limit for limit in region.limits if limit.spans), None)
        for first, last in region.days:
            for corners in self._corners(dated, first, last):
                points = " ".join(f"{self._x(day):.1f},{self._y(age):.1f}" for day, age in corners)
                yield f'<polygon points="{points}" fill="url(#{fill})" stroke="black"/>'

    def _corners(
        self, limit: Limit | None, first: date, last: date
    ) -> Iterator[list[tuple[date, float]]]:
        """Yield the shape of each span of a date; without one, all ages."""
        if limit is None:
            yield [(first, 0), (last, 0), (last, OLDEST), (first, OLDEST)]
            return
        later = limit.spans_later if len(limit.spans_later) == len(limit.spans) else limit.spans
        for (low, high), (low_later, high_later) in zip(limit.spans, later, strict=True):
            yield [(first, _age(first, high, 0)), (last, _age(last, high_later, 0)),
                   (last, _age(last, low_later, OLDEST)), (first, _age(first, low, OLDEST))]

    def _x(self, day: date) -> float:
        whole = max((self.last - self.first).days, 1)
        return LEFT + (day - self.first).days / whole * (WIDTH - 20 - LEFT)

    def _y(self, age: float) -> float:
        return self.top + PANEL - max(0, min(age, OLDEST)) / OLDEST * PANEL


def _dates(region: Region) -> set[str]:
    return {limit.key for limit in region.limits if limit.spans}


def _date_shown(effect: Effect) -> str:
    """Return the date that alone bounds the most regions; empty if none does."""
    found = Counter(key for region in effect.regions
                    if len(_dates(region)) == 1 for key in _dates(region))
    return min(found, key=lambda key: (-found[key], key), default="")


def _age(on: date, event: date | None, otherwise: float) -> float:
    return otherwise if event is None else (on - event).days / _YEAR
