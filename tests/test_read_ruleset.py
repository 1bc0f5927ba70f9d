"""A ruleset: every mistake has its file and line, all at once, and nothing is half-read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import regkit
from tests import small_ruleset


def wrong(folder: Path, **files: str | None) -> list[str]:
    """Return what is wrong with the small ruleset once some of its files are replaced."""
    with pytest.raises(regkit.Unreadable) as caught:
        regkit.load(small_ruleset.write(folder, **files))
    return str(caught.value).splitlines()


def definition(condition: str) -> str:
    """Return definitions of which the first has this condition, on line 4."""
    return f"old:\n  title: Old\n  when:\n    {condition}\n  sources: [act]\n"


def test_the_small_ruleset_itself_is_sound(tmp_path: Path) -> None:
    """Else the tests below would prove nothing."""
    assert regkit.load(small_ruleset.write(tmp_path)).jurisdiction == "QA"


@pytest.mark.parametrize(("condition", "expected"), [
    ("thing.maed: {before: 1960-01-01}", "the vocabulary has no fact `thing.maed` (did you mean "
     "`thing.made`?)"),
    ("holds: odl", "there is no definition `odl` (did you mean `old`?)"),
    ("holds: [old]", "there is no definition"),
    ("holds: {old: yes}", "there is no definition"),
    ("question: why", "there is no question `why`"),
    ("question: [why]", "there is no question"),
    ("all: []", "`all` must be a list of at least one condition"),
    ("any: old", "`any` must be a list of at least one condition"),
    ("none: {holds: old}", "`none` must be a list of at least one condition"),
    ("{thing.red: yes, thing.kind: cart}", "put several under `all:`"),
    ("{}", "`when` holds no condition; write one of all, any, none, holds, question or a fact"),
    ("[thing.red]", "`when` holds no condition"),
    ("yes", "`when` holds no condition"),
    ("all: [thing.red]", "`all` holds no condition"),
    ("thing.kind: crat", "thing.kind cannot be 'crat'; it can be cart, sledge, unknown"),
    ("thing.kind: [cart, [sledge]]", "thing.kind cannot be ['sledge']"),
    ("thing.kind: {not: never}", "thing.kind cannot be 'never'"),
    ("thing.kind: {is: cart}", "is no test of a choice fact; write a word"),
    ("thing.kind: {before: 1960-01-01}", "is no test of a choice fact"),
    ("thing.red: maybe", "thing.red cannot be 'maybe'; it can be yes, no, unknown"),
    ("thing.from: UK", "'UK' is no country code of ISO 3166; write for example FR or US; the "
     "United Kingdom is GB"),
    ("thing.from: {not: [FR, XX]}", "'XX' is no country code"),
    ("thing.made: {before: 1960-02-30}", "'1960-02-30' names a day that does not exist"),
    ("thing.made: {before: 1960}", "'1960' is no cut-off; write a date such as 1980-01-01"),
    ("thing.made: {before: \"31 February, 40 years before the latest 1 April\"}",
     "names a day that does not exist"),
    ("thing.made: {before: \"1 January, 40 years before the latest 29 February\"}",
     "names a day that does not exist"),
    ("thing.made: {at least: 40 years}", "is no test of a date fact; write"),
    ("thing.made: {befor: 1960-01-01}", "is no test of a date fact (did you mean `before`?)"),
    ("thing.weight: {mor than: 48 kg}", "(did you mean `more than`?)"),
    ("thing.made: {at least: forty years ago}", "'forty years' is no period"),
    ("thing.made: {at least: 2000 years ago}", "'2000 years' is longer than 1,000 years"),
    ("thing.made: {at least: 99999 months before thing.sold}", "is longer than 1,000 years"),
    ("thing.made: {at least: 2 years before thing.soled}", "names no date fact"),
    ("thing.made: {at least: 2 years before thing.weight}", "names no date fact"),
    ("thing.made: 1960", "thing.made cannot be 1960"),
    ("thing.weight: {more than: 48 cc}", "'48 cc' is no amount for thing.weight; write a number "
     "and its unit, such as '48 kg'"),
    ("thing.weight: {more than: heavy}", "'heavy' is no amount for thing.weight"),
    ("thing.weight: {at least: 40 years ago}", "is no amount for thing.weight"),
])
def test_a_wrong_condition_says_what_would_be_right(
    tmp_path: Path, condition: str, expected: str
) -> None:
    """Each kind of test, written wrongly in each way we could think of."""
    said = wrong(tmp_path, definitions=definition(condition))

    file, line, text = said[0].split(":", 2)
    assert file == "qa/definitions.yaml" and line in ("3", "4")
    assert expected in text


@pytest.mark.parametrize(("files", "expected"), [
    ({"definitions": "old: {title: Old, when: {thing.red: yes}}\n"},
     "qa/definitions.yaml:1: `old` names no source; every entry, or each of its editions, needs"),
    ({"definitions": "old: {titel: Old, sources: [act]}\n"},
     "qa/definitions.yaml:1: unknown key `titel` (did you mean `title`?)"),
    ({"definitions": "Old thing: {title: Old, sources: [act]}\n"},
     "the key `Old thing` is not well formed; write a lasting name in small letters"),
    ({"definitions": "old: {title: {en: Old, rather, de: Alt}, sources: [act]}\n"},
     "`rather` must be text, and is empty; write the wording; in quotes, if it holds a comma"),
    ({"definitions": "old: {title: {de: Alt}, sources: [act]}\n"}, "wording, en among them"),
    ({"definitions": "old:\n  title: Old\n   sources: [act]\n"},
     "or indent the line as its neighbours are"),
    ({"definitions": "old:\n  title: Old\nsources: [act]\n  from: 2020-01-01\n"},
     "indent this line, or the one before, as its neighbours are"),
    ({"definitions": "old: {title: Old, sources: [atc]}\n"},
     "qa/definitions.yaml:1: there is no source `atc` (did you mean `act`?)"),
    ({"definitions": "old: [1]\n"}, "`old` must be a map of keys, and is a list"),
    ({"definitions": "- old\n"}, "qa/definitions.yaml:1: must be a map of keys, and is a list"),
    ({"definitions": ""}, "qa/definitions.yaml: is empty; leave the file out"),
    ({"definitions": "old: {title: Old, sources: [act], from: 2023-02-29}\n"},
     "`from` is '2023-02-29'; write a day that exists"),
    ({"definitions": "old: {title: Old, sources: [act], state: planned}\n"},
     "`state` must be one of announced, enacted, withdrawn"),
    ({"definitions": "old: {title: Old, sources: [act], from: 2020-01-01, until: 2019-01-01}\n"},
     "an edition ends on 2019-01-01, before its first day"),
    ({"definitions": "old:\n  title: Old\n  sources: [act]\n  editions:\n"
      "    - {from: 2019-01-01}\n    - {from: 2020-01-01}\n"},
     "`old` has two editions in force from 2020-01-01; end the earlier with `until:`"),
    ({"definitions": "old: {title: Old, sources: [act], governed by: thing.mad}\n"},
     "there is no fact `thing.mad` (did you mean `thing.made`?)"),
    ({"definitions": "a: {title: A, sources: [act], when: {holds: b}}\n"
      "b: {title: B, sources: [act], when: {holds: a}}\n", "requirements": None},
     "definitions go in a circle: a → b → a"),
    ({"requirements": small_ruleset.REQUIREMENTS.replace("stage: first", "stage: last")},
     "qa/requirements.yaml:4: there is no stage `last`"),
    ({"requirements": small_ruleset.REQUIREMENTS.replace("authority: office", "authority: offcie")},
     "qa/requirements.yaml:5: there is no authority `offcie` (did you mean `office`?)"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  needs: [dede]\n"},
     "there is no evidence `dede`"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  window: {within: 3 sundays, of: thing.made, "
      "counting: days}\n"}, "`within`"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  window: {within: 9999 years, of: thing.made, "
      "counting: days}\n"}, "`within`"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  window: {within: 14, of: thing.made, "
      "counting: days}\n"}, "`within` cannot be 14; write the length, such as 14 days, or forth"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  window: {of: thing.made, counting: days}\n"},
     "`window` takes one of these ways, and no more: `within` and `of`; `at least` and `before`; "
     "`by`"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  needs: [{anyof: [deed]}]\n"},
     "unknown key `anyof` (did you mean `any of`?)"),
    ({"requirements": "paint-it: {title: Paint it}\n"}, "lacks `why`, `stage` and `authority`"),
    ({"sources": "act: {kind: rumour, citation: An act, checked: 2026-11-25, look again: "
      "2027-11-25}\n"}, "`kind` must be one of law, standard"),
    ({"sources": None}, "there is no source `act`"),
    ({"ruleset": None}, "qa: has no ruleset.yaml, the head of a ruleset"),
    ({"ruleset": small_ruleset.HEAD.replace("notation: 1", "notation: 2")},
     "`notation` must be 1, and is 2"),
    ({"ruleset": small_ruleset.HEAD.replace('"2026.1"', "2026.1")},
     "`version` must be text, and is a number; put quotes around it, as it stands"),
    ({"ruleset": small_ruleset.HEAD.replace("currency: XTS", "currency: XYZ")},
     "qa/ruleset.yaml:6: `currency` 'XYZ' is no currency of ISO 4217"),
    ({"ruleset": small_ruleset.HEAD.replace("covers: [Little]", "covers: Little")},
     "`covers` must be a list, and is text (\"Little\"); put it in brackets: [Little]"),
    ({"ruleset": small_ruleset.HEAD + "builds on: QQ\n"}, "builds on `QQ`, which is not there"),
    ({"ruleset": small_ruleset.HEAD + "builds on: QA\n"}, "which builds on this ruleset itself"),
    ({"ruleset": small_ruleset.HEAD + "builds on: ../common\n"}, "`builds on` is \"../common\""),
    ({"requirments": "a: 1\n"}, "qa/requirments.yaml: is no file of a ruleset (did you mean "
      "`requirements.yaml`?)"),
    ({"requirements__more": small_ruleset.REQUIREMENTS},
     "`paint-it` is written a second time; the first is qa/requirements"),
    ({"renamed": "dye-it: {to: piant-it, on: 2026-01-01, because: Words}\n"},
     "`dye-it` leads to `piant-it`, which does not exist (did you mean `paint-it`?)"),
    ({"renamed": "a: {to: b, on: 2026-01-01, because: x}\n"
      "b: {to: a, on: 2026-01-01, because: y}\n"},
     "renamed in a circle: a → b"),
    ({"renamed": "paint-it: {to: old, on: 2026-01-01, because: Words}\n"},
     "`paint-it` is renamed, but still names something"),
    ({"definitions": small_ruleset.DEFINITIONS + "\n\x1b[31m"}, "the invisible character U+001B"),
    ({"definitions": "a: &a {}\n"}, "qa/definitions.yaml:1: `&a` marks a place to repeat"),
])
def test_a_wrong_entry_says_where_and_what_would_be_right(
    tmp_path: Path, files: dict[str, Any], expected: str
) -> None:
    """Each sort of mistake a maintainer makes, and some that an attacker would."""
    assert any(expected in line for line in wrong(tmp_path, **files)), wrong(tmp_path, **files)


@pytest.mark.parametrize(("files", "expected"), [
    ({"definitions": "old:\n  title: Old\n  sources: [act]\n  editions:\n"
      "    - {until: 2019-02-29}\n    - {from: 2020-01-01}\n"},
     "`until` is '2019-02-29'; write a day that exists"),
    ({"requirements": small_ruleset.REQUIREMENTS + "  window: {whithin: 14 days, of: thing.made, "
      "counting: days}\n"}, "unknown key `whithin` (did you mean `within`?)"),
])
def test_one_slip_is_one_remark(tmp_path: Path, files: dict[str, str], expected: str) -> None:
    """What follows from the slip alone is not held against the keeper."""
    (line,) = wrong(tmp_path, **files)

    assert expected in line


FEE = "fee: {title: Fee, sources: [act], payable: no, "


@pytest.mark.parametrize(("charges", "requirement", "expected"), [
    (FEE + "at most: 5 XTS}", "", "says no figure; write one of `amount`, `rate`"),
    (FEE + "amount: 5 XTS, rate: 20 %, of: thing.worth}", "", "says `amount` and `rate`; write"),
    (FEE + "rate: 20 %}", "", "a `rate` needs the facts or charges `of` which it is taken"),
    (FEE + "per day: 5 XTS}", "", "`per day` needs `of`: the requirement that is late"),
    (FEE + "amount: 5 XYZ}", "", "XYZ is no currency of ISO 4217"),
    (FEE + "cases: [{when: {thing.red: yes}, amount: 5 XTS}, {at least: 1 XTS}]}", "",
     "says no figure"),
    (FEE + "per day: 5 XTS, of: paint-it}", "", "`paint-it` has no `window`, so it is never late"),
    (FEE + "amount: 5 XTS}", "  late: [fee]\n", "`paint-it` has no `window`, so nothing is ever"),
])
def test_a_charge_that_could_never_be_reckoned_is_refused(
    tmp_path: Path, charges: str, requirement: str, expected: str
) -> None:
    """It would come out as nothing to pay, which is an answer, and a wrong one."""
    said = wrong(tmp_path, charges=charges + "\n",
                 requirements=small_ruleset.REQUIREMENTS + requirement)

    assert any(expected in line for line in said), said


def test_all_files_are_read_before_anything_is_said(tmp_path: Path) -> None:
    """Mistakes in three files come in one answer, in the order of file and line."""
    said = wrong(
        tmp_path,
        ruleset=small_ruleset.HEAD.replace("currency: XTS", "currency: Taler"),
        definitions="old: {titel: Old, sources: [act]}\n",
        sources="act: {kind: rumour, citation: An act}\n",
    )

    assert [line.split(":")[0] for line in said] == sorted(line.split(":")[0] for line in said)
    assert {line.split(":")[0] for line in said} == {
        "qa/definitions.yaml", "qa/ruleset.yaml", "qa/sources.yaml"}


def test_several_wrong_conditions_are_all_named(tmp_path: Path) -> None:
    """One wrong condition does not hide the next."""
    said = wrong(tmp_path, definitions="""\
        old:
          title: Old
          when:
            all:
              - thing.maed: never
              - holds: nothing
              - thing.weight: {more than: 3 cc}
          sources: [act]
        """)

    assert [line.split(":")[1] for line in said] == ["5", "6", "7"]


def test_very_many_alternatives_are_judged(tmp_path: Path) -> None:
    """Five thousand parts of one group are many, not deep; they are simply judged."""
    parts = "\n".join(f"      - thing.number: N{at}" for at in range(5000))
    ruleset = regkit.load(small_ruleset.write(
        tmp_path, definitions=definition(f"any:\n{parts}")))
    case = regkit.read_case(
        {"jurisdiction": "QA", "on": "2026-04-01", "facts": {"thing.number": "N4999"}}, ruleset)

    assert case.on is not None
    assert regkit.assess(case, ruleset, case.on).finding("paint-it").verdict == "required"


def test_definitions_too_deep_in_each_other_are_refused(tmp_path: Path) -> None:
    """A chain of a thousand definitions would exhaust the stack of whoever walks it."""
    chain = "".join(f"d{at}: {{title: D, sources: [act], when: {{holds: d{at + 1}}}}}\n"
                    for at in range(1000))
    said = wrong(tmp_path, requirements=None,
                 definitions=chain + "d1000: {title: D, sources: [act], when: {thing.red: yes}}\n")

    assert len(said) == 1 and "conditions deep, through the definitions it names" in said[0]


def test_chained_old_names_lead_to_the_newest(tmp_path: Path) -> None:
    """Renamed twice, both old names still work, in cases and when a finding is asked for."""
    ruleset = regkit.load(small_ruleset.write(tmp_path, renamed="""\
        dye-it: {to: tint-it, on: 2025-01-01, because: Words}
        tint-it: {to: paint-it, on: 2026-01-01, because: Words}
        """))
    case = regkit.read_case({"jurisdiction": "QA", "on": "2026-04-01", "facts": {},
                             "done": [{"requirement": "dye-it", "on": "2026-03-01"}]}, ruleset)

    assert case.on is not None
    assert case.done[0].requirement == "paint-it"
    assert regkit.assess(case, ruleset, case.on).finding("tint-it").id == "paint-it"


def test_same_digest_same_order(tmp_path: Path) -> None:
    """Layout does not change the digest; content does, and so does the order findings come in."""
    other = small_ruleset.REQUIREMENTS.replace("paint-it", "wash-it")

    def digest(name: str, **files: str | None) -> str:
        return regkit.load(small_ruleset.write(tmp_path / name, **files)).digest

    one = digest("a", requirements=small_ruleset.REQUIREMENTS + other)
    assert one == digest("b", requirements="# a remark\n" + small_ruleset.REQUIREMENTS + other)
    assert one == digest("c", requirements=None, requirements__a=small_ruleset.REQUIREMENTS,
                         requirements__b=other)
    assert one != digest("d", requirements=other + small_ruleset.REQUIREMENTS)
    assert one != digest("e", requirements=small_ruleset.REQUIREMENTS)
