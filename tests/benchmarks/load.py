"""What does a one-off command spend its time on? Reading a ruleset against the whole command.

    python -m tests.benchmarks.load [CASE]
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from statistics import median
from time import perf_counter

ROUNDS = 5
ROOT = Path(__file__).resolve().parent.parent.parent
CASE = "docs/cases/gb-import.yaml"


def seconds(*arguments: str) -> float:
    """Return how long a fresh Python takes for something."""
    start = perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, capture_output=True, cwd=ROOT)
    return perf_counter() - start


def main() -> None:
    """Print a table: each step alone, in fresh processes, and its share of the whole."""
    case = sys.argv[1] if len(sys.argv) > 1 else CASE
    code = Path(ROOT / case).stem.split("-")[0].upper()
    read = f"import regkit; rules = regkit.load({code!r})"
    judged = f"{read}; case = regkit.read_case({case!r}); a = regkit.assess(case, rules, case.on)"
    steps = {
        "starting Python": ("-c", "pass"),
        "+ import regkit": ("-c", "import regkit"),
        f"+ load {code}": ("-c", read),
        "+ read and assess the case, verdicts": ("-c", judged),
        "+ findings with reasons": ("-c", f"{judged}; a.findings"),
        "regkit assess CASE": ("-m", "regkit", "assess", case),
        "regkit assess CASE --json": ("-m", "regkit", "assess", case, "--json"),
    }
    times: dict[str, list[float]] = {name: [] for name in steps}
    for _ in range(ROUNDS):
        for name, arguments in steps.items():
            times[name].append(seconds(*arguments))
    whole = median(times["regkit assess CASE"])
    print(f"{case}, medians of {ROUNDS} alternating rounds\n")
    print(f"{'step':40}{'ms':>8}{'of the command':>17}")
    for name, found in times.items():
        print(f"{name:40}{median(found) * 1e3:8.0f}{median(found) / whole:17.2f}")


if __name__ == "__main__":
    main()
