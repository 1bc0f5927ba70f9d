"""The program's own words in every language it speaks: complete, and with the grammar of each.

Plural rules are checked against the Unicode Common Locale Data Repository, which Babel carries.
"""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.language import (
    Country,
    Either,
    Money,
    Month,
    Phrase,
    Text,
    YearDay,
    languages,
    phrase,
    plural,
    speaker,
    spoken,
)
from regkit.model.calendar import Period
from regkit.model.quantities import quantity
from regkit.model.window import Window
from regkit.show.lines import lead
from tests.rulesets_under_test import ROOT
from tests.templates_in_use import Template, templates
from tests.untranslated import OTHER, has_words, untranslated

CATALOGUES = ROOT / "regkit" / "language" / "catalogues"
CASES = ROOT / "docs" / "cases"
IN_USE = templates()


def catalogue(language: str) -> Catalog:
    with (CATALOGUES / f"{language}.po").open("rb") as stream:
        return read_po(stream, locale=language, abort_invalid=True)


def messages(language: str) -> dict[Template, Message]:
    found = {}
    for message in catalogue(language):
        if message.id:
            one, many = message.id if isinstance(message.id, tuple) else (message.id, "")
            found[Template(one, many, message.context or "")] = message
    return found


def names(template: str) -> set[str]:
    """Return the names of a template's arguments."""
    return set(re.findall(r"\{(\w+)\}", template))


def test_the_program_speaks_english_german_and_swedish() -> None:
    assert set(languages()) >= {"en", "de", "sv"}


def test_every_template_can_be_followed_to_its_words() -> None:
    """What is put together at run time cannot be translated; say it with whole templates."""
    assert IN_USE.lost == []
    assert len(IN_USE.templates) > 400


@pytest.mark.parametrize("language", OTHER)
def test_every_template_of_the_program_is_in_the_catalogue(language: str) -> None:
    known = messages(language)

    assert {t for t in IN_USE.templates if has_words(t.one)} - set(known) == set()


@pytest.mark.parametrize("language", OTHER)
def test_the_catalogue_holds_nothing_the_program_no_longer_says(language: str) -> None:
    assert set(messages(language)) - IN_USE.templates == set()


@pytest.mark.parametrize("language", OTHER)
def test_every_translation_is_there_and_takes_the_same_arguments(language: str) -> None:
    for template, message in messages(language).items():
        forms = message.string if template.many else (message.string,)
        assert len(forms) == (catalogue(language).num_plurals if template.many else 1), template
        for form in forms:
            assert form and form == form.strip(), template
            # The form for one may write the number out.
            assert names(form) | {"count"} == names(template.many or template.one) | {"count"}, form
        assert names(forms[-1]) == names(template.many or template.one), template
        assert not message.fuzzy, template


@pytest.mark.parametrize("language", OTHER)
def test_plural_forms_are_those_of_the_language(language: str) -> None:
    """Source: Unicode CLDR, cardinal plural rules."""
    rules, held = Locale.parse(language).plural_form, catalogue(language)
    says = speaker(language).say
    form_of: dict[str, set[str]] = {}
    for number in range(201):
        said = says(plural("{count} day", "{count} days", count=number))
        form_of.setdefault(rules(number), set()).add(said.split()[-1])

    assert len(form_of) == held.num_plurals
    assert all(len(forms) == 1 for forms in form_of.values())
    assert len({next(iter(forms)) for forms in form_of.values()}) == held.num_plurals


def test_a_template_without_translation_is_said_in_english() -> None:
    assert speaker("de").say(phrase("nobody translated {this}", this="this")) == (
        "nobody translated this")
    assert speaker("de").say(plural("{count} qualm", "{count} qualms", count=2)) == "2 qualms"


@pytest.mark.parametrize("language", ["fr", "fr-CA", "klingonisch", "", "../de", "de.po"])
def test_a_language_nobody_translated_is_refused_and_those_spoken_are_named(language: str) -> None:
    """One rule for all: an answer is never half in one language and half in another."""
    said = re.escape(f"{language!r} is no language spoken here; there are: en, de, sv")
    found = regkit.assess(regkit.read_case(CASES / "gb-import.yaml"), regkit.load("GB"),
                          date(2026, 3, 10))
    for ask in (speaker, found.to_dict, found.findings[0].text,
                lambda language: regkit.report(found, language)):
        with pytest.raises(ValueError, match=said):
            ask(language)
    done = CliRunner().invoke(main, ["assess", str(CASES / "gb-import.yaml"),
                                     "--language", language])
    assert done.exit_code == 2 and re.search(said, done.output)


