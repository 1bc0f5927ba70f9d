"""A case: hostile and surprising input. Each message says where, what, and what would be right."""

from __future__ import annotations

import json
from datetime import date
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import regkit
from regkit.language import speaker
from regkit.model.ruleset import Ruleset
from tests import small_ruleset
from tests.untranslated import in_english_only

RENAMED = "thing.colour_red: {to: thing.red, on: 2026-11-25, because: Shorter}\n"
EVIDENCE = "deed: {title: Deed, from outside: yes, sources: [act]}\n"


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Ruleset:
    """The small ruleset, with an old name and a paper."""
    folder = tmp_path_factory.mktemp("rulesets")
    return regkit.load(small_ruleset.write(folder, renamed=RENAMED, evidence=EVIDENCE))


def wrong(source: Any, ruleset: Ruleset) -> list[str]:
    """Return what is wrong with a case, one sentence each; it can be said in every language."""
    with pytest.raises(regkit.Unreadable) as caught:
        regkit.read_case(source, ruleset)
    assert in_english_only(caught.value.problems) == set()
    return str(caught.value).splitlines()


def told(value: Any, fact: str = "thing.made") -> dict[str, Any]:
    """Return a case that tells one fact."""
    return {"jurisdiction": "QA", "facts": {fact: value}}


@pytest.mark.parametrize(("fact", "value", "expected"), [
    ("thing.maed", "1962", "the vocabulary has no fact `thing.maed` (did you mean `thing.made`?)"),
    ("thing.made", "2023-02-29", "names a day that does not exist"),
    ("thing.made", "1962-13", "names a day that does not exist"),
    ("thing.made", "17.05.1962", "is no date; write 1962, 1962-05, 1962-05-17, 1962/1964, ../1959"),
    ("thing.made", "1962-5-17", "is no date; write"),
    ("thing.made", "1962?", "is no date; write"),
    ("thing.made", "../..", "is no date; write"),
    ("thing.made", "1962/1963/1964", "is no date; write"),
    ("thing.made", "１９６２", "is no date; write"),
    ("thing.made", "1962\n", "is no date; write"),
    ("thing.made", "", "is no date; write"),
    ("thing.made", "1964/1962", "ends before it begins; write the earlier date first"),
    ("thing.made", "0000", "lies outside the years 1 to 9998"),
    ("thing.made", "9999-12-31~", "lies outside the years 1 to 9998"),
    ("thing.made", "0001-01-01~", "lies outside the years 1 to 9998"),
    ("thing.made", "9999-12", "lies outside the years 1 to 9998"),
    ("thing.made", 1962.5, "1962.5 is no date; write"),
    ("thing.made", True, "True is no date; write"),
    ("thing.from", "UK", "is no country code of ISO 3166; write for example FR or US; the United "
     "Kingdom is GB"),
    ("thing.from", "EL", "; Greece is GR"),
    ("thing.from", "fr", "is no country code of ISO 3166"),
    ("thing.from", "never", "is no country code of ISO 3166"),
    ("thing.kind", "crat", "(did you mean `cart`?); write one of cart, sledge, or unknown"),
    ("thing.kind", 3, "3 is not a value it can take; write one of cart, sledge, or unknown"),
    ("thing.red", "NO", "'NO' is no answer; write yes, no or unknown"),
    ("thing.red", 1, "1 is no answer; write yes, no or unknown"),
    ("thing.weight", "3 miles", "is not in kg; write kg, t or lb"),
    ("thing.weight", "heavy", "is no amount; write a number of kg, such as '250 kg'"),
    ("thing.weight", "1,5 kg", "is no amount"),
    ("thing.weight", -3, "is negative; write 0 or more"),
    ("thing.weight", float("nan"), "is no amount"),
    ("thing.weight", False, "is no amount"),
    ("thing.worth", "2500", "names no currency; write for example '2500 GBP'"),
    ("thing.worth", 2500, "names no currency"),
    ("thing.worth", "GBP 2500", "is no amount; write an amount and its currency, such as "
     "'2500.00 GBP'"),
    ("thing.worth", "2500 gbp", "names no currency"),
    ("thing.number", 12.0, "is not text; put quotes around it"),
    ("thing.name", True, "is not text; put quotes around it"),
    ("thing.name", "x" * 501, "must be 1 to 500 characters long, and is 501"),
    ("thing.name", "   ", "must be 1 to 500 characters long, and is 0"),
    ("thing.name", None, "and is empty; write a value of the fact's type, `unknown`"),
    ("thing.name", ["a"], "and is a list"),
    ("thing.name", {"en": "a"}, "and is a map of keys"),
    ("thing.name", object(), "`thing.name` must be text"),
    ("thing.name", "a\u202eb", "holds the invisible character U+202E"),
    ("Thing", "x", "the key `Thing` is not well formed; write the dotted name of a fact"),
])
def test_a_wrong_value_says_what_would_be_right(
    small: Ruleset, fact: str, value: Any, expected: str
) -> None:
    """One sentence: the place, what is wrong, what would be right."""
    (said,) = wrong(told(value, fact), small)

    assert said.startswith("<case>") and expected in said


