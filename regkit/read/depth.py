"""How deeply the conditions of a ruleset stand in each other, definitions included.

Whatever walks a condition goes down one step for each level, so a limit here is what keeps a
hostile ruleset from exhausting the stack of the evaluator. Real rules stay under 20.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from regkit.conditions import Condition, Holds
from regkit.model.ruleset import Ruleset

DEEPEST = 60


def too_deep(ruleset: Ruleset) -> tuple[str, int] | None:
    """Return a definition whose condition is nested too deeply and its depth, None if none is.

    Definitions must not go in a circle.
    """
    trees = {
        name: [tree for edition in history.editions
               for tree in (edition.when, *(dissent.when for dissent in edition.dissents))]
        for name, history in ruleset.definitions.items()
    }
    depths: dict[str, int] = {}
    waiting = list(trees)
    while waiting:
        name = waiting[-1]
        if name in depths:
            waiting.pop()
            continue
        missing = [used for used in _used(trees[name]) if used not in depths]
        if missing:
            waiting += missing
            continue
        depths[name] = max((_depth(tree, depths) for tree in trees[name]), default=0)
        if depths[name] > DEEPEST:
            return name, depths[name]
    return None


def _used(trees: Iterable[Condition]) -> Iterable[str]:
    return (part.definition for tree in trees for part in tree.walk() if isinstance(part, Holds))


def _depth(tree: Condition, depths: Mapping[str, int]) -> int:
    if isinstance(tree, Holds):
        return 1 + depths[tree.definition]
    return 1 + max((_depth(part, depths) for part in tree.parts), default=0)
