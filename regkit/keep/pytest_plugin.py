"""pytest collects the worked examples of any ruleset folder it meets.

An entry point (`pytest11`) makes it known to pytest wherever regkit is installed: in a folder that
holds `ruleset.yaml`, `examples.yaml` and `examples/*.yaml` become tests, one an example.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> ExamplesFile | None:
    """Take a file of worked examples; leave every other file to others."""
    if file_path.suffix != ".yaml":
        return None
    folder = file_path.parent.parent if file_path.parent.name == "examples" else file_path.parent
    named = "examples" in (file_path.stem, file_path.parent.name)
    if not named or not (folder / "ruleset.yaml").is_file():
        return None
    return ExamplesFile.from_parent(parent, path=file_path)


class ExamplesFile(pytest.File):
    """A file of worked examples."""

    @property
    def folder(self) -> Path:
        """The folder of the ruleset."""
        inside = self.path.parent.name == "examples"
        return self.path.parent.parent if inside else self.path.parent

    def collect(self) -> Iterator[ExampleItem]:
        """Yield one test for each example; nothing is judged yet."""
        from regkit.read.problems import Unreadable
        from regkit.read.text import read_file

        try:
            document = read_file(self.path)
        except Unreadable as wrong:
            raise self.CollectError(str(wrong)) from wrong
        for name in document.data or {}:
            yield ExampleItem.from_parent(self, name=name, line=document.line((name,)))


class ExampleItem(pytest.Item):
    """One worked example."""

    def __init__(self, *, line: int, **rest: Any) -> None:
        super().__init__(**rest)
        self.line = line

    def runtest(self) -> None:
        """Compare every answer with the one expected.

        Raises:
            Wrong: some differ.
            Unreadable: the ruleset does not load.
        """
        import regkit
        from regkit.keep.because import answer_lines
        from regkit.keep.examples import answers

        assert isinstance(self.parent, ExamplesFile)
        ruleset = regkit.load(self.parent.folder)
        example = ruleset.examples[self.name]
        found = list(answers(example, ruleset))
        wrong = [answer for answer in found if not answer.right]
        if wrong or not found:
            lines = [f"{self.path}:{self.line}", f"{self.name}: {example.title}, on {example.on}"]
            lines += [line for answer in wrong for line in answer_lines(answer, ruleset)]
            raise Wrong("\n".join(lines if found else [*lines, "it expects nothing"]))

    def repr_failure(self, excinfo: Any, style: Any = None) -> Any:
        """Return what to read: no traceback, only the case."""
        from regkit.read.problems import Unreadable

        if isinstance(excinfo.value, (Wrong, Unreadable)):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int, str]:
        """Return where the example stands; pytest counts lines from 0."""
        return self.path, self.line - 1, f"worked example {self.name}"


class Wrong(AssertionError):
    """A worked example comes out otherwise than it expects."""
