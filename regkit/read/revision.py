"""A ruleset as it stood in a git revision, read through `git archive` into a folder of its own."""

from __future__ import annotations

import io
import subprocess
import tarfile
import tempfile
from pathlib import Path

from regkit.read.folder import Folder
from regkit.read.places import shipped
from regkit.read.problems import Problem, Unreadable
from regkit.read.ruleset import read_layers


def read_revision(code: str, revision: str, root: Path | None = None) -> list[Folder]:
    """Return the layers of a jurisdiction's ruleset at a git revision.

    Args:
        root: the folder of rulesets whose history is meant; by default `rulesets` where one works,
            or else that of this checkout.
        revision: anything git takes for a commit, such as HEAD~1, a tag or a hash.

    Raises:
        Unreadable: the rulesets are in no git repository, there is no such revision, or the
            ruleset was wrong in it.
    """
    here = Path("rulesets")
    folder = root or (here if here.is_dir() else shipped("rulesets"))
    name = f"{code}@{revision}"
    if revision.startswith("-"):
        raise Unreadable([Problem(name, 0, "is no git revision")])
    try:
        packed = subprocess.run(
            ["git", "-C", str(folder), "archive", "--format=tar", revision, "."],
            capture_output=True, check=True,
        ).stdout
    except FileNotFoundError as missing:
        raise Unreadable([Problem(name, 0, "cannot be read: git is not installed")]) from missing
    except subprocess.CalledProcessError as wrong:
        said = wrong.stderr.decode("utf-8", "replace").strip().splitlines() or ["git failed"]
        raise Unreadable([Problem(name, 0, "is neither a released version nor a git revision of "
                                  f"the rulesets (in a checkout, work in its top folder): "
                                  f"{said[-1]}")]) from wrong
    with tempfile.TemporaryDirectory() as there:
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(there, filter="data")
        return read_layers(Path(there) / code.lower())
