"""Reduced ordered decision diagrams over the cells of facts: exact logic on all cases at once.

A node asks for one variable, a fact or a quantity derived from facts, and has a child for each
part of its domain. Diagrams are kept reduced and shared: two conditions hold for the same cases
exactly if they are the same node. Source: R. E. Bryant, Graph-based algorithms for Boolean function
manipulation, IEEE Transactions on Computers C-35 (1986), here with many-valued variables.

Two kinds of variable: a `Line` is cut at bounds, a `WordSet` into words. On the line of a date the
answer `never` is the point at infinity, after every day; so 'a is no later than b' also says that a
happened if b did.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from regkit.model.facts import Fact

NEVER_DAY = float("inf")
BEGINNING = float("-inf")
LARGEST = 200_000

Part = Any
"""A part of a domain that nothing cuts further: of a `Line` its lower bound and its upper bound,
itself excluded (None for no upper bound, which includes `never`); of a `WordSet` a word, None for
any that no cut names."""


class TooLarge(ValueError):
    """A diagram grew past the limit; nothing can be said exactly at a bearable cost."""


@dataclass(frozen=True, slots=True)
class Variable(ABC):
    """What a node asks for.

    Attributes:
        key: the fact, or what is derived from facts.
        facts: the facts whose values decide it; none for an open question.
        about: `value`, or what else is asked: `unknown` (said expressly), `question` or
            `definition`.
    """

    key: str
    facts: tuple[Fact, ...] = ()
    about: str = "value"

    @abstractmethod
    def spread(self, node: Node, cuts: tuple[Any, ...]) -> Sequence[Node]:
        """Return the children of a node of this variable, as if it were cut at all of these."""

    @abstractmethod
    def kept(self, children: Sequence[Node]) -> list[int]:
        """Return the positions of the cuts that matter, among children cut everywhere."""

    @abstractmethod
    def parts(self, cuts: Iterable[Any]) -> list[Part]:
        """Return the parts into which cuts divide the domain."""

    @abstractmethod
    def cuts_around(self, passing: Iterable[Part]) -> tuple[tuple[Any, ...], list[bool]]:
        """Return the cuts that set some parts off from the rest, and what passes between them."""

    @abstractmethod
    def at(self, node: Node, part: Part) -> Node:
        """Return the child of a node of this variable for a part no larger than its own."""


@dataclass(frozen=True, slots=True)
class Line(Variable):
    """An ordered domain, cut at bounds. Child number n lies between cut n-1 and cut n."""

    def spread(self, node: Node, cuts: tuple[Any, ...]) -> Sequence[Node]:
        if cuts == node.cuts:
            return node.children
        own, children = node.cuts, node.children
        return [children[0], *(children[bisect_right(own, cut)] for cut in cuts)]

    def kept(self, children: Sequence[Node]) -> list[int]:
        return [at for at in range(len(children) - 1) if children[at] is not children[at + 1]]

    def parts(self, cuts: Iterable[Any]) -> list[Part]:
        bounds = [BEGINNING, *sorted(set(cuts))]
        return [*pairwise(bounds), (bounds[-1], None)]

    def cuts_around(self, passing: Iterable[Part]) -> tuple[tuple[Any, ...], list[bool]]:
        spans = sorted(passing, key=lambda part: part[0])
        cuts = sorted({bound for part in spans for bound in part} - {BEGINNING, None})
        lows = [BEGINNING, *cuts]
        return tuple(cuts), [
            any(low <= at and (high is None or at < high) for low, high in spans) for at in lows
        ]

    def at(self, node: Node, part: Part) -> Node:
        return node.children[bisect_right(node.cuts, part[0])]


@dataclass(frozen=True, slots=True)
class WordSet(Variable):
    """A domain of words. The last child is for every word that is not a cut.

    Attributes:
        words: all there are; None where they cannot be listed. The last of them is never a cut, and
            cuts are sorted, so that there is one way to write each function.
    """

    words: tuple[str, ...] | None = None

    def spread(self, node: Node, cuts: tuple[Any, ...]) -> Sequence[Node]:
        if cuts == node.cuts:
            return node.children
        own = dict(zip(node.cuts, node.children, strict=False))
        rest = node.children[-1]
        return [*(own.get(cut, rest) for cut in cuts), rest]

    def kept(self, children: Sequence[Node]) -> list[int]:
        return [at for at in range(len(children) - 1) if children[at] is not children[-1]]

    def parts(self, cuts: Iterable[Any]) -> list[Part]:
        return [*sorted(set(cuts)), None] if self.words is None else list(self.words)

    def cuts_around(self, passing: Iterable[Part]) -> tuple[tuple[Any, ...], list[bool]]:
        wanted = set(passing)
        if self.words is None:
            cuts = tuple(sorted(wanted - {None}))
            return cuts, [*(True for _ in cuts), None in wanted]
        cuts = tuple(sorted(self.words[:-1]))
        return cuts, [word in wanted for word in (*cuts, self.words[-1])]

    def at(self, node: Node, part: Part) -> Node:
        return node.children[node.cuts.index(part) if part in node.cuts else -1]


class Node:
    """A node of a diagram; made by `Diagrams` alone, so that equal diagrams are one node."""

    __slots__ = ("children", "cuts", "level", "variable")

    def __init__(
        self, variable: Variable, level: float, cuts: tuple[Any, ...], children: tuple[Node, ...]
    ) -> None:
        self.variable = variable
        self.level = level
        self.cuts = cuts
        self.children = children


TRUE = Node(WordSet("true"), float("inf"), (), ())
FALSE = Node(WordSet("false"), float("inf"), (), ())


class Diagrams:
    """Makes and combines diagrams; those of one maker can be compared with `is`."""

    def __init__(self, largest: int = LARGEST) -> None:
        self.variables: dict[str, Variable] = {}
        self._largest = largest
        self._levels: dict[str, int] = {}
        self._nodes: dict[tuple[str, tuple[Any, ...], tuple[Node, ...]], Node] = {}
        self._chosen: dict[tuple[Node, Node, Node], Node] = {}
        self._negated: dict[Node, Node] = {TRUE: FALSE, FALSE: TRUE}

    def __len__(self) -> int:
        return len(self._nodes)

    def where(self, variable: Variable, passing: Iterable[Part]) -> Node:
        """Return the diagram that is true in some parts of a variable's domain."""
        own = self.variables.setdefault(variable.key, variable)
        self._levels.setdefault(own.key, len(self._levels))
        cuts, passes = own.cuts_around(passing)
        return self._node(own, cuts, [TRUE if each else FALSE for each in passes])

    def _node(
        self, variable: Variable, cuts: tuple[Any, ...], children: Sequence[Node]
    ) -> Node:
        kept = variable.kept(children)
        if not kept:
            return children[-1]
        if len(kept) < len(cuts):
            cuts = tuple(cuts[at] for at in kept)
            children = [*(children[at] for at in kept), children[-1]]
        key = (variable.key, cuts, tuple(children))
        found = self._nodes.get(key)
        if found is None:
            if len(self._nodes) >= self._largest:
                raise TooLarge(f"a decision diagram grew past {self._largest:,} nodes")
            found = Node(variable, self._levels[variable.key], cuts, key[2])
            self._nodes[key] = found
        return found

    def inside(self, key: str, part: Part) -> Node:
        """Return where a variable lies in a part of its domain."""
        return self.where(self.variables[key], (part,))

    def choose(self, test: Node, then: Node, other: Node) -> Node:
        """Return the diagram that is `then` where `test` is true and `other` elsewhere."""
        if test is TRUE or then is other:
            return then
        if test is FALSE:
            return other
        if then is TRUE and other is FALSE:
            return test
        asked = (test, then, other)
        found = self._chosen.get(asked)
        if found is None:
            level = min(test.level, then.level, other.level)
            top = [node for node in asked if node.level == level]
            variable, cuts = top[0].variable, top[0].cuts
            if any(node.cuts != cuts for node in top):
                cuts = tuple(sorted({cut for node in top for cut in node.cuts}))
            size = len(cuts) + 1
            columns = [variable.spread(node, cuts) if node.level == level else (node,) * size
                       for node in asked]
            children: list[Node] = []
            before: tuple[Node, ...] = ()
            for row in zip(*columns, strict=True):
                # Neighbours are often the same, and so is what is chosen there.
                children.append(children[-1] if row == before else self.choose(*row))
                before = row
            found = self._chosen[asked] = self._node(variable, cuts, children)
        return found

    def negate(self, node: Node) -> Node:
        """Return where it is not true."""
        found = self._negated.get(node)
        if found is None:
            children = [self.negate(child) for child in node.children]
            found = self._node(node.variable, node.cuts, children)
            self._negated[node], self._negated[found] = found, node
        return found

    def both(self, one: Node, other: Node) -> Node:
        """Return where both are true."""
        return self.choose(one, other, FALSE)

    def either(self, one: Node, other: Node) -> Node:
        """Return where one or both are true."""
        return self.choose(one, TRUE, other)

    def differ(self, one: Node, other: Node) -> Node:
        """Return where exactly one is true: the region in which two conditions differ."""
        return self.choose(one, self.negate(other), other)

    def every(self, nodes: Iterable[Node]) -> Node:
        """Return where all are true."""
        result = TRUE
        for node in nodes:
            result = self.both(result, node)
            if result is FALSE:
                break
        return result

    def some(self, nodes: Iterable[Node]) -> Node:
        """Return where at least one is true."""
        result = FALSE
        for node in nodes:
            result = self.either(result, node)
            if result is TRUE:
                break
        return result

    def fixed(self, node: Node, key: str, part: Part) -> Node:
        """Return the diagram once a variable is known to lie in a part no larger than its own."""
        return self._without(node, key, lambda found: found.variable.at(found, part), {})

    def for_every(self, node: Node, key: str) -> Node:
        """Return where it is true whatever the variable is."""
        return self._without(node, key, lambda found: self.every(found.children), {})

    def _without(self, node: Node, key: str, replace: Any, done: dict[Node, Node]) -> Node:
        level = self._levels.get(key, -1)
        if node.level > level:
            return node
        if node.level == level:
            return replace(node)  # type: ignore[no-any-return]
        found = done.get(node)
        if found is None:
            children = [self._without(child, key, replace, done) for child in node.children]
            found = done[node] = self._node(node.variable, node.cuts, children)
        return found


def nodes_of(node: Node) -> Iterator[Node]:
    """Yield a node and all below it that ask for a variable, each once."""
    seen: set[Node] = set()
    waiting = [node]
    while waiting:
        current = waiting.pop()
        if current.children and current not in seen:
            seen.add(current)
            yield current
            waiting.extend(current.children)


def asked_by(node: Node) -> dict[str, list[Any]]:
    """Return the variables a diagram depends on, and where each is cut."""
    found: dict[str, set[Any]] = {}
    levels: dict[str, float] = {}
    for part in nodes_of(node):
        found.setdefault(part.variable.key, set()).update(part.cuts)
        levels[part.variable.key] = part.level
    return {key: sorted(found[key]) for key in sorted(found, key=levels.__getitem__)}


def way_to_true(node: Node) -> dict[str, Part]:
    """Return one way through a diagram to where it is true: the part chosen of each variable.

    The diagram must not be `FALSE`; of any other, every branch but `FALSE` leads there.
    """
    chosen: dict[str, Part] = {}
    while node is not TRUE:
        variable = node.variable
        for part in variable.parts(node.cuts):
            child = variable.at(node, part)
            if child is not FALSE:
                chosen[variable.key] = part
                node = child
                break
    return chosen
