"""A journal: a file to which lines are only ever added, each whole or not at all.

Each line is a number, a checksum and JSON data. It is written in one go and forced to the disk
before `add` returns, so what was acknowledged is never lost. A crash in the middle of a write
leaves at most a torn last line, which was never acknowledged; it is cut off when the journal is
opened again. Damage anywhere else is an error: nothing is repaired by guessing. Each entry has a
name, and a name is taken once, so sending an event again after a crash does not double it.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Any, Self

try:
    import fcntl
except ImportError:  # pragma: no cover - not on Windows, where a second writer is not noticed
    fcntl = None  # type: ignore[assignment]


class Damaged(ValueError):
    """A journal that is not as it was written, or that another process is writing to."""


class Journal:
    """One journal file, open for reading and adding.

    Raises:
        Damaged: a line before the last is torn or changed, or another process has it open.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        new = not path.exists()
        self._file = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o644)
        try:
            self._lock()
            if new:
                _force(path.parent)
            self.entries = self._read()
        except BaseException:
            os.close(self._file)
            raise
        self.names = {entry["name"] for entry in self.entries}

    def add(self, name: str, data: dict[str, Any]) -> bool:
        """Add an entry; return whether it is new. On return it is on the disk.

        Args:
            name: an entry of this name is never added twice.
        """
        if name in self.names:
            return False
        entry = {"name": name, **data}
        line = _line(len(self.entries), entry)
        done = os.write(self._file, line)
        if done != len(line):
            os.ftruncate(self._file, os.fstat(self._file).st_size - done)
            raise OSError(f"{self.path} cannot be written to the end; is the disk full?")
        os.fsync(self._file)
        self.entries.append(entry)
        self.names.add(name)
        return True

    def close(self) -> None:
        """Close the file."""
        if self._file >= 0:
            os.close(self._file)
            self._file = -1

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def _lock(self) -> None:
        if fcntl is not None:
            try:
                fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as taken:
                raise Damaged(f"{self.path} is open in another process; close it first") from taken

    def _read(self) -> list[dict[str, Any]]:
        content = self.path.read_bytes()
        whole = content[: content.rfind(b"\n") + 1]
        entries = list(self._entries(whole.split(b"\n")[:-1]))
        if len(whole) < len(content):
            os.ftruncate(self._file, len(whole))
            os.fsync(self._file)
        return entries

    def _entries(self, lines: list[bytes]) -> Iterator[dict[str, Any]]:
        for at, line in enumerate(lines):
            number, _, rest = line.partition(b" ")
            check, _, data = rest.partition(b" ")
            if number != str(at).encode() or check != _check(number, data):
                raise Damaged(f"{self.path}:{at + 1}: this line is not as it was written; restore "
                              "the file from a copy")
            entry: dict[str, Any] = json.loads(data)
            yield entry


def _line(number: int, entry: dict[str, Any]) -> bytes:
    data = json.dumps(entry, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode()
    count = str(number).encode()
    return b" ".join((count, _check(count, data), data)) + b"\n"


def _check(number: bytes, data: bytes) -> bytes:
    return hashlib.sha256(number + b" " + data).hexdigest()[:16].encode()


def _force(folder: Path) -> None:
    """Make sure that a new file's name itself is on the disk."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:  # pragma: no cover - some systems do not let a folder be forced
        pass
    finally:
        os.close(handle)