@pytest.mark.parametrize(("change", "expected"), [
    ({"fact": {}}, "unknown key `fact` (did you mean `facts`?)"),
    ({"facts": [1]}, "`facts` must be a map of keys, and is a list ([1])"),
    ({"facts": None}, "`facts` must be a map of keys, and is empty"),
    ({"on": "2023-02-29"}, "`on` '2023-02-29' is no day that exists"),
    ({"on": 2023}, "`on` must be text, and is a number (2023)"),
    ({"on": "2023"}, '`on` is "2023"; write the day of assessment, such as 2026-04-01'),
    ({"jurisdiction": "uk"}, '`jurisdiction` is "uk"; write the code'),
    ({"title": 7}, "`title` must be text, and is a number (7)"),
    ({"papers": "deed"}, "`papers` must be a list, and is text"),
    ({"papers": ["deed"]}, "must be a map of keys, and is text"),
    ({"papers": [{"evidence": "dede"}]}, "knows no paper `dede` (did you mean `deed`?)"),
    ({"papers": [{"as": "copy"}]}, "lacks `evidence`"),
    ({"papers": [{"evidence": "deed", "as": "fax"}]}, "must be one of original, certified copy"),
    ({"papers": [{"evidence": "deed", "dated": "soon"}]}, "`dated` 'soon' is no date"),
    ({"papers": [{"evidence": "deed", "dated": "9999-12"}]}, "lies outside the years"),
    ({"papers": [{"evidence": "deed", "shows": {"thing.made": "soon"}}]}, "`thing.made` 'soon'"),
    ({"done": [{"requirement": "paint", "on": "2026-01-01"}]},
     "there is no requirement `paint` (did you mean `paint-it`?)"),
    ({"done": [{"requirement": "paint-it", "on": "2026-02-30"}]}, "is no day that exists"),
    ({"done": [{"requirement": "paint-it"}]}, "lacks `on`"),
])
def test_wrong_types_and_names_at_every_level(
    small: Ruleset, change: dict[str, Any], expected: str
) -> None:
    """What the shape of a case asks for is said in its own words, not the validator's."""
    said = wrong({"jurisdiction": "QA", "facts": {}, **change}, small)

    assert len(said) == 1 and expected in said[0]


