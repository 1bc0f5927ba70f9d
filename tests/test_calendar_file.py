"""The iCalendar file, read back by the library that others read it with (RFC 5545)."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.compare.ahead import ahead
from regkit.show.calendar_file import calendar_file

icalendar = pytest.importorskip("icalendar")
ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")


def assessed(on: str = "2026-03-10", title: str = "A Bellmark", **more: Any) -> regkit.Assessment:
    facts = {"vehicle.first_registered_here": "never", "vehicle.built": "1962",
             "arrival.date": "2026-03-01", **more.pop("facts", {})}
    case = regkit.read_case({"jurisdiction": "QA", "title": title, "facts": facts, **more}, ISLAND)
    return regkit.assess(case, ISLAND, date.fromisoformat(on))


def events(written: bytes) -> dict[str, Any]:
    calendar = icalendar.Calendar.from_ical(written)
    found = {str(event["summary"]): event for event in calendar.walk("VEVENT")}
    assert len(found) == len(calendar.walk("VEVENT"))
    return found


def test_a_last_day_is_a_whole_day_with_alarms_before_it() -> None:
    event = events(calendar_file(assessed(), "bellmark"))[
        "Last day: Tell the harbour office of the arrival"]
    assert event.decoded("dtstart") == date(2026, 3, 15)
    assert event.decoded("dtend") == date(2026, 3, 16)
    triggers = [alarm.decoded("trigger") for alarm in event.walk("VALARM")]
    assert triggers == [timedelta(days=-7), timedelta(days=-1)]


def test_what_rfc_5545_demands_is_there() -> None:
    """Sections 3.6 and 3.6.1: PRODID, VERSION; UID and DTSTAMP in each event; 3.1: CRLF, 75."""
    written = calendar_file(assessed(), "bellmark")
    calendar = icalendar.Calendar.from_ical(written)
    assert calendar["version"] == "2.0" and calendar["prodid"]
    for event in calendar.walk("VEVENT"):
        assert event["uid"] and event["dtstamp"]
        assert event.decoded("dtend") > event.decoded("dtstart")
    lines = written.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines) and b"\n" not in b"".join(lines)


def test_a_newer_file_updates_the_same_entries_and_doubles_none() -> None:
    older = events(calendar_file(assessed(), "bellmark"))
    newer = events(calendar_file(assessed("2026-03-12", title="Another title"), "bellmark"))
    assert {str(e["uid"]) for e in older.values()} == {str(e["uid"]) for e in newer.values()}
    for name, event in older.items():
        assert newer[name]["sequence"] > event["sequence"]


def test_entries_of_two_cases_never_meet() -> None:
    one, other = (events(calendar_file(assessed(), key)).values() for key in ("one", "other"))
    assert not {str(e["uid"]) for e in one} & {str(e["uid"]) for e in other}


def test_the_same_assessment_gives_the_same_bytes() -> None:
    assert calendar_file(assessed(), "x") == calendar_file(assessed(), "x")


def test_what_is_done_keeps_its_entry_and_rings_no_more() -> None:
    done = [{"requirement": "notify-arrival", "on": "2026-03-12"}]
    before = events(calendar_file(assessed(), "x"))
    after = events(calendar_file(assessed("2026-03-13", done=done), "x"))
    event = after["Done: Tell the harbour office of the arrival"]
    assert event["uid"] == before["Last day: Tell the harbour office of the arrival"]["uid"]
    assert not event.walk("VALARM")


def test_steps_and_changes_are_entered_too() -> None:
    found = assessed()
    changes = ahead(found.case, ISLAND, found.on, date(2027, 1, 31))
    entries = events(calendar_file(found, "x", changes))
    step = entries["Step: Clear customs"]
    assert (step.decoded("dtstart"), step.decoded("dtend")) == (date(2026, 3, 10),
                                                                date(2026, 3, 16))
    assert "needs Invoice" in step["description"]
    fee = next(event for name, event in entries.items() if name.startswith("Fee for registration"))
    assert fee.decoded("dtstart") == date(2027, 1, 1)


def test_text_of_a_case_cannot_break_out_of_its_field() -> None:
    written = calendar_file(assessed(title="x\r\nBEGIN:VEVENT\r\nSUMMARY:no;,"), "x")
    calendar = icalendar.Calendar.from_ical(written)
    assert all(str(event["summary"]) != "no" for event in calendar.walk("VEVENT"))


def test_the_command_writes_the_file_whole(tmp_path: Path) -> None:
    case = tmp_path / "bellmark.yaml"
    case.write_text("jurisdiction: GB\non: 2026-03-10\nfacts: {vehicle.place: abroad, "
                    "vehicle.kind: motorcycle, vehicle.first_registered_here: never, "
                    "arrival.date: 2026-03-01, arrival.from: FR, arrival.purpose: stay}\n")
    target, picture = tmp_path / "plan.ics", tmp_path / "plan.svg"
    result = CliRunner().invoke(main, ["plan", str(case), "--calendar", str(target),
                                       "--timeline", str(picture), "--until", "2026-12-31"])
    assert (result.exit_code, result.output) == (0, "")
    assert "Last day: Tell HMRC that the vehicle has arrived" in events(target.read_bytes())
    assert picture.read_text().startswith("<svg ")
    assert sorted(file.name for file in tmp_path.iterdir()) == [
        "bellmark.yaml", "plan.ics", "plan.svg"]