@pytest.mark.parametrize(("tag", "language"), [
    ("de-AT", "de"), ("de_DE", "de"), ("SV", "sv"), ("en-US", "en"), ("sv-Latn-FI", "sv"),
])
def test_a_tag_is_looked_up_by_its_primary_subtag(tag: str, language: str) -> None:
    """Source: RFC 4647, section 3.4. What is said is said in one language, dates too."""
    said = phrase("{day}: {money}", day=date(2026, 4, 1), money=Money(Decimal(55), "EUR"))

    assert spoken(tag) == speaker(tag).language == language
    assert speaker(tag).say(said) == speaker(language).say(said)


BUILT = Text((("en", "built"), ("de", "gebaut"), ("sv", "byggt")))
OLD = phrase("{label} {value}, {relation}", label=BUILT, value=Month(date(1971, 3, 1)),
             relation=phrase("{comparison} {length} before {day}", comparison=phrase("at least"),
                             length=Period(30, "years"), day=date(2026, 5, 20)))

GOLDEN: tuple[tuple[Phrase, str, str, str], ...] = (
    (phrase("Required: {parts}", parts=OLD),
     "Required: built March 1971, at least 30 years before 20 May 2026",
     "Erforderlich: gebaut: März 1971, mindestens 30 Jahre vor dem 20. Mai 2026",
     "Krävs: byggt: mars 1971, minst 30 år före den 20 maj 2026"),
    (plural("Required: {parts} (and {count} more)", "Required: {parts} (and {count} more)",
            count=1, parts=BUILT),
     "Required: built (and 1 more)",
     "Erforderlich: gebaut (und 1 weiterer Grund)",
     "Krävs: byggt (och 1 skäl till)"),
    (plural("Required: {parts} (and {count} more)", "Required: {parts} (and {count} more)",
            count=3, parts=BUILT),
     "Required: built (and 3 more)",
     "Erforderlich: gebaut (und 3 weitere Gründe)",
     "Krävs: byggt (och 3 skäl till)"),
    (phrase("{within} of: {events}", within=Window(Period(14, "days"), False, (), ""),
            events=(BUILT,)),
     "within 14 days of: built",
     "innerhalb von 14 Tagen nach: gebaut",
     "inom 14 dagar efter: byggt"),
    (phrase("{within} of: {events}", within=Window(Period(1, "months"), False, (), ""),
            events=(BUILT,)),
     "within 1 month of: built",
     "innerhalb von 1 Monat nach: gebaut",
     "inom 1 månad efter: byggt"),
    (phrase("{within} of: {events}", within=Window(Period(3, "days"), True, (), ""),
            events=(BUILT,)),
     "within 3 working days of: built",
     "innerhalb von 3 Arbeitstagen nach: gebaut",
     "inom 3 arbetsdagar efter: byggt"),
    (plural("{day}, {count} day left", "{day}, {count} days left", count=1, day=date(2026, 3, 15)),
     "15 March 2026, 1 day left", "15. März 2026; noch 1 Tag", "15 mars 2026; 1 dag kvar"),
    (plural("{day}, {count} year before the latest {step}",
            "{day}, {count} years before the latest {step}", count=40, day=YearDay(1, 1),
            step=YearDay(4, 1)),
     "1 January, 40 years before the latest 1 April",
     "1. Januar, 40 Jahre vor dem letzten 1. April",
     "1 januari, 40 år före den senaste 1 april"),
    (phrase("{label}: not known; it matters whether it {stands}", label=BUILT,
            stands=phrase("is not {word}", word=phrase("never"))),
     "built: not known; it matters whether it is not never",
     "gebaut: nicht bekannt; es kommt darauf an: nicht „nie“?",
     "byggt: inte känt; det avgörande är: inte ”aldrig”?"),
    (phrase("either {options}", options=Either((Country("FR"), Country("SE")))),
     "either France or Sweden", "entweder Frankreich oder Schweden",
     "antingen Frankrike eller Sverige"),
    (quantity(Decimal(1), "seats"), "1 seat", "1 Sitz", "1 sittplats"),
    (quantity(Decimal("2.5"), "months"), "2.5 months", "2,5 Monate", "2,5 månader"),
    (quantity(Decimal(1698), "cc"), "1,698 cc", "1.698 cm³", "1\u202f698 cm³"),
    (lead("by"), "by", "bis", "frist"),
)


