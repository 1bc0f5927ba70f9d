"""The diff of rules that hang on open questions: of answers that differ, and of no others."""

from __future__ import annotations

import json
import tempfile
from itertools import product
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

import regkit
from regkit.compare.changes import compare
from regkit.model.changes import Changes
from regkit.model.ruleset import Ruleset
from regkit.show.changes_text import changes_lines
from tests import small_ruleset
from tests.zedland_changed import FIRST, LAST, TODAY, Mutate, effect

QUESTIONS = "\n".join(
    f"{name}: {{asks: Is it so?, opened: 2026-11-25, state: open, note: Nobody has asked.}}"
    for name in ("is-it-so", "is-it-thus"))

tests = st.sampled_from([
    {"thing.kind": "cart"}, {"thing.red": "yes"}, {"question": "is-it-so"},
    {"question": "is-it-thus"}])
written = st.recursive(tests, lambda inner: st.tuples(
    st.sampled_from(["all", "any", "none"]), st.lists(inner, min_size=1, max_size=3)
).map(lambda pair: {pair[0]: pair[1]}), max_leaves=5)
rules = st.tuples(written, written | st.just({"holds": "old"}))
Written = tuple[Any, Any]


def loaded(folder: Path, when: Written) -> Ruleset:
    """Return a ruleset whose one definition and one requirement have these conditions."""
    definition, requirement = when
    return regkit.load(small_ruleset.write(
        folder, questions=QUESTIONS,
        definitions=json.dumps({"old": {
            "title": "Old", "when": definition, "sources": ["act"],
            "questions": ["is-it-so", "is-it-thus"]}}),
        requirements=json.dumps({"paint-it": {
            "title": "Paint it", "why": "It must be red.", "stage": "first", "authority": "office",
            "when": {"any": [requirement, {"all": [{"holds": "old"}, {"thing.red": "no"}]}]},
            "sources": ["act"], "questions": ["is-it-so", "is-it-thus"]}})))


def answers(rules: Ruleset, facts: dict[str, Any]) -> str:
    case = regkit.read_case({"jurisdiction": "QA", "facts": facts}, rules)
    return regkit.assess(case, rules, TODAY).verdicts["paint-it"].value


@settings(max_examples=40, deadline=None, phases=[Phase.explicit, Phase.generate],
          suppress_health_check=[HealthCheck.too_slow])
@given(rules, rules)
@example(({"question": "is-it-so"}, {"holds": "old"}),
         ({"none": [{"question": "is-it-so"}]}, {"holds": "old"}))
@example(({"question": "is-it-so"}, {"any": [{"holds": "old"}, {"question": "is-it-so"}]}),
         ({"none": [{"question": "is-it-so"}]},
          {"any": [{"holds": "old"}, {"question": "is-it-so"}]}))
def test_what_is_listed_is_what_assessing_every_vehicle_finds(old: Written, new: Written) -> None:
    """Undecided before and after is no difference; nor is any other answer that stays."""
    with tempfile.TemporaryDirectory() as folder:
        before, after = loaded(Path(folder) / "old", old), loaded(Path(folder) / "new", new)
    every = [{"thing.kind": kind, "thing.red": red}
             for kind, red in product(("cart", "sledge"), ("yes", "no"))]
    expected = {(answers(before, facts), answers(after, facts)) for facts in every}
    changes = compare(before, after, FIRST, LAST, TODAY)
    found = [region for one in changes.effects if one.kind == "requirement"
             for region in one.regions]

    assert {(one.before, one.after) for one in found} == {
        (one, other) for one, other in expected if one != other}
    assert all(one.complete for one in changes.effects)
    for region in found:
        assert region.witness is not None
        facts = dict(region.witness.facts)
        assert (answers(before, facts), answers(after, facts)) == (region.before, region.after)


def opposite(mutated: Mutate) -> Changes:
    """Return what changes if the question of Zedland's steel bells is asked the other way round."""
    return mutated("definitions.yaml", "          - question: is-steel-quiet\n",
                   "          - none: [question: is-steel-quiet]\n")


def test_undecided_before_and_after_is_no_difference(mutated: Mutate) -> None:
    """A steel bell is as undecided as it was, whatever the office will say. But what its answer
    will bring has changed, so the entry is not called one of words only.
    """
    changes = opposite(mutated)
    entry, = changes.entries

    assert changes.no_difference
    assert changes.entry_reach(entry) is None


def test_the_question_on_which_an_answer_hangs_is_named(mutated: Mutate) -> None:
    """As what it hangs on, not as if a vehicle could answer it."""
    changes = mutated("definitions.yaml", "      - zz.bell: none\n",
                      "      - zz.bell: none\n      - zz.bell: steel\n")
    region, = effect(changes, "quiet-bell").regions

    assert (region.before, region.after) == ("undecided", "yes")
    text = " ".join("\n".join(changes_lines(changes)).split())
    assert "undecided → yes: kind of bell: A steel bell; open question 'is-steel-quiet';" in text
