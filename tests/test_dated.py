"""Mistakes in the days on which editions and dissents begin and end, and in what a bill is made of.

Each is noticed on the one day that changes sides, or is the same rule for every vehicle.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from regkit.keep.mutants import Mutant, mutants
from regkit.keep.mutation import Survivor
from regkit.keep.telling import Telling
from regkit.keep.to_complete import for_survivor
from regkit.keep.trials import trials
from regkit.model.ruleset import Ruleset
from tests.listed_carts import FILES, carts, example

TODAY = date(2026, 11, 25)
SINCE_2010 = """
old: {title: Old, sources: [act], editions: [
  {until: 2009-12-31, when: {thing.made: {before: 1950-01-01}}},
  {from: 2010-01-01, when: {thing.made: {before: 1960-01-01}}}]}
"""


def dated(rules: Ruleset, entry: str) -> list[Mutant]:
    """Return the mutants of an entry whose days are moved."""
    return [one for one in mutants(rules) if one.entry == entry and one.mistake.day is not None]


def says(found: list[Mutant]) -> list[str]:
    """Return what was changed, without the entry."""
    return [mutant.says for mutant in found]


def same(rules: Ruleset, found: list[Mutant]) -> set[str]:
    """Return what was changed where it is the same rule for every vehicle."""
    telling = Telling(rules, TODAY)
    return {mutant.says for mutant in found if telling.apart(mutant) is None}


# ---------------------------------------------------------------- the days that are moved


def test_where_one_edition_follows_on_another_both_move(tmp_path: Path) -> None:
    """One mistake in each direction, and no day without an edition or with two."""
    rules = carts(tmp_path, definitions=SINCE_2010)
    found = dated(rules, "old")

    assert says(found) == ["first day, a day earlier, from 2010-01-01",
                           "first day, a day later, from 2010-01-01"]
    assert [[(edition.first, edition.last) for edition in mutant.history.editions]
            for mutant in found] == [
        [(None, date(2009, 12, 30)), (date(2009, 12, 31), None)],
        [(None, date(2010, 1, 1)), (date(2010, 1, 2), None)]]


def test_where_none_follows_the_last_day_moves_by_itself(tmp_path: Path) -> None:
    """Before a gap as at the end; and a dissent has days of its own."""
    rules = carts(tmp_path, definitions="""
old: {title: Old, sources: [act], editions: [
  {until: 2009-12-31, when: {thing.made: {before: 1950-01-01}}},
  {from: 2010-02-01, until: 2010-06-30, when: {thing.made: {before: 1960-01-01}}, dissents: [
    {says: S., from: 2010-03-01, when: {thing.made: {before: 1961-01-01}}, sources: [act]}]}]}
""")

    assert says(dated(rules, "old")) == [
        "last day, a day earlier, until 2009-12-31", "last day, a day later, until 2009-12-31",
        *(f"{end} day, a day {way}, from 2010-02-01" for way in ("earlier", "later")
          for end in ("first", "last")),
        "dissent: first day, a day earlier, from 2010-02-01",
        "dissent: first day, a day later, from 2010-02-01"]


def test_an_edition_of_one_day_is_never_left_without_one(tmp_path: Path) -> None:
    """It may grow by a day; shorter it would be dropped, which is a mistake of its own."""
    rules = carts(tmp_path, definitions="""
