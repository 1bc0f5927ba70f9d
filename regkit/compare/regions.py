"""A region of a diagram as few boxes.

A box says for some variables which parts their value lies in; the others do not matter. Boxes are
made as large as the region allows, so they may overlap, and together they are exactly the region.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from regkit.conditions.diagram import FALSE, TRUE, Diagrams, Node, Part, asked_by

Box = Mapping[str, tuple[Part, ...]]
"""For each variable that matters, the parts of its domain, in order."""

MOST_BOXES = 100


@dataclass(frozen=True)
class Shape:
    """A region of a diagram, and the parts into which it cuts the domain of each variable.

    Attributes:
        nowhere: what no vehicle can be; boxes may reach into it, for fewer words.
    """

    diagrams: Diagrams
    drawn: Node
    nowhere: Node = FALSE

    @cached_property
    def grid(self) -> Mapping[str, tuple[Part, ...]]:
        """For each variable that matters, all parts of its domain."""
        variables = self.diagrams.variables
        return {key: tuple(variables[key].parts(cuts))
                for key, cuts in asked_by(self.drawn).items()}

    def boxes(self) -> Iterator[Box]:
        """Yield boxes that together are exactly the region, each as large as it can be."""
        left = self.drawn
        outside = self.diagrams.negate(self.diagrams.either(left, self.nowhere))
        while left is not FALSE:
            box = self._widened(self._start(left), outside)
            left = self.diagrams.both(left, self.diagrams.negate(self.draw(box)))
            yield box

    def draw(self, box: Box) -> Node:
        """Return the diagram that is true inside a box."""
        return self.diagrams.every(self.inside(k, p, self.diagrams) for k, p in box.items())

    def inside(self, key: str, parts: Iterable[Part], diagrams: Diagrams) -> Node:
        """Return where a variable lies in some of its parts, in the diagrams of any maker."""
        variable, wanted = self.diagrams.variables[key], set(parts)
        if None not in wanted:
            return diagrams.where(variable, wanted)
        others = [part for part in self.grid[key] if part not in wanted]
        return diagrams.negate(diagrams.where(variable, others))

    def _start(self, node: Node) -> dict[str, tuple[Part, ...]]:
        found = {}
        while node is not TRUE:
            variable = node.variable
            child = next(child for child in node.children if child is not FALSE)
            found[variable.key] = tuple(
                part for part in self.grid[variable.key] if variable.at(node, part) is child)
            node = child
        return found

    def _widened(self, box: dict[str, tuple[Part, ...]], outside: Node) -> Box:
        """Return the box with every limit left out or loosened that the region does not need."""
        for key in reversed(list(box)):
            others = {name: parts for name, parts in box.items() if name != key}
            rest = self.diagrams.both(self.draw(others), outside)
            if rest is FALSE:
                box = others
                continue
            box[key] = tuple(
                part for part in self.grid[key]
                if part in box[key]
                or self.diagrams.both(rest, self.inside(key, (part,), self.diagrams)) is FALSE
            )
        return box
