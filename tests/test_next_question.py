"""The next question: only what can still change a finding, and fewest first."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from click.testing import CliRunner
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

import regkit
from regkit.commands import main
from regkit.compare.next_question import next_question, still_asked
from regkit.judge.law import law_on
from regkit.model.ruleset import Ruleset
from regkit.read.answered import with_answer
from tests.drawn_cases import cases, read, written_values
from tests.rulesets_under_test import INVENTED, NAMES, ruleset

ON = date(2026, 4, 1)
ZZ = str(INVENTED / "zz")
few = settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate],
               suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])


def asked(rules: Ruleset, answers: dict[str, Any]) -> list[str]:
    """Return what is asked of a keeper who knows all of `answers` and nothing else."""
    told: dict[str, Any] = {}
    skip: set[str] = set()
    order = []
    while True:
        case = regkit.read_case({"jurisdiction": rules.jurisdiction, "facts": told}, rules)
        question = next_question(law_on(rules, ON), case, skip)
        if question is None:
            return order
        name = question.fact.name
        assert name not in order and question.bears_on
        order.append(name)
        if name in answers:
            told[name] = answers[name]
        else:
            skip.add(name)


@few
@given(data=st.data())
def test_what_is_not_asked_changes_nothing(data: st.DataObject) -> None:
    """Once no question is left, telling all the rest changes no finding that does not wait."""
    rules = ruleset("ZZ")
    answers = data.draw(st.fixed_dictionaries(
        {fact.name: written_values(rules, fact, ON, exact=True) for fact in rules.asked}))
    whole = read(rules, answers)
    assume(whole is not None)
    assert whole is not None
    told = {name: answers[name] for name in asked(rules, answers) if name in answers}
    case = read(rules, told)
    assert case is not None
    law = law_on(rules, ON)
    before, after = regkit.assess(case, rules, ON), regkit.assess(whole, rules, ON)

    assert not still_asked(law, case)
    for finding in before.findings:
        if not finding.waits_for:
            assert finding.verdict == after.verdicts[finding.id]


@few
@given(data=st.data())
def test_each_question_can_change_a_finding(data: st.DataObject) -> None:
    """Every fact asked for is one on which an open finding truly depends."""
    rules = ruleset("ZZ")
    case = read(rules, data.draw(cases(rules, ON)))
    assume(case is not None)
    assert case is not None
    law = law_on(rules, ON)
    question = next_question(law, case)

    assert (question is None) == (not {
        name for name in still_asked(law, case) if case.value(name).word is None})
    if question is not None:
        assert question.fact.name in still_asked(law, case)


def test_fewer_are_asked_than_there_are() -> None:
    """A vehicle found here is asked nothing about its arrival."""
    rules = ruleset("ZZ")
    order = asked(rules, {"vehicle.place": "registered_here", "vehicle.first_registered": "1970",
                          "vehicle.built": "1969", "zz.bell": "brass"})

    assert len(order) < len(rules.asked) / 2
    assert not [name for name in order if name.startswith(("arrival", "customs"))]


def answered(answers: str, *arguments: str) -> Any:
    return CliRunner().invoke(main, ["ask", ZZ, *arguments], input=answers)


def test_the_case_file_is_written_after_each_answer_and_taken_up_again(tmp_path: Path) -> None:
    """Stopped after two answers; the next run asks neither again."""
    file = tmp_path / "case.yaml"
    first = answered("registered_here\nstop\n", "--case", str(file), "--on", "2026-04-01")
    assert first.exit_code == 0, first.output
    told = yaml.safe_load(file.read_text("utf-8"))
    again = answered("stop\n", "--case", str(file))

    assert len(told["facts"]) == 1 and told["on"] == "2026-04-01"
    (fact,) = told["facts"]
    assert f"{fact}:" not in again.output
    assert regkit.read_case(file, ruleset("ZZ"))


@pytest.mark.parametrize("facts", [
    "facts:\n  # from the seller\n  vehicle.built: '1962'   # by its frame\n",
    "facts: {}   # nothing yet\n",
    "facts:\n  vehicle.built: '1962'",
])
@pytest.mark.parametrize("before", ["# Our case.\njurisdiction: ZZ\non: '2026-04-01'\n"])
def test_what_the_keeper_wrote_beside_the_facts_stays(
    tmp_path: Path, before: str, facts: str
) -> None:
    """Each line, comment and quote of the file is still there after two answers."""
    file = tmp_path / "case.yaml"
    after = "" if not facts.endswith("\n") else "\n# The end.\n"
    file.write_text(before + facts + after, "utf-8")
    result = answered("registered_here\nstop\n", "--case", str(file))
    text = file.read_text("utf-8")

    assert result.exit_code == 0, result.output
    assert len(yaml.safe_load(text)["facts"]) == 2 - ("{}" in facts)
    assert all(line.replace(" {}", "") in text for line in (before + facts + after).splitlines())


@pytest.mark.parametrize("text", ["facts: {a: '1'}\n", "[1, 2", "facts: [a]\n", "a: 1\n"])
def test_a_file_that_cannot_be_added_to_in_place_is_written_whole(text: str) -> None:
    """It says what it is to say, in any case."""
    data = {"facts": {"a": "1", "b": "it's: no"}}

    assert yaml.safe_load(with_answer(text, data, "b")) == data


def test_a_fact_told_more_exactly_is_told_in_its_place() -> None:
    """The comment beside it stays."""
    data = {"facts": {"built": "1962-05", "kind": "car"}}

    assert with_answer("facts:\n  built: 1962 # the frame\n  kind: car\n", data, "built") == (
        "facts:\n  built: 1962-05 # the frame\n  kind: car\n")


def test_dont_know_leaves_a_fact_open(tmp_path: Path) -> None:
    """It goes on to the next question, and writes nothing for this one."""
    file = tmp_path / "case.yaml"
    result = answered("don't know\n" * 60, "--case", str(file), "--on", "2026-04-01")

    assert result.exit_code == 0, result.output
    assert yaml.safe_load(file.read_text("utf-8"))["facts"] == {}


def test_what_is_told_inexactly_is_asked_again_once_and_last(tmp_path: Path) -> None:
    """Giving the same answer again, or none, goes on; it does not ask for ever."""
    rules = ruleset("ZZ")
    law, facts = law_on(rules, ON), {"vehicle.first_registered": "2001"}
    data = {"jurisdiction": "ZZ", "on": "2026-04-01", "facts": facts}
    again, skip = [], set[str]()
    while (question := next_question(law, regkit.read_case(data, rules), skip)) is not None:
        again.append(question.again)
        skip.add(question.fact.name)
    file = tmp_path / "case.yaml"
    file.write_text(yaml.safe_dump(data), "utf-8")
    result = answered("\n" * (len(again) - 1) + "2001\n", "--case", str(file))

    assert again == sorted(again) and again[-1] and again.count(True) == 1
    assert result.exit_code == 0 and result.output.count("Told so far: 2001.") == 1


@pytest.mark.parametrize("name", NAMES)
def test_no_question_comes_before_one_that_leads_up_to_it(name: str) -> None:
    """Nobody is asked when a change was made before being asked whether there was one."""
    rules = ruleset(name)
    law, case = law_on(rules, ON), regkit.read_case({"jurisdiction": rules.jurisdiction,
                                                     "facts": {}}, rules)
    came: list[str] = []
    open_ = still_asked(law, case)
    while (question := next_question(law, case, came)) is not None:
        before = {earlier for earlier in question.fact.asked_after if earlier in open_}
        assert before <= set(came), question.fact.name
        came.append(question.fact.name)
    assert came


@pytest.mark.parametrize(("typed", "said"), [
    ("?", "It is asked because"), ("sideways", "is not a value it can take"),
])
def test_it_explains_itself_and_refuses_what_is_no_answer(
    tmp_path: Path, typed: str, said: str
) -> None:
    """`?` says why; a wrong answer says what would be right; both ask again."""
    result = answered(f"{typed}\nstop\n", "--case", str(tmp_path / "case.yaml"))

    assert result.exit_code == 0 and said in result.output


@pytest.mark.parametrize(("language", "no"), [("de", "nein"), ("sv", "nej")])
def test_it_asks_and_takes_answers_in_the_readers_language(
    tmp_path: Path, language: str, no: str
) -> None:
    """The case file keeps the words of the vocabulary; nothing said to the keeper is English."""
    file = tmp_path / "case.yaml"
    result = CliRunner().invoke(
        main, ["ask", "GB", "--case", str(file), "--language", language],
        input=f"?\n{no}\nstop\n")

    told = yaml.safe_load(file.read_text("utf-8"))["facts"]
    assert result.exit_code == 0 and list(told.values()) == ["no"]
    for english in ("don't know", "more", "At most", "asked because", "What applies"):
        assert english not in result.output
