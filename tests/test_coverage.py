"""What worked examples leave untried, on rules small enough to see it oneself."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

import regkit
from regkit.commands import main
from regkit.keep.boundaries import untouched
from regkit.keep.cells import unvisited
from regkit.keep.coverage import never_decisive, tried, verdicts_lacking
from regkit.keep.lint import lint
from regkit.keep.mutants import mutants
from regkit.keep.mutation import score
from regkit.keep.to_complete import at_boundary, for_survivor
from regkit.language import speaker
from regkit.model.ruleset import Ruleset
from regkit.read.problems import Unreadable
from tests.small_ruleset import write

TODAY = date(2026, 11, 25)


def example(name: str, expect: str, **facts: object) -> str:
    """Write one worked example; facts are named without their group."""
    told = ", ".join(f"thing.{fact}: {value}" for fact, value in facts.items())
    return (f"{name}: {{title: T, on: 2026-04-01, facts: {{{told}}}, expect: {{{expect}}}, "
            "basis: derived, sources: [act]}\n")


def old(name: str, answer: str, made: str) -> str:
    """Write an example of the definition 'old': made before 1960."""
    return example(name, f"definitions: {{old: {answer}}}", made=made)


BEFORE, ON, AFTER = (old("before", "yes", "1959-12-31"), old("on", "no", "1960-01-01"),
                     old("after", "no", "1960-01-02"))
PAINT = (example("must", "requirements: {paint-it: required}", made="1959-12-31")
         + example("need-not", "requirements: {paint-it: not required}", made="1960-01-01"))
THREE = ["the day before", "the day", "the day after"]


def load(folder: Path, examples: str, **files: str | None) -> Ruleset:
    """Load the small ruleset with these examples."""
    return regkit.load(write(folder, examples=examples, **files))


# ---------------------------------------------------------------- verdicts and decisive tests


def test_a_verdict_is_seen_if_an_example_expects_it(tmp_path: Path) -> None:
    """Required is expected; the other two verdicts are not, though one comes out as well."""
    rules = load(tmp_path, PAINT.splitlines()[0] + "\n" + ON)

    assert dict(verdicts_lacking(rules)) == {"paint-it": ("not required", "undecided")}


def test_a_test_decides_both_ways_only_if_answers_rest_on_it_both_ways(tmp_path: Path) -> None:
    """Of 'red and heavy', a thing that is not red settles it whatever it weighs."""
    rule = ("old: {title: Heavy and red, when: {all: [{thing.red: yes}, "
            "{thing.weight: {more than: 10 kg}}]}, sources: [act]}\n")
    rules = load(tmp_path, example("a", "definitions: {old: yes}", red="yes", weight="11 kg")
                 + example("b", "definitions: {old: no}", red="no", weight="11 kg"),
                 definitions=rule, requirements=None)

    found = {speaker().say(test.rule()): [outcome.value for outcome in lacking]
             for _, _, test, lacking in never_decisive(rules, tuple(tried(rules)))}

    assert found == {"weight more than 10 kg": ["no"]}


def test_another_reading_of_a_definition_rests_on_its_condition(tmp_path: Path) -> None:
    """An example that expects a caution on a definition tries it too."""
    rules = load(tmp_path, example("a", "cautions: {old: no}", made="1959-12-31"))

    assert [one.entry for one in tried(rules)] == ["old"]


# ---------------------------------------------------------------- cut-offs


@pytest.mark.parametrize(("examples", "missing"), [
    ("", THREE),
    (BEFORE, ["the day", "the day after"]),
    (BEFORE + ON, ["the day after"]),
    (BEFORE + ON + AFTER, []),
    (old("far", "yes", "1950-01-01"), THREE),
    (old("inexact", "undecided", "1959-12/1960-01"), THREE),
])
def test_the_three_points_of_a_cut_off(examples: str, missing: list[str], tmp_path: Path) -> None:
    """Day before, day, day after: a date further away or not exact touches none of them."""
    rules = load(tmp_path, examples or example("none", "definitions: {old: undecided}", red="yes"))

    assert [point.where for point in untouched(rules, tuple(tried(rules)), TODAY)] == missing


def test_a_moving_cut_off_lies_where_it_does_on_the_day_of_the_example(tmp_path: Path) -> None:
    """'At least 40 years ago', asked on 1 April 2026, cuts on 1 April 1986."""
    rule = "old: {title: Old, when: {thing.made: {at least: 40 years ago}}, sources: [act]}\n"
    rules = load(tmp_path, old("last-day", "yes", "1986-04-01"), definitions=rule)

    found = [point.where for point in untouched(rules, tuple(tried(rules)), TODAY)]

    # The bound is the first day that is too young: 2 April.
    assert found == ["the day", "the day after"]


def test_numbers_have_three_points_too(tmp_path: Path) -> None:
    """'More than 48': 48 itself is the point; 47 and 49 are a step away."""
    rule = "old: {title: Heavy, when: {thing.weight: {more than: 48 kg}}, sources: [act]}\n"
    rules = load(tmp_path, example("a", "definitions: {old: no}", weight="48 kg"), definitions=rule)

    points = list(untouched(rules, tuple(tried(rules)), TODAY))

    assert [(point.where, point.facts["thing.weight"]) for point in points] == [
        ("a step below", "47 kg"), ("a step above", "49 kg")]


def test_a_bound_that_can_never_decide_is_not_asked_for(tmp_path: Path) -> None:
    """Who was made before 1950 was made before 1960: the second test changes nothing."""
    rule = ("old: {title: Old, when: {all: [{thing.made: {before: 1950-01-01}}, "
            "{thing.made: {before: 1960-01-01}}]}, sources: [act]}\n")
    rules = load(tmp_path, old("a", "yes", "1940-01-01"), definitions=rule)

    found = {point.facts["thing.made"] for point in untouched(rules, tuple(tried(rules)), TODAY)}

    assert found == {"1949-12-31", "1950-01-01", "1950-01-02"}


def test_a_prepared_example_makes_its_test_decisive(tmp_path: Path) -> None:
    """The other facts are chosen so that the answer hangs on the cut-off."""
    rule = ("old: {title: Old, when: {any: [{thing.red: yes}, "
            "{thing.made: {before: 1960-01-01}}]}, sources: [act]}\n")
    rules = load(tmp_path, example("a", "definitions: {old: undecided}", weight="1 kg"),
                 definitions=rule)

    for point in untouched(rules, tuple(tried(rules)), TODAY):
        assert point.facts["thing.red"] == "no"


def test_a_prepared_example_leaves_the_outcome_to_the_maintainer(tmp_path: Path) -> None:
    """As printed it is refused; with the outcome written in it passes."""
    folder = write(tmp_path, examples=BEFORE + ON)
    rules = regkit.load(folder)
    (point,) = untouched(rules, tuple(tried(rules)), TODAY)
    text = at_boundary(point, rules)

    (folder / "examples" / "new.yaml").parent.mkdir()
    (folder / "examples" / "new.yaml").write_text(text, "utf-8")
    assert lint(folder, TODAY).ruleset is None
    (folder / "examples" / "new.yaml").write_text(text.replace("{old: }", "{old: no}"), "utf-8")
    report = lint(folder, TODAY)
    assert report.ruleset is not None
    assert "example-fails" not in {remark.code for remark in report.remarks}
    assert not list(untouched(report.ruleset, tuple(tried(report.ruleset)), TODAY))


# ---------------------------------------------------------------- cells


def test_cells_no_example_visits(tmp_path: Path) -> None:
    """Two cut-offs make three cells; one is visited."""
    rule = ("old: {title: Old, when: {thing.made: {on or after: 1950-01-01, before: 1960-01-01}}, "
            "sources: [act]}\n"
            "kind: {title: K, class: yes, when: {thing.kind: cart}, sources: [act]}\n")
    rules = load(tmp_path, old("a", "yes", "1955-01-01"), definitions=rule)

    found = [(cell.entry, [answer.word for answer in cell.answers])
             for cell in unvisited(rules, tuple(tried(rules)), TODAY)]

    assert found == [("old", ["no"]), ("kind", ["yes"]), ("kind", ["no"])]


# ---------------------------------------------------------------- mutants

def test_examples_at_the_cut_off_notice_every_mutant(tmp_path: Path) -> None:
    """A day either side of the cut-off, a year, turned round, dropped: all noticed."""
    found = score(load(tmp_path, BEFORE + ON + PAINT), TODAY)

    assert (found.percent, found.survivors, found.equivalent) == (100, (), 0)
    assert found.noticed == len(list(mutants(load(tmp_path, BEFORE + ON + PAINT)))) > 6


def test_an_example_far_from_the_cut_off_lets_small_moves_pass(tmp_path: Path) -> None:
    """Made in 1950: a day or a year more or less is not noticed; the rest is."""
    found = score(load(tmp_path, old("far", "yes", "1950-01-01")), TODAY, only=["old"])

    assert [survivor.mutant.says for survivor in found.survivors] == [
        f"'made before 1 January 1960', {move}"
        for move in ("a day earlier", "a day later", "a year earlier", "a year later")]
    assert found.noticed == 2


def test_a_survivor_comes_with_an_example_that_notices_it(tmp_path: Path) -> None:
    """Made on 31 December 1959: with the cut-off a day earlier no longer old."""
    rules = load(tmp_path, old("far", "yes", "1950-01-01"))
    first = score(rules, TODAY, only=["old"]).survivors[0]
    text = for_survivor(first, rules)

    assert text is not None
    assert yaml.load(text, yaml.BaseLoader)["old-notices"]["facts"] == {"thing.made": "1959-12-31"}


def test_mutants_that_are_the_same_rule_are_held_against_nobody(tmp_path: Path) -> None:
    """A test that can never decide may move or go: no vehicle would tell."""
    rule = ("old: {title: Old, when: {all: [{thing.made: {before: 1950-01-01}}, "
            "{thing.made: {before: 1960-01-01}}]}, sources: [act]}\n")
    examples = old("in", "yes", "1949-12-31") + old("out", "no", "1950-01-01")
    found = score(load(tmp_path, examples, definitions=rule), TODAY, only=["old"])

    assert found.equivalent == 4
    assert found.survivors == () and found.percent == 100


def test_equivalence_looks_at_what_can_be_true_of_a_vehicle(tmp_path: Path) -> None:
    """Nothing is sold before it is made, so 'sold before 1950' needs no 'made before 1960'."""
    rule = ("old: {title: Old, when: {all: [{thing.sold: {before: 1950-01-01}}, "
            "{thing.made: {before: 1960-01-01}}]}, sources: [act]}\n")
    examples = (example("in", "definitions: {old: yes}", sold="1949-12-31", made="1940-01-01")
                + example("out", "definitions: {old: no}", sold="1950-01-01", made="1940-01-01"))
    found = score(load(tmp_path, examples, definitions=rule), TODAY, only=["old"])

    assert found.equivalent == 4 and found.survivors == ()


EARLIER = "\"old: 'made before 1 January 1960', a year earlier\": {why: Nothing was made then.}\n"
LATER = "\"old: 'made before 1 January 1960', a day later\": {why: Nothing was made then.}\n"


def test_an_explained_survivor_is_counted_apart(tmp_path: Path) -> None:
    """Made in 1950 lets four moves pass; of one the keeper says why."""
    rules = load(tmp_path, old("far", "yes", "1950-01-01"), survivors=EARLIER)
    found = score(rules, TODAY, only=["old"])

    assert [(one.mutant.says, one.explained.why) for one in found.explained if one.explained] == [
        ("'made before 1 January 1960', a year earlier", "Nothing was made then.")]
    assert (len(found.unexplained), found.stale) == (3, ())


def test_an_explanation_of_what_is_noticed_explains_nothing(tmp_path: Path) -> None:
    """The last day that counts notices a year earlier; the first that does not, a day later."""
    rules = load(tmp_path, BEFORE + ON, survivors=EARLIER + LATER + "\"odl: dropped\": {why: No.}")

    assert [(one.explained.mutant, one.because) for one in score(rules, TODAY).stale] == [
        ("old: 'made before 1 January 1960', a year earlier", "an example notices it"),
        ("old: 'made before 1 January 1960', a day later", "an example notices it"),
        ("odl: dropped", "there is no such mutant")]


def test_an_explanation_of_what_is_the_same_rule_explains_nothing(tmp_path: Path) -> None:
    """'Before 1961' can never decide beside 'before 1950'."""
    rule = ("old: {title: Old, when: {all: [{thing.made: {before: 1950-01-01}}, "
            "{thing.made: {before: 1961-01-01}}]}, sources: [act]}\n")
    rules = load(tmp_path, BEFORE.replace("yes", "no"), definitions=rule,
                 survivors="\"old: 'made before 1 January 1961', a day later\": {why: No.}\n")

    assert [one.because for one in score(rules, TODAY, only=["old"]).stale] == [
        "it is the same rule for every vehicle"]


def test_explanations_count_like_examples(tmp_path: Path) -> None:
    """They are part of the ruleset and its digest; one without any is what it was before."""
    none, one = load(tmp_path / "1", BEFORE), load(tmp_path / "2", BEFORE, survivors=EARLIER)
    (explained,) = one.survivors.values()

    assert none.survivors == {} and one.digest != none.digest
    assert explained.line == "qa/survivors.yaml:1"


@pytest.mark.parametrize(("written", "problem"), [
    ("{}", "lacks `why`"),
    ("{why: No., sources: [atc]}", "there is no source `atc` (did you mean `act`?)"),
])
def test_an_explanation_needs_a_reason(written: str, problem: str, tmp_path: Path) -> None:
    """And its sources must exist."""
    with pytest.raises(Unreadable) as wrong:
        load(tmp_path, BEFORE, survivors=f'"old: dropped": {written}\n')

    assert problem in str(wrong.value)


def test_no_two_mutants_have_one_name(tmp_path: Path) -> None:
    """The same test twice in one rule, and two editions: the name says which is meant."""
    rule = ("old: {title: Old, sources: [act], editions: [{until: 2019-12-31, when: {any: ["
            "{thing.red: yes}, {all: [{thing.red: yes}, {thing.from: DE}]}]}}, "
            "{from: 2020-01-01, when: {thing.red: yes}}]}\n")
    names = [mutant.name for mutant in mutants(load(tmp_path, BEFORE, definitions=rule))
             if mutant.entry == "old"]

    assert names == [
        "old: dropped, until 2019-12-31",
        "old: 'red is yes' turned round, until 2019-12-31",
        "old: 'red is yes' turned round (no. 2), until 2019-12-31",
        "old: 'from is Germany' turned round, until 2019-12-31",
        "old: first day, a day earlier, from 2020-01-01",
        "old: first day, a day later, from 2020-01-01",
        "old: dropped, from 2020-01-01",
        "old: 'red is yes' turned round, from 2020-01-01",
    ]


@pytest.mark.parametrize(("countries", "without"), [("DE, FR, IT", 3), ("DE, FR, IT, ES", 0)])
def test_a_list_of_countries_is_only_turned_round(
    countries: str, without: int, tmp_path: Path
) -> None:
    """It is copied from a treaty; up to three it is short enough to be tried word by word."""
    rule = f"old: {{title: Old, when: {{thing.from: [{countries}]}}, sources: [act]}}\n"
    says = [mutant.says for mutant in mutants(load(tmp_path, BEFORE, definitions=rule))]

    assert len([what for what in says if "without" in what]) == without
    assert [what for what in says if "turned round" in what and "from" in what]


def test_windows_and_amounts_are_tried_too(tmp_path: Path) -> None:
    """A day more or less, a penny more or less: expected last days and amounts notice."""
    files = {
        "counting": "days: {title: D, day of event: not counted, rest day: stays, "
        "sources: [act]}\n",
        "charges": "fee: {title: Fee, amount: 5 XTS, sources: [act]}\n",
        "requirements": "list-it: {title: L, why: W., stage: first, authority: office, window: "
        "{within: 14 days, of: thing.made, counting: days}, charges: [fee], sources: [act]}\n",
    }
    blind = example("a", "requirements: {list-it: required}", made="2026-03-20")
    seeing = example("b", "windows: {list-it: 2026-04-03}, charges: {fee: 5 XTS}",
                     made="2026-03-20")
    only = ["list-it", "fee"]

    blind_score = score(load(tmp_path / "1", blind, **files), TODAY, only)
    seeing_score = score(load(tmp_path / "2", blind + seeing, **files), TODAY, only)

    assert [survivor.mutant.name for survivor in blind_score.survivors] == [
        "list-it: window 1 shorter", "list-it: window 1 longer", "list-it: charge fee left out",
        "fee: dropped", "fee: amount 5 1 less", "fee: amount 5 1 more"]
    assert seeing_score.survivors == ()


# ---------------------------------------------------------------- the command


def test_the_command_lists_and_prepares(tmp_path: Path) -> None:
    """What is missing by kind, the score, and the examples as YAML."""
    folder = write(tmp_path, examples=BEFORE)
    listed = CliRunner().invoke(main, ["coverage", str(folder), "--mutants", "--on", str(TODAY)])
    prepared = CliRunner().invoke(main, ["coverage", str(folder), "--examples", "--on", str(TODAY)])

    assert listed.exit_code == 0, listed.output
    assert "old: the day at 'made before 1 January 1960'" in listed.output
    assert "Mutants: noticed" in listed.output and " unexplained, " in listed.output
    names = yaml.load(prepared.output, yaml.BaseLoader)
    assert set(names) == {"old-thing-made-day", "old-thing-made-day-after"}
