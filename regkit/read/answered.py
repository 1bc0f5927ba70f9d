"""Adding one answer to a case file; every other character stays, comments among them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import yaml


def with_answer(text: str, data: Mapping[str, Any], fact: str) -> str:
    """Return the text of a case file with one fact told, or told anew.

    Args:
        text: the file as it stands; empty if there is none.
        data: all the file is to say, the fact among its `facts`.
        fact: empty if none is told yet.
    """
    whole = yaml.safe_dump(dict(data), sort_keys=False, allow_unicode=True, width=100)
    added = _added(text, fact, data["facts"][fact]) if text and fact else None
    # Whatever cannot be added in place is written anew, rather than wrongly.
    return added if added is not None and _says(added) == _says(whole) else whole


def _says(text: str) -> Any:
    try:
        return yaml.load(text, yaml.BaseLoader)
    except yaml.YAMLError:
        return None


def _added(text: str, fact: str, written: str) -> str | None:
    try:
        root = yaml.compose(text, yaml.SafeLoader)
    except yaml.YAMLError:
        return None
    if not isinstance(root, yaml.MappingNode):
        return None
    facts = next((value for key, value in root.value if key.value == "facts"), None)
    line = yaml.safe_dump({fact: written}, allow_unicode=True, width=10_000)
    if isinstance(facts, yaml.MappingNode) and not facts.value:
        rest, newline, after = text[facts.end_mark.index:].partition("\n")
        head = text[: facts.start_mark.index].rstrip() + rest
        return f"{head}\n  {line.rstrip()}{newline}{after}"
    if not isinstance(facts, yaml.MappingNode) or facts.flow_style:
        return None
    for key, value in facts.value:
        if key.value == fact:
            new = line.partition(": ")[2].rstrip()
            return text[: value.start_mark.index] + new + text[value.end_mark.index:]
    last = facts.value[-1][1]
    end: int
    while not isinstance(last, yaml.ScalarNode) and last.value and not last.flow_style:
        last = last.value[-1][1] if isinstance(last, yaml.MappingNode) else last.value[-1]
    end = text.find("\n", last.end_mark.index)
    before, after = (text + "\n", "") if end < 0 else (text[: end + 1], text[end + 1:])
    column: int = facts.value[0][0].start_mark.column
    return f"{before}{' ' * column}{line}{after}"