def test_the_place_and_what_would_be_right_are_said_in_the_readers_language(
    small: Ruleset
) -> None:
    """Names of facts and words of the notation stay as a case writes them."""
    with pytest.raises(regkit.Unreadable) as caught:
        regkit.read_case({"jurisdiction": "QA", "facts": {
            "thing.maed": "1962", "thing.weight": "3 miles", "thing.kind": "carts",
            "thing.sold": "soon"}}, small)

    assert {code: [speaker(code).say(one) for one in caught.value.problems]
            for code in ("de", "sv")} == {
        "de": ["<case>:1: `thing.kind`: 'carts' ist hier nicht möglich (war `cart` gemeint?); "
               "richtig wäre eines von: cart, sledge, oder unknown",
               "<case>:1: `thing.sold`: 'soon' ist kein Datum; richtig wäre: 1962, 1962-05, "
               "1962-05-17, 1962/1964, ../1959, 1959/.. oder 1962~",
               "<case>:1: `thing.weight`: '3 miles' hat nicht die Einheit kg; richtig wäre: kg, t "
               "oder lb",
               "<case>:1: das Vokabular kennt keine Angabe `thing.maed` (war `thing.made` "
               "gemeint?)"],
        "sv": ["<case>:1: `thing.kind`: 'carts' är inte möjligt här (menades `cart`?); rätt vore "
               "något av: cart, sledge, eller unknown",
               "<case>:1: `thing.sold`: 'soon' är inget datum; rätt vore: 1962, 1962-05, "
               "1962-05-17, 1962/1964, ../1959, 1959/.. eller 1962~",
               "<case>:1: `thing.weight`: '3 miles' är inte i enheten kg; rätt vore: kg, t eller "
               "lb",
               "<case>:1: vokabulären har ingen uppgift `thing.maed` (menades `thing.made`?)"],
    }


@pytest.mark.parametrize(("facts", "expected"), [
    ({"thing.made": "1970", "thing.listed": "1960"},
     "`thing.made` (1970) lies after `thing.listed` (1960), which cannot be; correct one"),
    ({"thing.made": "1970", "thing.sold": "1960"}, "lies after `thing.listed` (bounded by "
     "`thing.sold`), which cannot be"),
    ({"thing.made": "1971/..", "thing.listed": "1969~"}, "lies after `thing.listed` (1969~)"),
    ({"thing.made": "never", "thing.listed": "1960"},
     "`thing.made` never happened, but `thing.listed` did, which cannot be"),
    ({"thing.made": "never", "thing.sold": "1960"}, "`thing.made` never happened, but "
     "`thing.listed` did"),
    ({"thing.colour_red": "yes", "thing.red": "no"},
     "`thing.colour_red` is the old name of `thing.red`, which stands here too; leave one out"),
])
def test_facts_that_contradict_each_other_are_refused(
    small: Ruleset, facts: dict[str, Any], expected: str
) -> None:
    """What lies after an event it can never be later than, also through a third date (M10)."""
    (said,) = wrong({"jurisdiction": "QA", "facts": facts}, small)

    assert expected in said


@pytest.mark.parametrize("facts", [
    {"thing.made": "1960/1970", "thing.listed": "1965"},
    {"thing.made": "1960-05-17", "thing.listed": "1960"},
    {"thing.made": "1960", "thing.listed": "never"},
    {"thing.made": "never", "thing.listed": "never"},
    {"thing.made": "unknown", "thing.listed": "1960"},
    {"thing.made": "1960", "thing.listed": "unknown", "thing.sold": "1961"},
])
def test_what_may_be_true_together_is_taken(small: Ruleset, facts: dict[str, Any]) -> None:
    """Spans that overlap, and what never happened, contradict nothing."""
    assert set(regkit.read_case({"jurisdiction": "QA", "facts": facts}, small).facts) == set(facts)


def test_all_errors_at_once_each_with_its_line(small: Ruleset, tmp_path: Path) -> None:
    """A file with five mistakes gives five sentences in the order of lines; nothing is taken."""
    file = tmp_path / "case.yaml"
    file.write_text("""\
jurisdiction: QA
on: 2023-02-29
facts:
  thing.made: 2023-02-29
  thing.maed: 1962
  thing.red: 12:30
  thing.from: NO
  thing.weight: 3 miles
""", "utf-8")

    said = wrong(file, small)

    assert [line.removeprefix(f"{file}:").split(":")[0] for line in said] == list("24568")


