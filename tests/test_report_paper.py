"""The report on paper: few sheets, and on them all that bears on this vehicle.

Sources: ISO 216 and ANSI Y14.1 for the sizes of paper.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest

from regkit.language import speaker
from regkit.model.assessment import Outcome, Reason
from regkit.model.plan import StepState
from tests.browser import browser
from tests.report_pages import CASES, IN_LANGUAGES, found, reasons, written

MOST_SHEETS = 12
"""The demo cases take six to eleven sheets of A4; as rules are added, a report may grow by one."""
PRINTED = (*((name, "en") for name in CASES), *IN_LANGUAGES)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser() as found:
        yield found


@pytest.fixture
def page(chromium: Any) -> Iterator[Any]:
    with chromium.new_context() as context:
        yield context.new_page()


def opened(page: Any, folder: Path, name: str, language: str) -> Any:
    """Return the page with the report of a demo case."""
    file = folder / "report.html"
    file.write_text(written(name, language), "utf-8")
    page.goto(file.as_uri())
    return page


def sheets(page: Any, paper: str) -> Any:
    """Return the sheets a page is printed on."""
    printed = page.pdf(format=paper, prefer_css_page_size=False)
    return pypdf.PdfReader(io.BytesIO(printed)).pages


def plain(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize(("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))])
@pytest.mark.parametrize("language", ["en", "de", "sv"])
def test_it_keeps_the_size_of_the_sheet(
    paper: str, size: tuple[int, int], language: str, page: Any, tmp_path: Path
) -> None:
    """It fits the width, and ends with the version and the digest of the rules."""
    printed = sheets(opened(page, tmp_path, "gb-import", language), paper)
    rules = found("gb-import").ruleset

    assert all(abs(int(sheet.mediabox.width) - size[0]) <= 1
               and abs(int(sheet.mediabox.height) - size[1]) <= 1 for sheet in printed)
    last = plain(printed[-1].extract_text())
    assert rules.digest in last and rules.version in last
    assert f"{len(printed)} / {len(printed)}" in last


@pytest.mark.parametrize(("name", "language"), PRINTED, ids=map("-".join, PRINTED))
def test_it_takes_few_sheets_with_all_that_bears_on_the_vehicle(
    name: str, language: str, page: Any, tmp_path: Path
) -> None:
    """What is folded on the screen is printed, but for reasons on which nothing rests here."""
    opened(page, tmp_path, name, language)
    assert len(sheets(page, "A4")) <= MOST_SHEETS
    page.emulate_media(media="print")
    text, say, assessment = plain(page.inner_text("body")), speaker(language).say, found(name)
    deciding: list[Reason] = []
    for step in assessment.plan.steps:
        finding = assessment.finding(step.requirement)
        deciding += finding.reason.deciding() if step.state != StepState.DONE else ()
    for one in assessment.classes:
        deciding += list(one.reason.deciding())[1:] if one.outcome != Outcome.NO else ()

    assert [words for node in deciding if (words := plain(say(node.says))) not in text] == []
    for other in assessment.findings:
        assert plain(say(other.requirement.title)) in text
        for reading in other.other_readings:
            assert plain(say(reading.says)) in text
    for part in (*assessment.cautions, *assessment.ruleset.does_not_cover,
                 *(line.title for bill in assessment.bills for line in bill.lines)):
        assert plain(say(part)) in text
    listed = page.locator(".sources li")
    assert listed.count() == len(assessment.to_dict()["sources"])
    assert all(listed.nth(at).is_visible() for at in range(listed.count()))


def test_what_nothing_rests_on_here_is_left_to_the_screen(page: Any, tmp_path: Path) -> None:
    """A reason beside the one that decides is not printed; the report says so."""
    opened(page, tmp_path, "gb-import", "en").evaluate(
        "document.querySelectorAll('details').forEach(one => one.open = true)")
    beside = page.locator(".beside")
    seen = [beside.nth(at).is_visible() for at in range(beside.count())]
    assert seen and all(seen)
    page.emulate_media(media="print")

    assert not any(beside.nth(at).is_visible() for at in range(beside.count()))
    assert "the file itself holds all" in plain(page.inner_text("footer"))
    assert any(not node.decisive for finding in found("gb-import").findings
               for node in reasons(finding.reason))
