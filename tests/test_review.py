"""Review: what to look at again, the longest overdue first, in the terminal and in a calendar."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner
from icalendar import Calendar

import regkit
from regkit.commands import main
from regkit.keep.review import review, review_calendar
from regkit.model.ruleset import Ruleset
from tests.small_ruleset import write

TODAY = date(2026, 11, 25)
SOURCES = """\
act: {kind: law, citation: Act, address: "https://law.example/", checked: 2026-01-01,
      look again: 2026-11-24, note: See section 3.}
page: {kind: second-hand, citation: Page, checked: 2020-01-01, look again: 2021-01-01}
letter: {kind: from memory, citation: Letter, checked: 2026-01-01, look again: 2026-11-25}
custom: {kind: common practice, citation: Custom, checked: 2026-01-01, look again: 2026-11-26}
far: {kind: from memory, citation: Far, checked: 2026-01-01, look again: 2028-01-01}
"""


@pytest.fixture
def rules(tmp_path: Path) -> Ruleset:
    """The small ruleset with five sources."""
    return regkit.load(write(tmp_path, sources=SOURCES))


def test_the_longest_overdue_comes_first(rules: Ruleset) -> None:
    """Years overdue, a day overdue, due today; what is due tomorrow is not yet listed."""
    found = review(rules, TODAY)

    assert [(due.source.id, due.days) for due in found] == [
        ("page", 2154), ("act", 1), ("letter", 0)]


def test_looking_ahead(rules: Ruleset) -> None:
    """A day ahead brings in what is due tomorrow."""
    assert [due.source.id for due in review(rules, TODAY, ahead=1)][-1] == "custom"


def test_of_one_day_the_source_most_entries_rest_on_comes_first(tmp_path: Path) -> None:
    """There a change would matter most."""
    line = "{kind: from memory, citation: Some, checked: 2026-01-01, look again: 2026-11-01}"
    rules = regkit.load(write(tmp_path, sources=f"aaa: {line}\nact: {line}\n"))

    assert [due.source.id for due in review(rules, TODAY)] == ["act", "aaa"]


def test_the_command_says_address_what_to_check_and_what_rests_on_it(tmp_path: Path) -> None:
    """All one needs to begin."""
    folder = write(tmp_path, sources=SOURCES)
    result = CliRunner().invoke(main, ["review", str(folder), "--on", str(TODAY)])

    assert result.exit_code == 0, result.output
    assert "QA  2026-11-24  act (law, 1 days overdue)" in result.output
    assert "https://law.example/" in result.output and "Note: See section 3." in result.output
    assert "Rests on it: Old; Paint it" in result.output
    assert "Find the official text: only a third party's was seen." in result.output
    assert "4 to look at up to 2027-02-23; 2 overdue" in result.output


def test_without_a_path_all_shipped_rulesets_are_reviewed() -> None:
    """On a day by which every source of every one is due."""
    result = CliRunner().invoke(main, ["review", "--on", "2100-01-01"])

    assert result.exit_code == 0, result.output
    assert {line.split()[0] for line in result.output.splitlines() if " days overdue)" in line} == (
        set(regkit.jurisdictions()))


def test_the_calendar_is_read_by_an_independent_library(rules: Ruleset) -> None:
    """RFC 5545: one whole day a source, with an alarm and the address."""
    dues = review(rules, TODAY, ahead=3650)
    calendar = Calendar.from_ical(review_calendar(rules, dues, TODAY))
    events = {str(event["summary"]): event for event in calendar.walk("VEVENT")}

    assert len(events) == 5
    act = events["QA: look again: Act"]
    assert act.decoded("dtstart") == date(2026, 11, 24)
    assert act.decoded("dtend") - act.decoded("dtstart") == timedelta(days=1)
    assert str(act["url"]) == "https://law.example/"
    assert len(act.walk("VALARM")) == 1


def test_importing_a_newer_calendar_moves_entries_and_doubles_none(tmp_path: Path) -> None:
    """The identifier stays, the sequence grows, the day moves."""
    def event(folder: Path, look_again: str, today: date) -> dict[str, object]:
        rules = regkit.load(write(folder, sources=SOURCES.replace("2026-11-24", look_again)))
        dues = review(rules, today, ahead=3650)
        read = Calendar.from_ical(review_calendar(rules, dues, today))
        (found,) = [e for e in read.walk("VEVENT") if e["summary"] == "QA: look again: Act"]
        return {"uid": str(found["uid"]), "sequence": found["sequence"],
                "day": found.decoded("dtstart")}

    before = event(tmp_path / "1", "2026-11-24", TODAY)
    after = event(tmp_path / "2", "2027-11-24", TODAY + timedelta(days=1))

    assert before["uid"] == after["uid"]
    assert after["sequence"] == before["sequence"] + 1  # type: ignore[operator]
    assert after["day"] == date(2027, 11, 24)


def test_what_another_layer_states_is_its_keepers_business() -> None:
    """A ruleset that builds on another lists its own sources alone."""
    rules = regkit.load("IE")

    assert {due.source.layer for due in review(rules, TODAY, ahead=36_500)} == {"IE"}


def test_a_source_of_a_part_is_rested_on_too(tmp_path: Path) -> None:
    """Such as what an inspector looks at, or how long a step takes."""
    requirements = ("show-it: {title: Show it, why: W., stage: first, authority: office, sources: "
                    "[act], takes: {from: 1 day, to: 2 days, sources: [custom]}, inspects: "
                    "[{looks at: Lamps, sources: [page]}]}\n")
    rules = regkit.load(write(tmp_path, sources=SOURCES, requirements=requirements))

    rests = {due.source.id: due.rests for due in review(rules, TODAY, ahead=1)}
    assert rests["page"] == rests["custom"] == ("Show it",)
