"""The journal of events survives being killed at any point, and so does who follows cases by it."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from regkit.follow import Damaged, Journal


def test_a_line_torn_at_any_byte_is_cut_off_and_nothing_else_is_lost(tmp_path: Path) -> None:
    path = tmp_path / "j"
    with Journal(path) as journal:
        for at in range(3):
            journal.add(f"e{at}", {"text": f"ä{at}"})
    whole = path.read_bytes()
    start = whole.rindex(b"\n", 0, -1) + 1
    for end in range(start, len(whole)):
        path.write_bytes(whole[:end])
        with Journal(path) as journal:
            assert [entry["name"] for entry in journal.entries] == ["e0", "e1"]
            assert journal.add("e2", {"text": "ä2"})
        assert path.read_bytes() == whole


def test_a_changed_byte_is_an_error_that_names_the_line(tmp_path: Path) -> None:
    path = tmp_path / "j"
    with Journal(path) as journal:
        for at in range(3):
            journal.add(f"e{at}", {"text": "x"})
    content = path.read_bytes()
    path.write_bytes(content.replace(b'"e1"', b'"e9"'))
    with pytest.raises(Damaged, match=r"j:2: this line is not as it was written"):
        Journal(path)


def test_two_processes_cannot_write_one_journal(tmp_path: Path) -> None:
    with Journal(tmp_path / "j"), pytest.raises(Damaged, match="another process"):
        Journal(tmp_path / "j")


WRITER = """
import sys
from pathlib import Path
from regkit.follow import Journal
count, path, acknowledged = int(sys.argv[1]), Path(sys.argv[2]), Path(sys.argv[3])
with Journal(path) as journal, acknowledged.open("a") as sure:
    for at in range(count):
        if journal.add(f"e{at}", {"value": "x" * (at % 97)}):
            sure.write(f"e{at}\\n")
            sure.flush()
"""


def lines(path: Path) -> int:
    return path.read_bytes().count(b"\n") if path.exists() else 0


def kill_at(process: subprocess.Popen[Any], path: Path, count: int) -> bool:
    """Kill a process once a file has so many lines; return whether it still ran."""
    while process.poll() is None and lines(path) < count:
        pass
    running = process.poll() is None
    if running:
        os.kill(process.pid, signal.SIGKILL)
    process.communicate()
    return running


def test_killed_at_random_points_no_event_is_lost_or_doubled(tmp_path: Path) -> None:
    """A process writes 3,000 events and is killed again and again; each time it sends them all."""
    path, sure, count = tmp_path / "j", tmp_path / "acknowledged", 3000
    chance, kills = random.Random(1182), 0

    def start() -> subprocess.Popen[Any]:
        return subprocess.Popen([sys.executable, "-c", WRITER, str(count), str(path), str(sure)])

    while kill_at(start(), path, lines(path) + chance.randint(1, 400)):
        kills += 1
        with Journal(path) as journal:
            names = [entry["name"] for entry in journal.entries]
        assert set(sure.read_text().split() if sure.exists() else []) <= set(names)
    assert kills
    with Journal(path) as journal:
        assert [entry["name"] for entry in journal.entries] == [f"e{at}" for at in range(count)]


FOLLOWER = """
import json
import sys
from pathlib import Path
from regkit.follow import CaseOpened, DayPassed, FactLearnt, Follower
journal, heard = Path(sys.argv[1]), Path(sys.argv[2])
def tell(notice):
    with heard.open("a") as file:
        file.write(notice.name + "\\n")
follower = Follower(journal, tell)
facts = {"vehicle.kind": "motorcycle", "vehicle.place": "abroad", "vehicle.built": 1986,
         "vehicle.engine_capacity": "247 cc", "vehicle.first_registered_here": "never",
         "arrival.from": "FR", "arrival.purpose": "stay", "arrival.date": "2026-03-01",
         "customs.entry_accepted": "2026-03-02"}
events = [CaseOpened("a", {"jurisdiction": "GB", "facts": facts}), DayPassed("2026-03-05"),
          CaseOpened("b", {"jurisdiction": "GB", "facts": facts}), DayPassed("2026-03-10"),
          FactLearnt("a", "vehicle.engine_capacity", "48 cc"), DayPassed("2026-03-20"),
          FactLearnt("b", "use.on_road", "yes"), DayPassed("2027-04-01")]
for at, event in enumerate(events):
    follower.take(event, f"e{at}")
print(json.dumps(follower.state(), sort_keys=True))
"""


def test_a_follower_killed_at_random_points_comes_to_the_same_state(tmp_path: Path) -> None:
    """Every notice is heard; one that was being told when the process died may be heard twice."""
    def run(name: str) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [sys.executable, "-c", FOLLOWER, str(tmp_path / name), str(tmp_path / f"{name}.heard")],
            stdout=subprocess.PIPE, text=True)

    expected, _ = run("whole").communicate()
    chance, kills, journal = random.Random(71), 0, tmp_path / "killed"
    while kills < 4 and kill_at(run("killed"), journal, lines(journal) + chance.randint(1, 8)):
        kills += 1
    assert kills
    found, _ = run("killed").communicate()
    assert found == expected != ""
    whole, killed = ((tmp_path / f"{n}.heard").read_text().split("\n") for n in ("whole", "killed"))
    assert set(whole) == set(killed)
    assert len(killed) - len(set(killed)) <= kills