old: {title: Old, from: 2010-01-01, until: 2010-01-01, when: {thing.red: yes}, sources: [act]}
""")

    assert says(dated(rules, "old")) == ["first day, a day earlier", "last day, a day later"]


# ---------------------------------------------------------------- what notices them


@pytest.mark.parametrize(("on", "expected", "noticed"), [
    ("2009-12-30", "no", []),
    ("2009-12-31", "no", ["first day, a day earlier, from 2010-01-01"]),
    ("2010-01-01", "yes", ["first day, a day later, from 2010-01-01"]),
    ("2010-01-02", "yes", []),
])
def test_only_an_example_on_the_day_itself_notices(
    on: str, expected: str, noticed: list[str], tmp_path: Path
) -> None:
    """A cart of 1955 is old from 2010 on; the day before and the day itself, and no other."""
    rules = carts(tmp_path, example(f"definitions: {{old: {expected}}}", "thing.made: 1955-01-01",
                                    on=on), definitions=SINCE_2010)
    (trial,) = trials(rules)

    assert [one.says for one in dated(rules, "old") if trial.notices(one)] == noticed


@pytest.mark.parametrize(("sold", "expected", "noticed"), [
    ("2009-12-31", "no", ["first day, a day earlier, from 2010-01-01"]),
    ("2010-01-01", "yes", ["first day, a day later, from 2010-01-01"]),
    ("2010-06-01", "yes", []),
])
def test_what_goes_by_an_event_is_noticed_by_the_event(
    sold: str, expected: str, noticed: list[str], tmp_path: Path
) -> None:
    """Whenever it is asked: here in 2026."""
    by_sale = SINCE_2010.replace("sources", "governed by: thing.sold, sources", 1)
    rules = carts(tmp_path, example(f"definitions: {{old: {expected}}}",
                                    f"thing.made: 1955-01-01, thing.sold: {sold}"),
                  definitions=by_sale)
    (trial,) = trials(rules)

    assert [one.says for one in dated(rules, "old") if trial.notices(one)] == noticed


def test_a_window_that_changes_on_a_day_is_noticed_by_its_last_day(tmp_path: Path) -> None:
    """The duty is the same before and after, and nothing else tells its editions apart."""
    ten = "  window: {within: 10 days, of: thing.sold, counting: days}\n"
    twenty = ten.replace("10", "20").strip()
    rules = carts(
        tmp_path, example("windows: {list-it: 2026-04-27}", "thing.kind: cart, "
                          "thing.sold: 2026-04-07"),
        requirements=FILES["requirements"].replace(ten, "") + f"""\
  editions: [{{until: 2026-04-19, {ten.strip()}}}, {{from: 2026-04-20, {twenty}}}]
""")
    (trial,) = trials(rules)

    assert [one.says for one in dated(rules, "list-it") if trial.notices(one)] == [
        "first day, a day later, from 2026-04-20"]


# ---------------------------------------------------------------- the same rule


@pytest.mark.parametrize(("kind", "text", "entry"), [
    # Other words and sources, and the same rule.
    ("definitions", "old: {title: Old, editions: [{until: 2009-12-31, title: Older, when: "
     "{thing.red: yes}, sources: [act]}, {from: 2010-01-01, note: N., when: {thing.red: yes}, "
     "sources: [act]}]}\n", "old"),
    # Written otherwise, and the same rule.
    ("definitions", "old: {title: Old, sources: [act], editions: [{until: 2009-12-31, when: "
     "{thing.red: yes}}, {from: 2010-01-01, when: {none: [{thing.red: no}]}}]}\n", "old"),
    # A type of paper with one edition is always this one.
    ("evidence", FILES["evidence"].replace("no older than", "from: 2010-01-01, no older than"),
     "slip"),
])
def test_a_day_on_which_nothing_changes_is_the_same_rule(
    kind: str, text: str, entry: str, tmp_path: Path
) -> None:
    """Nothing an example can ask for is other on the day that changes sides."""
    rules = carts(tmp_path, **{kind: text})
    found = dated(rules, entry)

    assert found and same(rules, found) == set(says(found))


def test_a_charge_begins_with_the_duty_that_levies_it(tmp_path: Path) -> None:
    """A day earlier nobody would pay it; a day later it would be missed."""
    rules = carts(
        tmp_path, charges="fee: {title: Fee, from: 2010-01-01, amount: 1 XTS, sources: [act]}\n"
        "fine: {title: F, amount: 1 XTS, sources: [act]}\n",
        requirements=FILES["requirements"].replace("  charges: [fee]\n", "  editions: ["
                                                   "{until: 2009-12-31}, {from: 2010-01-01, "
                                                   "charges: [fee]}]\n"))

    assert same(rules, dated(rules, "fee")) == {"first day, a day earlier"}


def test_before_the_first_day_whose_law_is_known_nothing_is_looked_at(tmp_path: Path) -> None:
    """An edition that begins with the ruleset may as well begin earlier."""
    rules = carts(tmp_path, definitions="old: {title: Old, from: 1980-01-01, when: "
                  "{thing.red: yes}, sources: [act]}\n")

    assert same(rules, dated(rules, "old")) == {"first day, a day earlier"}


def test_a_case_on_the_day_is_prepared(tmp_path: Path) -> None:
    """On the day before or on the day itself, for a thing that one edition has and one has not."""
    rules = carts(tmp_path, definitions=SINCE_2010)
    telling = Telling(rules, TODAY)
    for mutant, day in zip(dated(rules, "old"), ("2009-12-31", "2010-01-01"), strict=True):
        told = telling.apart(mutant)
        assert told is not None
        text = for_survivor(Survivor(mutant, told), rules)

        assert text is not None and f"on: {day}" in text and "definitions: {old: }" in text
        assert "1950-01-01" <= text.partition("thing.made: ")[2][:10] < "1960-01-01"


# ---------------------------------------------------------------- what a bill is made of

BASES = """
worth: {title: Worth, payable: no, sum: [thing.worth], sources: [act]}
duty: {title: Duty, sources: [act], cases: [
  {when: {thing.red: yes}, amount: 0 XTS}, {rate: 10 %, of: worth}]}
