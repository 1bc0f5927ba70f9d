"""What a reading hands to the nodes of a tree: an emitter of code, a pen for diagrams."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from regkit.conditions.diagram import Diagrams, Node
    from regkit.conditions.tree import Test


class Emitter(Protocol):
    """Collects the parts of compiled code; returns for each the name of a variable or a number."""

    def test(self, test: Test) -> str: ...
    def holds(self, definition: str) -> str: ...
    def negate(self, expression: str) -> str: ...
    def by_date(self, parts: tuple[tuple[str, str], ...]) -> str: ...


class Pen(Protocol):
    """Draws conditions as diagrams of one maker."""

    @property
    def diagrams(self) -> Diagrams: ...
    def test(self, test: Test) -> Node: ...
    def holds(self, definition: str) -> Node: ...
    def question(self, question: str) -> Node: ...