@pytest.mark.parametrize(("text", "expected"), [
    ("", ":1: must be a map of keys, and is empty"),
    ("- 1\n", ":1: must be a map of keys, and is a list ([1])"),
    ("hello\n", ":1: must be a map of keys, and is text"),
    ("jurisdiction: QA\nfacts:\n", ":2: `facts` must be a map of keys, and is empty"),
    ("facts: {}\n", ":1: lacks `jurisdiction`"),
    ("jurisdiction: QA\nfacts:\n  thing.made: 1962\n  thing.made: 1963\n",
     ":4: `thing.made` stands here a second time; the first is on line 3"),
])
def test_a_file_that_is_no_case(small: Ruleset, tmp_path: Path, text: str, expected: str) -> None:
    """Empty files, lists, bare text and missing keys are said with their line."""
    file = tmp_path / "case.yaml"
    file.write_text(text, "utf-8")
    (said,) = wrong(file, small)

    assert said.startswith(f"{file}{expected}")


def test_an_unknown_jurisdiction_names_those_there_are() -> None:
    """AA is a user-assigned code of ISO 3166-1; it will never be a shipped ruleset."""
    with pytest.raises(regkit.Unreadable, match="there is no ruleset of that name") as caught:
        regkit.read_case({"jurisdiction": "AA", "facts": {}})

    assert all(code in str(caught.value) for code in regkit.jurisdictions())


def test_a_case_of_another_jurisdiction_is_not_read_by_these_words(
    small: Ruleset, tmp_path: Path
) -> None:
    file = tmp_path / "case.yaml"
    file.write_text("facts: {thing.red: yes}\njurisdiction: GB\n", "utf-8")
    assert wrong(file, small) == [
        f"{file}:2: this is a case of GB, and the ruleset states the rules of QA"]


def test_plain_data_may_be_any_mapping_with_dates_and_exact_numbers(small: Ruleset) -> None:
    """Embedding code passes its own types: mappings, tuples, dates, decimals."""
    case = regkit.read_case(MappingProxyType({
        "jurisdiction": "QA", "on": date(2026, 4, 1), "papers": (),
        "facts": {"thing.made": date(1962, 5, 17), "thing.weight": Decimal("0.5")},
    }), small)

    assert case.on == date(2026, 4, 1)
    assert case.value("thing.made").low == date(1962, 5, 17).toordinal()
    assert case.value("thing.weight").low == Decimal("0.5")


def test_data_that_contains_itself_is_refused(small: Ruleset) -> None:
    """No recursion error: depth is limited as in files."""
    data: dict[str, Any] = {"jurisdiction": "QA"}
    data["facts"] = data

    assert "is nested deeper than" in wrong(data, small)[0]


def test_old_names_of_facts_keep_working(small: Ruleset) -> None:
    """A fact told by the name it had before counts as told by its name."""
    case = regkit.read_case(told("yes", "thing.colour_red"), small)

    assert case.value("thing.red").answer == "yes"


anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8)
    | st.sampled_from(["1962", "never", "unknown", "QA", "2026-04-01", "deed", "paint-it"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(
        st.text(max_size=5) | st.sampled_from(
            ["facts", "jurisdiction", "on", "papers", "done", "title", "rates", "evidence", "shows",
             "dated", "requirement", "thing.made", "thing.weight", "thing.worth"]),
        inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.sampled_from(["facts", "jurisdiction", "on", "papers", "done", "rates"]),
                       anything))
def test_any_data_is_a_case_or_a_list_of_sentences(small: Ruleset, data: dict[str, Any]) -> None:
    """Whatever is thrown at the reader, it answers with a case or in sentences, never a crash."""
    for source in (data, {"jurisdiction": "QA", "facts": {}, **data},
                   {**data, "jurisdiction": "QA", "facts": {}}):
        try:
            case = regkit.read_case(source, small)
        except regkit.Unreadable as wrong_data:
            assert wrong_data.problems and all(p.text for p in wrong_data.problems)
        else:
            assert json.dumps(regkit.assess(case, small, on=date(2026, 4, 1)).to_dict())
