"""Following open cases: what happens is written down, and what matters is called back.

    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> from regkit.follow import CaseOpened, DayPassed, Follower
    >>> with TemporaryDirectory() as folder:
    ...     follower = Follower(Path(folder) / "cases.journal", print)
    ...     new = follower.take(CaseOpened("bellmark", {"jurisdiction": "GB", "facts": {
    ...         "vehicle.place": "abroad", "vehicle.kind": "motorcycle",
    ...         "vehicle.first_registered_here": "never", "arrival.from": "FR",
    ...         "vehicle.engine_capacity": "247 cc", "arrival.purpose": "stay",
    ...         "arrival.date": "2026-03-01", "customs.entry_accepted": "2026-03-02"}}))
    ...     new = follower.take(DayPassed("2026-03-10"))
    bellmark: due soon: notify-arrival, 2026-03-16

Events go into a journal first, whole or not at all, and each once; a new follower on the same
journal comes to the same state. A notice whose callback did not return before a crash is given
again, under the same name.
"""

from regkit.follow.events import CaseOpened, DayPassed, Event, FactLearnt, PaperReceived, StepDone
from regkit.follow.follower import Follower, Notice
from regkit.follow.journal import Damaged, Journal

__all__ = [
    "CaseOpened",
    "Damaged",
    "DayPassed",
    "Event",
    "FactLearnt",
    "Follower",
    "Journal",
    "Notice",
    "PaperReceived",
    "StepDone",
]
