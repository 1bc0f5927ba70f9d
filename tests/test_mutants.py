"""Which small mistakes are made in a ruleset, and what an example must expect to notice each."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
import yaml

import regkit
from regkit.judge.law import law_on
from regkit.keep.asked import found
from regkit.keep.comes_to import Piecewise
from regkit.keep.examples import comes_out, example_case, expected
from regkit.keep.mistakes import KINDS
from regkit.keep.mutants import Mutant, mutants
from regkit.keep.mutation import score
from regkit.keep.telling import Telling
from regkit.keep.to_complete import for_survivor
from regkit.keep.trials import trials
from regkit.model.ruleset import Ruleset
from regkit.read.ruleset import read_ruleset
from tests.listed_carts import FILES, carts, example
from tests.rulesets_under_test import ruleset

TODAY = date(2026, 11, 25)


def test_the_mistakes_that_are_made(tmp_path: Path) -> None:
    """All of them, by name; a colleague who reads the list knows what examples are for."""
    moves = ("a day earlier", "a day later", "a year earlier", "a year later")
    made = list(mutants(carts(tmp_path)))

    assert {kind: [mutant.name for mutant in made if mutant.kind == kind] for kind in KINDS} == {
        "definitions": [
            "old: dropped", "old: 'made before 1 January 1960' turned round",
            *(f"old: 'made before 1 January 1960', {move}" for move in moves),
            "old: dissent left out", "old: dissent: 'made before 1 January 1961' turned round",
            *(f"old: dissent: 'made before 1 January 1961', {move}" for move in moves)],
        "requirements": [
            "list-it: dropped", "list-it: 'kind is Cart' turned round",
            "list-it: window 1 shorter", "list-it: window 1 longer",
            "list-it: need bill left out", "list-it: need (photo or sketch) left out",
            "list-it: alternative photo left out", "list-it: alternative sketch left out",
            "list-it: need slip left out", "list-it: need slip: 'red is yes' turned round",
            "list-it: charge fee left out", "list-it: charge fine for lateness left out"],
        "charges": [
            "fee: dropped", "fee: case: 'weight more than 48 kg' turned round",
            "fee: case: 'weight more than 48 kg', 1 less",
            "fee: case: 'weight more than 48 kg', 1 more",
            "fee: amount 5 1 less", "fee: amount 5 1 more", "fee: case: 'red is yes' turned round",
            "fee: amount 3 1 less", "fee: amount 3 1 more",
            "fine: dropped", "fine: at least 2 1 less", "fine: at least 2 1 more",
            "fine: row 1: 5 1 less", "fine: row 1: 5 1 more",
            "fine: row 1: up to 3 months 1 less", "fine: row 1: up to 3 months 1 more",
            "fine: row 2: 9 1 less", "fine: row 2: 9 1 more"],
        "counting": ["days: day of event counted", "days: rest day stays"],
        "evidence": ["slip: no older than 3 months 1 less", "slip: no older than 3 months 1 more"],
        "routes": ["by-sea: dropped", "by-sea: 'red is yes' turned round"],
    }


CART = "thing.kind: cart, thing.sold: 2026-04-02, thing.red: yes, thing.weight: 48 kg"


@pytest.mark.parametrize(("expect", "facts", "more", "noticed"), [
    ("papers: {list-it: {slip: needed, photo: one of several}}", CART, "",
     {"need slip left out", "need slip: 'red is yes' turned round",
      "need (photo or sketch) left out", "alternative photo left out",
      "alternative sketch left out", "dropped", "'kind is Cart' turned round"}),
    ("papers: {list-it: {slip: in order}}", CART, ", papers: [{evidence: slip, dated: 2026-01-20}]",
     {"no older than 3 months 1 less", "need slip left out",
      "need slip: 'red is yes' turned round", "dropped", "'kind is Cart' turned round"}),
    ("papers: {list-it: {slip: not in order}}", CART,
     ", papers: [{evidence: slip, dated: 2026-01-19}]",
     {"no older than 3 months 1 more", "need slip left out",
      "need slip: 'red is yes' turned round", "dropped", "'kind is Cart' turned round"}),
    ("windows: {list-it: 2026-04-13}", CART, "",
     {"rest day stays", "dropped", "'kind is Cart' turned round"}),
    ("windows: {list-it: 2026-04-10}", CART.replace("04-02", "03-31"), "",
     {"day of event counted", "window 1 shorter", "window 1 longer", "dropped",
      "'kind is Cart' turned round"}),
    ("periods: {days: {9 days from 2026-04-01: 2026-04-10}}", "", "", {"day of event counted"}),
    ("periods: {days: {10 days from 2026-04-02: 2026-04-13}}", "", "", {"rest day stays"}),
    ("cautions: {old: yes}", "thing.made: 1960-12-31", "",
     {"dissent left out", "dissent: 'made before 1 January 1961' turned round",
      "dissent: 'made before 1 January 1961', a day earlier",
      "dissent: 'made before 1 January 1961', a year earlier",
      "'made before 1 January 1960' turned round", "dropped"}),
    ("routes: {by-sea: yes}", "thing.red: yes", "", {"dropped", "'red is yes' turned round"}),
])
def test_what_notices_a_mistake(
    expect: str, facts: str, more: str, noticed: set[str], tmp_path: Path
) -> None:
    """Each expectation notices the mistakes it can, and no other."""
    rules = carts(tmp_path, example(expect, facts, more))
    (trial,) = trials(rules)

    assert comes_out(rules.examples["it"], rules)
    assert {mutant.mistake.says for mutant in mutants(rules) if trial.notices(mutant)} == noticed


def test_a_dropped_word_of_money_shows_on_the_bill(tmp_path: Path) -> None:
    """48 kg is not more than 48: the second case counts; 49 would be the first."""
    rules = carts(tmp_path, example("charges: {fee: 3 XTS}", CART))
    (trial,) = trials(rules)
    noticed = {m.mistake.says for m in mutants(rules) if m.entry == "fee" and trial.notices(m)}

    assert noticed == {
        "dropped", "case: 'weight more than 48 kg' turned round",
        "case: 'weight more than 48 kg', 1 less", "case: 'red is yes' turned round",
        "amount 3 1 less", "amount 3 1 more"}


# ---------------------------------------------------------------- the same rule


def equivalent(rules: Ruleset) -> set[str]:
    """Return the names of the mutants that are the same rule for every vehicle."""
    telling = Telling(rules, TODAY)
    return {mutant.name for mutant in mutants(rules) if telling.apart(mutant) is None}


@pytest.mark.parametrize(("kind", "text", "same"), [
    # The first case takes all that is red, so the second is reached by nothing.
    ("charges", "fee: {title: Fee, sources: [act], cases: [{when: {thing.red: yes}, amount: 5 XTS},"
     "{when: {all: [{thing.red: yes}, {thing.kind: cart}]}, amount: 3 XTS}]}\nfine: {title: F, "
     "amount: 1 XTS, sources: [act]}\n",
     {"fee: case: 'kind is Cart' turned round"}),
    # Of a sledge nothing is required, so it needs no slip either.
    ("requirements", FILES["requirements"].replace(
        "when: {thing.red: yes}", "when: {thing.kind: [cart, sledge]}"),
     {"list-it: need slip: 'kind is one of: Cart and Sledge', without sledge"}),
    # The leaflet says the same as the act, so leaving it out changes nothing.
    ("definitions", FILES["definitions"].replace("1961-01-01", "1960-01-01"),
     {"old: dissent left out"}),
    # A case can be a cart or a sledge, so it is one or the other.
    ("routes", "by-sea: {title: S, facts: {thing.from: GB}, sources: [act], when: {any: ["
     "{thing.red: yes}, {thing.kind: [cart, sledge]}]}}\n", {"by-sea: 'red is yes' turned round"}),
])
def test_what_changes_nothing_is_the_same_rule(
    kind: str, text: str, same: set[str], tmp_path: Path
) -> None:
    """Decided exactly, by diagrams, with what must hold for the place to matter."""
    assert equivalent(carts(tmp_path, **{kind: text})) == same


def test_a_number_is_always_told_apart(tmp_path: Path) -> None:
    """Of windows, amounts, counting and ages of papers nothing is equivalent."""
    assert equivalent(carts(tmp_path)) == set()


# ---------------------------------------------------------------- cases that tell


def filled(mutant: Mutant, text: str, folder: Path) -> Ruleset:
    """Return the ruleset with a prepared example, its outcome filled in as the rules have it."""
    (entry,) = yaml.load(text, yaml.BaseLoader).values()
    (part, by_name), = entry["expect"].items()
    ((name, written),) = by_name.items()
    if isinstance(written, dict):
        written = dict.fromkeys(written, "in order" if "older" in mutant.says else "needed")
    entry["expect"] = {part: {name: written or "yes"}}
    guess = _with(folder, _loose(entry, part))
    example_ = guess.examples["it"]
    pieces = Piecewise(law_on(guess, example_.on), example_case(example_, guess))
    ((_, asked),) = expected(example_, guess)
    outcome = found(pieces, asked)
    entry["expect"] = {part: {name: {asked.item: outcome} if asked.item else outcome}}
    return _with(folder, entry)


def _with(folder: Path, entry: dict[str, object]) -> Ruleset:
    """Load the small ruleset anew with one example, none of which may stay from before."""
    (folder / "qa" / "examples.yaml").write_text(yaml.safe_dump({"it": entry}), "utf-8")
    read_ruleset.cache_clear()
    return regkit.load(folder / "qa")


def _loose(entry: dict[str, object], part: str) -> dict[str, object]:
    """Return an example with an outcome that its schema lets pass."""
    guess = {"requirements": "required", "windows": "no day", "charges": "1 XTS",
             "periods": "no day"}.get(part)
    if guess is None:
        return entry
    (name, inner), = dict(entry["expect"])[part].items()  # type: ignore[call-overload]
    changed = dict.fromkeys(inner, guess) if isinstance(inner, dict) else guess
    return {**entry, "expect": {part: {name: changed}}}


def test_the_prepared_example_notices_the_mistake_it_is_prepared_for(tmp_path: Path) -> None:
    """Of every mistake a case is known for: with the outcome written in, it is noticed."""
    rules = carts(tmp_path, example("definitions: {old: undecided}", ""))
    survivors = score(rules, TODAY).survivors
    missed = []
    for survivor in survivors:
        text, mutant = for_survivor(survivor, rules), survivor.mutant
        assert text is not None, mutant.name
        with_it = filled(mutant, text, tmp_path)
        again = next(one for one in mutants(with_it) if one.name == mutant.name)
        if not trials(with_it)[0].notices(again):
            missed.append(mutant.name)

    assert len(survivors) > 40
    # A fine, and a period chosen blindly, take facts that only a reader of the source can give.
    assert all("fine" in name or name.startswith("days:") for name in missed), missed


def test_trying_what_an_answer_rests_on_finds_what_trying_everything_finds() -> None:
    """Every third mutant of Zedland on every example, against assessing the whole anew."""
    rules = ruleset("ZZ")
    for at, mutant in enumerate(mutants(rules)):
        for trial in trials(rules) if at % 3 == 0 else ():
            assert trial.notices(mutant) != comes_out(trial.example, mutant.ruleset), (
                f"{mutant.name}, {trial.example.id}")
