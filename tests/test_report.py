"""The report: one page that stands alone, says all, and shuts nobody out.

Success criteria are those of the Web Content Accessibility Guidelines 2.2 (W3C Recommendation),
named by number beside the checks. What only a browser can tell is asked in test_browser.py.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib
import pytest
from click.testing import CliRunner, Result

import regkit
from regkit.commands import main
from regkit.compare.ahead import ahead
from regkit.language import phrase, speaker
from regkit.model.assessment import Assessment, Reason, Verdict
from regkit.show import page as pages
from regkit.show.report import report
from tests.quillby import ON as DAY
from tests.quillby import RULES, assessed
from tests.rulesets_under_test import ROOT, ruleset

CASES = {file.stem: file for file in sorted((ROOT / "docs" / "cases").glob("*.yaml"))}
NOTHING_TOLD = ("GB", "DE", "SE", "US-CA")
IN_LANGUAGES = (("gb-papers", "de"), ("de-too-young", "de"), ("se-missed-window", "sv"))
PAGES = (*((name, "en") for name in CASES), *((code, "en") for code in NOTHING_TOLD), *IN_LANGUAGES)
ON = date(2026, 4, 1)
HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")


@cache
def found(name: str) -> Assessment:
    """Return the assessment of a demo case, or of a case of a jurisdiction that tells nothing."""
    if name in CASES:
        case = regkit.read_case(CASES[name])
    else:
        case = regkit.read_case({"jurisdiction": name, "facts": {}}, ruleset(name))
    return regkit.assess(case, regkit.load(case.jurisdiction), case.on or ON)


def parsed(html: str) -> Element:
    """Return the tree of a page; any error of its syntax raises (HTML, parsing)."""
    tree: Element = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    return tree


@cache
def written(name: str, language: str = "en") -> str:
    return report(found(name), language)


@cache
def shown(name: str, language: str = "en") -> Element:
    return parsed(written(name, language))


def words(element: Element) -> str:
    """Return the text of an element as a reader meets it, blanks made one."""
    return " ".join("".join(element.itertext()).split())


def by_id(tree: Element, name: str) -> Element:
    (only,) = [element for element in tree.iter() if element.get("id") == name]
    return only


def parents(tree: Element) -> dict[Element, Element]:
    return {child: element for element in tree.iter() for child in element}


def above(element: Element, up: dict[Element, Element]) -> Iterator[Element]:
    while element in up:
        element = up[element]
        yield element


def reasons(reason: Reason) -> Iterator[Reason]:
    yield reason
    for child in reason.children:
        yield from reasons(child)


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, list(arguments))


every_page = pytest.mark.parametrize(("name", "language"), PAGES,
                                     ids=["-".join(one) for one in PAGES])


# --------------------------------------------------------------- made for everybody

@every_page
def test_the_language_of_the_page_is_said(name: str, language: str) -> None:
    """SC 3.1.1, and 2.4.2: a title that names the vehicle."""
    tree = shown(name, language)
    (title,) = tree.iter("title")

    assert tree.get("lang") == language
    assert words(title) == words(next(tree.iter("h1"))) != ""


@every_page
def test_headings_go_down_one_level_at_a_time(name: str, language: str) -> None:
    """SC 1.3.1 and 2.4.6: the outline can be walked, and no heading is empty."""
    found_here = [element for element in shown(name, language).iter() if element.tag in HEADINGS]
    levels = [int(element.tag[1]) for element in found_here]

    assert levels[0] == 1 and levels.count(1) == 1
    assert all(lower <= upper + 1 for upper, lower in pairwise(levels))
    assert all(words(element) for element in found_here)


@every_page
def test_everything_lies_in_a_landmark(name: str, language: str) -> None:
    """SC 1.3.1: one main part; each section and the contents are named by their headings."""
    tree = shown(name, language)
    body = next(tree.iter("body"))
    names = {element.get("id"): element for element in tree.iter() if element.get("id")}

    assert [child.tag for child in body] == ["header", "main", "footer"]
    for region in (*tree.iter("section"), *tree.iter("nav")):
        assert names[region.get("aria-labelledby")].tag in HEADINGS


@every_page
def test_the_first_link_skips_to_the_checklist(name: str, language: str) -> None:
    """SC 2.4.1."""
    tree = shown(name, language)
    first = next(tree.iter("a"))

    assert first.get("href") == "#checklist"
    assert by_id(tree, "checklist").tag == "h2"


@every_page
def test_links_lead_somewhere_and_say_where(name: str, language: str) -> None:
    """SC 2.4.4; and no name is given twice."""
    tree = shown(name, language)
    names = [element.get("id") for element in tree.iter() if element.get("id")]

    assert len(names) == len(set(names))
    for link in tree.iter("a"):
        target = link.get("href", "")
        assert words(link), target
        assert target.startswith(("http://", "https://")) or target[1:] in names, target


@every_page
def test_tables_name_their_columns_and_rows(name: str, language: str) -> None:
    """SC 1.3.1."""
    for table in shown(name, language).iter("table"):
        heads = list(table.iter("th"))
        assert words(next(table.iter("caption")))
        assert all(head.get("scope") in ("col", "row") and words(head) for head in heads)
        for row in table.iter("tr"):
            assert row.get("class") == "how" or row.find("th") is not None


@every_page
def test_what_unfolds_says_what_it_is_and_works_by_keyboard(name: str, language: str) -> None:
    """SC 2.1.1 and 4.1.2: `details` and links alone, each with a name of its own."""
    tree = shown(name, language)
    names = [words(element) for element in tree.iter("summary")]

    assert all(child.tag == "summary" for d in tree.iter("details") for child in d[:1])
    assert all(names)
    assert not [element for element in tree.iter() if element.get("tabindex") not in (None, "-1")]
    assert not {"button", "input", "form"} & {element.tag for element in tree.iter()}


@every_page
def test_pictures_are_named_or_only_repeat_words(name: str, language: str) -> None:
    """SC 1.1.1."""
    tree = shown(name, language)
    up = parents(tree)
    drawn = [element for element in tree.iter() if element.tag.split("}")[-1] == "svg"]

    for picture in drawn:
        if "svg" not in (element.tag.split("}")[-1] for element in above(picture, up)):
            assert picture.get("aria-hidden") == "true" or picture.get("aria-label")


@every_page
def test_it_stands_alone(name: str, language: str) -> None:
    """No script, nothing fetched, nothing that runs; only the links to the sources lead out."""
    tree, text = shown(name, language), written(name, language)
    style = " ".join(words(element) for element in tree.iter("style"))
    known = {source.address for source in found(name).ruleset.sources.values()}

    assert not {"script", "link", "img", "iframe", "object", "embed", "base", "video", "audio"} & {
        element.tag for element in tree.iter()}
    assert not re.search(r"@import|url\(|@font-face|javascript:", style)
    assert set(re.findall(r"url\(([^)]*)\)", text)) <= {"#may"}
    for element in tree.iter():
        assert not [key for key in element.attrib
                    if key.startswith("on") or key in ("src", "style")]
    out = {link.get("href") for link in tree.iter("a")
           if not str(link.get("href")).startswith("#")}
    assert out <= known


def test_words_in_another_language_are_marked() -> None:
    """SC 3.1.2: Britain's rules are written in English alone; a German page says which words."""
    tree = shown("gb-papers", "de")
    titles = [element.find("span") for element in tree.iter("h4")]

    assert len(titles) == len(found("gb-papers").plan.steps)
    assert all(title is not None and title.get("lang") == "en" for title in titles)
    assert not [part for head in tree.iter("h2") for part in head.iter() if part.get("lang")]


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour written #rrggbb (WCAG 2.2, definition)."""
    parts = [int(colour[at:at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours (WCAG 2.2, definition)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_of_black_and_white_is_known() -> None:
    """Source: WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1."""
    assert contrast("#ffffff", "#000000") == pytest.approx(21)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("surface", ["paper", "card"])
@pytest.mark.parametrize("ink", ["ink", "soft", "link"])
def test_words_can_be_read_on_every_surface(scheme: str, surface: str, ink: str) -> None:
    """SC 1.4.3, level AA: 4.5 to 1, in light and in dark; so focus has 3 to 1 (1.4.11)."""
    style = (ROOT / "regkit/show/pages/report.css").read_text("utf-8")
    light, dark = re.findall(r":root \{([^}]*)\}", style)[:2]
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", light if scheme == "light" else dark))

    assert contrast(colours[ink], colours[surface]) >= 4.5


@every_page
def test_nothing_is_told_by_shape_or_colour_alone(name: str, language: str) -> None:
    """SC 1.4.1: the box before a step is not read out; heading, marks and words say the same."""
    say = speaker(language).say
    tree = shown(name, language)
    for step in found(name).plan.steps:
        item = by_id(tree, f"finding-{step.requirement}")
        box = item[0]
        assert box.get("aria-hidden") == "true"
        assert ("?" in words(box)) == step.perhaps
        head = words(next(item.iter("h4")))
        perhaps = {"en": "(perhaps)", "de": "(vielleicht)", "sv": "(kanske)"}[language]
        assert (perhaps in head) == step.perhaps
    for mark in tree.iter("strong"):
        if "outcome" in (mark.get("class") or ""):
            assert words(mark) in {say(phrase(word)) for word in ("yes", "no", "undecided")}


# ------------------------------------------------------------------- what it says

@every_page
def test_it_is_said_in_three_sentences(name: str, language: str) -> None:
    """What to do first, how far it goes and what it costs, what is open."""
    box = next(element for element in shown(name, language).iter("section")
               if element.get("class") == "short")
    sentences = [words(child) for child in box if child.tag == "p"]

    assert len(sentences) == 3
    assert all(sentence[-1] in ".?" and sentence[0].isupper() | sentence[0].isdigit()
               for sentence in sentences)


@pytest.mark.parametrize(("name", "language", "says"), [
    ("gb-import", "en", "Do this first: 4. Prove when the vehicle was built; it leads to: "
                        "9. Tell HMRC that the vehicle has arrived (last day: 16 March 2026, 6 "
                        "days left)."),
    ("gb-papers", "en", "Do this first: 1. Prove when the vehicle was built; no last day can be "
                        "told for anything that is left."),
    ("de-too-young", "de", "Zuerst: 2. Fahrzeugeinzelbesteuerung anmelden und zahlen (überfällig "
                           "seit dem 30. Juni 2026)."),
    ("se-missed-window", "sv", "(försenat sedan den 15 augusti 2026)."),
    ("GB", "en", "Nothing is certain yet, for too little is known; find out first: Where does it "
                 "come from?"),
])
def test_the_first_sentence_says_what_to_do_and_by_when(
    name: str, language: str, says: str
) -> None:
    """The days are those of `regkit plan`; the worked examples check them against the law."""
    tree = shown(name, language)
    first = next(element for element in tree.iter("p") if element.get("class") == "first")

    assert says in words(first)


def test_the_first_step_can_be_taken_and_leads_to_the_last_day() -> None:
    """Of all that waits for nothing else, one on the way to the earliest last day."""
    for name in CASES:
        first = next(element for element in shown(name).iter("p")
                     if element.get("class") == "first")
        links = [str(link.get("href")).removeprefix("#finding-") for link in first.iter("a")]
        plan = found(name).plan
        assert links, name
        step, goal = plan.step(links[0]), links[-1]
        assert step.state.value in ("ready", "needs papers"), name
        reached = {goal}
        for _ in plan.steps:
            reached |= {part.step for on_way in tuple(reached) if on_way
                        for part in plan.step(on_way).missing}
        assert step.requirement in reached, name


@every_page
def test_every_finding_is_there_once_with_its_reason(name: str, language: str) -> None:
    """In its place: the checklist, later, not required; each with its sentence, why and sources."""
    tree, assessment = shown(name, language), found(name)
    say = speaker(language).say
    for finding in assessment.findings:
        item = by_id(tree, f"finding-{finding.id}")
        text = words(item)
        for said in (finding.requirement.title, finding.requirement.why, finding.sentence):
            assert " ".join(say(said).split()) in text, finding.id
        for other in finding.other_readings:
            assert " ".join(say(other.says).split()) in text
        for source in finding.sources:
            assert [a for a in item.iter("a") if a.get("href") == f"#source-{source.id}"]


@every_page
def test_every_reason_stands_on_the_page(name: str, language: str) -> None:
    """Each node of each tree in its words, whether it stands in place or is linked to."""
    text, say = words(shown(name, language)), speaker(language).say
    assessment = found(name)
    said = {" ".join(say(node.says).split())
            for one in (*assessment.findings, *assessment.classes) for node in reasons(one.reason)}

    assert [words_of for words_of in said if words_of not in text] == []


@every_page
def test_a_named_condition_is_explained_in_one_place(name: str, language: str) -> None:
    """Where it is linked to, its own reasons stand."""
    tree, assessment = shown(name, language), found(name)
    say = speaker(language).say
    linked = {str(link.get("href"))[1:] for link in tree.iter("a")
              if str(link.get("href")).startswith(("#named-", "#class-"))}
    named = {node.name: node for one in (*assessment.findings, *assessment.classes)
             for node in reasons(one.reason) if node.kind == "definition" and node.children}

    assert linked
    for anchor in linked:
        place = words(by_id(tree, anchor))
        for child in named[anchor.split("-", 1)[1]].children:
            assert " ".join(say(child.says).split()) in place


@every_page
def test_every_source_is_listed_with_kind_address_and_day(name: str, language: str) -> None:
    """All that the JSON names, and no other."""
    tree, say = shown(name, language), speaker(language).say
    named = found(name).to_dict()["sources"]
    listed = {str(element.get("id")).removeprefix("source-"): element for element in tree.iter("li")
              if str(element.get("id")).startswith("source-")}

    assert set(listed) == set(named)
    for source_id, element in listed.items():
        source = found(name).ruleset.sources[source_id]
        assert say(phrase(source.kind)) in words(element)
        assert say(source.checked) in words(element)
        assert source.citation in words(element)
        if source.address:
            assert source.address in [a.get("href") for a in element.iter("a")]


@every_page
def test_cautions_limits_version_and_digest_are_there(name: str, language: str) -> None:
    """What it is, what it leaves out, and by which rules it was made."""
    text, say, rules = words(shown(name, language)), speaker(language).say, found(name).ruleset
    for caution in (*found(name).cautions, *rules.does_not_cover):
        assert " ".join(say(caution).split()) in text
    assert rules.version in text and rules.digest in text


def test_steps_stand_in_order_with_their_days() -> None:
    """No step before one it waits for; every day of the plan in words."""
    for name in CASES:
        plan, tree = found(name).plan, shown(name)
        order = [str(element.get("id")).removeprefix("finding-") for element in tree.iter("li")
                 if str(element.get("class")).startswith("step ")]
        assert sorted(order) == sorted(step.requirement for step in plan.steps)
        for step in plan.steps:
            for part in step.missing:
                assert not part.step or order.index(part.step) < order.index(step.requirement)
            if step.start is not None:
                text = words(by_id(tree, f"finding-{step.requirement}"))
                assert speaker().say(step.start.first) in text
        days = [finding.deadline.first for finding in found(name).findings
                if finding.deadline is not None and finding.deadline.first is not None
                and finding.met is None and not finding.waits_for
                and finding.verdict == Verdict.REQUIRED]
        for day in days:
            assert speaker().say(day) in words(tree)


def test_the_bill_adds_up_on_the_page() -> None:
    """Every line with its amount, and the total of the model's own bill."""
    tree = shown("gb-papers")
    section = next(e for e in tree.iter("section") if e.get("aria-labelledby") == "bill")
    text, say = words(section), speaker().say
    for bill in found("gb-papers").bills:
        for line in bill.lines:
            assert say(line.title) in text and say(line.amount) in text
        for amount in bill.totals:
            assert say(amount) in text


def test_papers_say_what_they_are_good_for_and_what_does_not_agree() -> None:
    """The demo case has a copy where the original is needed, and a number read wrongly."""
    tree = shown("gb-papers")
    section = next(e for e in tree.iter("section") if e.get("aria-labelledby") == "papers")
    text = words(section)

    assert "Form V55/5, filled in and signed original, of 18 April 2026" in text
    assert "in order for: 3. Show the vehicle if DVLA asks to inspect it and 8. Apply to" in text
    assert "(a copy, where the original is needed)" in text
    assert "Frame number: probable misreading: O and 0, or I and 1" in text
    first_box = next(e for e in tree.iter("section") if e.get("class") == "short")
    assert "2 things do not agree" in words(first_box)


@pytest.mark.parametrize("name", NOTHING_TOLD)
def test_a_case_that_tells_nothing_gets_a_page_that_asks(name: str) -> None:
    """Each step that may apply names a fact, or an open rule, that would settle it; and the fact
    stands below with its question."""
    tree, assessment = shown(name), found(name)
    for finding in assessment.findings:
        if finding.verdict != Verdict.UNDECIDED or finding.waits_for:
            continue
        item = by_id(tree, f"finding-{finding.id}")
        (hangs,) = [element for element in item.iter("p") if element.get("class") == "hangs"]
        asked = [str(link.get("href")).removeprefix("#fact-") for link in hangs.iter("a")]
        if not finding.settles:
            assert "a rule that is not settled itself" in words(hangs)
            continue
        assert asked and set(asked) <= set(finding.settles)
        for fact in asked:
            question = assessment.ruleset.vocabulary[fact].question
            assert speaker().say(question) in words(by_id(tree, f"fact-{fact}"))


@every_page
def test_every_step_left_has_its_row_in_the_picture(name: str, language: str) -> None:
    """With its days in words; and nothing is drawn outside."""
    tree = shown(name, language)
    rows = [element for element in tree.iter("ol") if element.get("class") == "rows"]
    left = [step for step in found(name).plan.steps if step.state.value in
            ("ready", "needs papers", "waiting")]

    assert sum(len(list(row)) for row in rows) == len(left)
    for row in rows:
        for element in row.iter():
            for key in ("x", "x1", "x2", "cx"):
                share = element.get(key, "0%").removesuffix("%")
                assert 0 <= float(share) <= 100


# ------------------------------------------------------------------------ languages

@pytest.mark.parametrize(("language", "says"), [
    ("en", ("In short", "Checklist", "Ready now", "What it costs", "Bear in mind", "Sources")),
    ("de", ("Kurz gesagt", "Schritt für Schritt", "Jetzt möglich", "Was es kostet", "Zu bedenken",
            "Quellen")),
    ("sv", ("I korthet", "Checklista", "Kan göras nu", "Vad det kostar", "Tänk på", "Källor")),
])
def test_it_speaks_three_languages(language: str, says: tuple[str, ...]) -> None:
    heads = [words(element) for element in shown("se-missed-window", language).iter()
             if element.tag in HEADINGS]

    assert set(says) <= set(heads)


def test_a_language_nobody_translated_is_marked_as_the_english_it_is() -> None:
    """SC 3.1.1: days are said in French, all else in English; the page does not pretend."""
    assert parsed(report(found("gb-import"), "fr")).get("lang") == "en"


# ---------------------------------------------------------------------- harmlessness

HOSTILE = "<script>alert(1)</script>\"'&{{ 7*7 }}<img src=x onerror=y>"
TURNED = "Bell\u202emark\u202c \u2067X\u2069\u200f \u0007\u0000\ud800\ufffe end"
HEBREW = "\u05d9\u05d5\u05e0\u05d4"


def hostile(said: str) -> Assessment:
    """Return an assessment of a case that says the same, wherever it may say anything."""
    case = assessed({"keeper.name": said, "vehicle.maker": said, "vehicle.frame_number_seen": said},
                    [{"evidence": "dating-letter", "reference": said, "named": said,
                      "dated": "2026-01-02", "shows": {"vehicle.frame_number": f"{said} 2"}}],
                    done=[{"requirement": "clear-it", "on": "2026-04-16", "reference": said}]).case
    return regkit.assess(replace(case, title=said), RULES, DAY)


def test_nothing_in_a_case_becomes_markup() -> None:
    """It is read out as it was written, and makes no element and no attribute."""
    tree, plain = parsed(report(hostile(HOSTILE))), parsed(report(hostile("Bellmark")))

    assert words(next(tree.iter("h1"))) == HOSTILE
    assert words(tree).count("<script>alert(1)</script>") >= 5
    assert [e.tag for e in tree.iter()] == [e.tag for e in plain.iter()]
    assert "49" not in words(next(tree.iter("h1")))


def test_control_characters_and_marks_of_direction_are_harmless() -> None:
    """What turns the text around it is left out (UAX 9), what HTML forbids is shown as U+FFFD.

    A case that is read has none of these; one that a program makes by itself may.
    """
    case = hostile("Bellmark").case
    papers = tuple(replace(paper, reference=TURNED, named=TURNED) for paper in case.papers)
    html = report(regkit.assess(replace(case, title=TURNED, papers=papers), RULES, DAY))
    tree = parsed(html)

    assert not re.search("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]", html)
    assert html.encode("utf-8")
    for part in ("h1", "title"):
        assert words(next(tree.iter(part))) == "Bellmark X \ufffd\ufffd\ufffd\ufffd end"
    assert "number Bellmark X \ufffd\ufffd\ufffd\ufffd end" in words(tree)


def test_names_that_run_the_other_way_are_isolated() -> None:
    """UAX 9 and HTML, `bdi`: a Hebrew name leaves the words around it where they are."""
    tree = parsed(report(hostile(HEBREW)))
    up = parents(tree)
    holders = [element for element in tree.iter() if HEBREW in (element.text or "")
               and element.tag not in ("title",)]

    assert len(holders) >= 5
    assert all("bdi" in (h.tag, *(e.tag for e in above(h, up))) for h in holders)


def test_the_same_case_gives_the_same_bytes() -> None:
    """Whatever seed the process hashes with; by a released ruleset, which never changes."""
    code = ("import sys, regkit; from regkit.show.report import report\n"
            "rules = regkit.load('GB@2026.1'); case = regkit.read_case(sys.argv[1], rules)\n"
            "found = regkit.assess(case, rules, case.on)\n"
            "sys.stdout.buffer.write(report(found, 'de').encode())\n")
    made = {subprocess.run([sys.executable, "-c", code, str(CASES["gb-papers"])],
                           capture_output=True, check=True, cwd=ROOT,
                           env={**os.environ, "PYTHONHASHSEED": seed}).stdout
            for seed in ("1", "2")}

    assert len(made) == 1 and made.pop().endswith(b"</html>")


# ----------------------------------------------------------------------- the command

def test_the_command_writes_the_page_whole(tmp_path: Path) -> None:
    target = tmp_path / "report.html"
    target.write_text("an older one", "utf-8")
    result = run("assess", str(CASES["gb-import"]), "--html", str(target))

    assert result.exit_code == 0 and result.output == ""
    assert target.read_text("utf-8") == written("gb-import")
    assert [file.name for file in tmp_path.iterdir()] == ["report.html"]


def test_an_old_page_stays_until_a_new_one_is_complete(tmp_path: Path) -> None:
    """Whatever goes wrong, nothing half-written is left."""
    target = tmp_path / "report.html"
    target.write_text("an older one", "utf-8")
    for arguments in (("--language", "klingon"), ("--on", "2023-02-29"), ("--json",)):
        assert run("assess", str(CASES["gb-import"]), "--html", str(target), *arguments
                   ).exit_code == 2
    assert target.read_text("utf-8") == "an older one"
    assert [file.name for file in tmp_path.iterdir()] == ["report.html"]


@pytest.mark.parametrize(("arguments", "says"), [
    (("--html", "x.html", "--json"), "--html writes the report of one country"),
    (("--html", "x.html", "--jurisdiction", "DE,IE"), "--html writes the report of one country"),
    (("--until", "2027-01-01"), "--until adds to the report"),
    (("--html", "/nowhere/at/all.html"), "cannot be written"),
])
def test_what_is_asked_wrongly_is_one_sentence(
    arguments: tuple[str, ...], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    result = run("assess", str(CASES["gb-import"]), *arguments)

    assert result.exit_code == 2 and says in result.output
    assert result.output.count("\n") == 1
    assert list(tmp_path.iterdir()) == []


def test_another_country_says_how_the_case_was_carried(tmp_path: Path) -> None:
    target = tmp_path / "report.html"
    result = run("assess", str(CASES["gb-import"]), "--html", str(target), "--jurisdiction", "IE")

    assert result.exit_code == 0, result.output
    tree = parsed(target.read_text("utf-8"))
    assert "Ireland" in words(next(tree.iter("header")))
    assert by_id(tree, "carried") is not None


def test_what_changes_by_itself_is_there_if_it_is_asked_for(tmp_path: Path) -> None:
    """All changes up to the day, each with its day."""
    target = tmp_path / "report.html"
    result = run("assess", str(CASES["gb-import"]), "--html", str(target), "--until", "2026-12-31")
    assert result.exit_code == 0, result.output

    tree = parsed(target.read_text("utf-8"))
    section = next(e for e in tree.iter("section") if e.get("aria-labelledby") == "ahead")
    assessment = found("gb-import")
    changes = ahead(assessment.case, assessment.ruleset, assessment.on, date(2026, 12, 31)).changes
    assert changes and len(list(section.iter("li"))) == len(changes)
    for change in changes:
        assert speaker().say(change.title) in words(section)


def test_without_jinja2_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "jinja2", None)
    pages._environment.cache_clear()

    with pytest.raises(ImportError, match="pip install jinja2"):
        report(found("gb-import"))
