"""Writing a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_text(file: Path, text: str) -> None:
    """Write a UTF-8 text file; whoever reads it sees the old content or the new, never a part.

    Raises:
        ValueError: it cannot be written there; the message says why.
    """
    try:
        handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
                stream.write(text)
                stream.flush()
                os.fsync(stream.fileno())
            Path(name).chmod(0o644)
            Path(name).replace(file)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as wrong:
        raise ValueError(f"{file} cannot be written: {wrong.strerror or wrong}") from wrong