base: {title: Base, payable: no, sum: [worth, duty], sources: [act]}
fee: {title: Fee, sources: [act], cases: [
  {when: {thing.red: yes}, rate: 5 %, of: [worth, duty]}, {rate: 20 %, of: base}]}
fine: {title: Fine, per day: 1 XTS, of: list-it, sources: [act]}
"""


def test_a_part_of_a_base_is_left_out(tmp_path: Path) -> None:
    """Of a single base nothing; and where the duty is nothing it may be left out."""
    rules = carts(tmp_path, charges=BASES)
    left = [one for one in mutants(rules) if one.mistake.says.startswith("base ")]

    assert [one.name for one in left] == [
        "base: base worth left out", "base: base duty left out",
        "fee: base worth left out", "fee: base duty left out"]
    assert {one.name for one in left if Telling(rules, TODAY).apart(one) is None} == {
        "fee: base duty left out"}


@pytest.mark.parametrize(("charges", "missed"), [
    # The duty rests on the worth for what is not red alone, and the base rests on both always.
    ("[worth, duty]", {"worth", "duty"}),
    ("[worth, duty, base]", {"base"}),
    ("[duty, base, fee]", {"base", "fee"}),
])
def test_what_a_named_charge_always_rests_on_may_go_unnamed(
    charges: str, missed: set[str], tmp_path: Path
) -> None:
    """It is on the bill as its base."""
    rules = carts(tmp_path, charges=BASES,
                  requirements=FILES["requirements"].replace("[fee]", charges))
    left = [one for one in mutants(rules) if one.entry == "list-it"
            and one.mistake.says.startswith("charge ") and "lateness" not in one.says]

    assert {one.mistake.item for one in left
            if Telling(rules, TODAY).apart(one) is not None} == missed


@pytest.mark.parametrize(("worth", "noticed"), [
    ("10000 XTS", {"charge worth left out"}), ("0 XTS", set())])
def test_a_bill_notices_what_is_left_out_of_it(
    worth: str, noticed: set[str], tmp_path: Path
) -> None:
    """A red cart bears no duty, so its worth stands on the bill for being named there."""
    rules = carts(tmp_path, example(f"charges: {{worth: {worth}}}", "thing.kind: cart, "
                                    f"thing.red: yes, thing.worth: {worth}"), charges=BASES,
                  requirements=FILES["requirements"].replace("[fee]", "[worth, duty]"))
    (trial,) = trials(rules)

    assert {one.mistake.says for one in mutants(rules) if one.entry == "list-it"
            and one.mistake.says.startswith("charge ") and trial.notices(one)} == noticed


def test_a_charge_that_is_never_in_force_with_its_duty_is_not_missed(tmp_path: Path) -> None:
    """It ended before the duty began."""
    rules = carts(
        tmp_path, charges="fee: {title: Fee, until: 2009-12-31, amount: 1 XTS, sources: [act]}\n"
        "fine: {title: F, per day: 1 XTS, of: list-it, sources: [act]}\n",
        requirements=FILES["requirements"].replace("  charges", "  from: 2010-01-01\n  charges"))
    (left,) = [one for one in mutants(rules) if one.mistake.says == "charge fee left out"]

    assert Telling(rules, TODAY).apart(left) is None