@pytest.mark.parametrize(("said", "english", "german", "swedish"), GOLDEN)
def test_sentences_have_the_grammar_of_each_language(
    said: Phrase, english: str, german: str, swedish: str
) -> None:
    """Labels and titles are quoted or stand behind a colon, so that nothing has to inflect them."""
    spaces = str.maketrans({"\u00a0": " ", "\u202f": " "})
    assert [speaker(language).say(said).translate(spaces) for language in ("en", "de", "sv")] == [
        text.translate(spaces) for text in (english, german, swedish)]


REPORTS = (
    ("assess", "de-import.yaml"), ("assess", "de-import.yaml", "--all"),
    ("assess", "de-import.yaml", "--json"), ("assess", "de-import.yaml", "--jurisdiction", "SE,GB"),
    ("assess", "de-import.yaml", "--jurisdiction", "SE"), ("assess", "se-import.yaml"),
    ("assess", "gb-papers.yaml"), ("assess", "ie-too-young-and-late.yaml"),
    ("why", "de-too-young.yaml", "apply-for-registration"),
    ("why", "se-missed-window.yaml", "have-periodic-inspection"),
    ("plan", "gb-papers.yaml"), ("plan", "de-too-young.yaml"), ("bill", "gb-papers.yaml"),
    ("bill", "ie-too-young-and-late.yaml"), ("packet", "gb-papers.yaml", "apply-for-registration"),
    ("packet", "gb-papers.yaml", "apply-for-registration", "--all", "--sent", "2026-05-10"),
    ("sheet", "gb-papers.yaml", "apply-for-registration"),
    ("sheet", "de-import.yaml", "--before-buying"),
    ("ahead", "gb-import.yaml", "--until", "2030-12-31"),
    ("compare", "gb-engine-first.yaml", "gb-engine-later.yaml"),
)


@pytest.mark.parametrize("language", OTHER)
@pytest.mark.parametrize("report", REPORTS, ids=" ".join)
def test_reports_fall_back_to_english_nowhere(
    report: tuple[str, ...], language: str
) -> None:
    """Whatever a command says of its own it says in the language asked for."""
    arguments = [str(CASES / word) if word.endswith(".yaml") else word for word in report]
    with untranslated(language) as noted:
        done = CliRunner().invoke(main, [*arguments, "--language", language])

    assert done.exit_code == 0, done.output
    assert {text for text in noted.texts if has_words(text)} == set()


def test_a_german_keeper_reads_german() -> None:
    """The facts, the answers, the leads and the ruleset's own German texts, in one report."""
    done = CliRunner().invoke(
        main, ["assess", str(CASES / "de-too-young.yaml"), "--language", "de"])

    for part in ("Deutschland, am 6. Juli 2026", "Als was es gilt", "nein Oldtimer",
                 "innerhalb von 10 Tagen nach: gekauft (18. Juni 2026)",
                 "überfällig seit dem 30. Juni 2026: 7 Tage zu spät",
                 "Fahrzeugart: Kraftrad, mit oder ohne", "Zu bedenken"):
        assert part in done.output
    for english in ("Required", "Bear in mind", "kind of vehicle", "last checked"):
        assert english not in done.output


def test_every_shared_fact_is_asked_in_every_language() -> None:
    for fact in regkit.load("GB").vocabulary.values():
        if fact.layer == "common":
            texts = [fact.label, fact.question, *(text for _, text in fact.values)]
            texts += [fact.help] if fact.help else []
            for text in texts:
                assert {code for code, _ in text.wordings} == set(languages()), fact.name


def test_catalogues_are_read_when_they_are_needed_and_not_before() -> None:
    """Importing the language room reads no file; a speaker is made once."""
    assert speaker("sv") is speaker("sv")
    assert Path(CATALOGUES / "sv.po").is_file()
