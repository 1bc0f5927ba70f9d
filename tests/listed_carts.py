"""A small ruleset in which carts are listed: one duty with a window, papers, charges and a fine; a
definition that a leaflet reads otherwise, and a route.
"""

from __future__ import annotations

from pathlib import Path

import regkit
from regkit.model.ruleset import Ruleset
from tests.small_ruleset import write

FILES = {
    "definitions": """
old: {title: Old, class: yes, when: {thing.made: {before: 1960-01-01}}, sources: [act], dissents: [
  {says: The leaflet says 1961., when: {thing.made: {before: 1961-01-01}}, sources: [act]}]}
""",
    "counting": """
days: {title: D, day of event: not counted, rest day: moves to the next working day,
       sources: [act]}
""",
    "evidence": """
bill: {title: Bill, from outside: yes, sources: [act]}
photo: {title: Photo, from outside: yes, sources: [act]}
sketch: {title: Sketch, from outside: yes, sources: [act]}
slip: {title: Slip, from outside: yes, no older than: 3 months, sources: [act]}
""",
    "charges": """
fee: {title: Fee, sources: [act], cases: [
  {when: {thing.weight: {more than: 48 kg}}, amount: 5 XTS},
  {when: {thing.red: yes}, amount: 3 XTS}]}
fine: {title: Fine, sources: [act], lateness table: [{up to: 3 months, rate: 5 %}, {rate: 9 %}],
       of: fee, at least: 2 XTS}
""",
    "routes": """
by-sea: {title: By sea, facts: {thing.from: GB}, when: {thing.red: yes}, sources: [act]}
""",
    "requirements": """
list-it:
  title: List it
  why: W.
  stage: first
  authority: office
  when: {thing.kind: cart}
  window: {within: 10 days, of: thing.sold, counting: days}
  needs:
    - bill
    - any of: [photo, sketch]
    - {evidence: slip, when: {thing.red: yes}}
  charges: [fee]
  late: [fine]
  sources: [act]
""",
}


def carts(folder: Path, examples: str = "", **files: str) -> Ruleset:
    """Load the ruleset with some files replaced."""
    return regkit.load(write(folder, **{**FILES, **files, "examples": examples or None}))


def example(expect: str, facts: str, more: str = "", on: str = "2026-04-20") -> str:
    """Write one worked example, `it`."""
    return (f"it: {{title: T, on: {on}, facts: {{{facts}}}, expect: {{{expect}}}, "
            f"basis: derived, sources: [act]{more}}}\n")
