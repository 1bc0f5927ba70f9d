"""Order from needs and gives: what is ready, what waits, the critical path, ways, dead ends."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import regkit
from regkit.conditions import AnyOf, NoneOf
from regkit.judge import choices
from regkit.judge.order import circle, order_circle
from regkit.judge.schedule import Task, schedule
from regkit.language import speaker
from regkit.model.assessment import Assessment
from regkit.model.calendar import Period
from regkit.model.plan import Missing, Plan, StepState
from regkit.model.plan_document import plan_document
from regkit.model.ruleset import Evidence, History, Need, Ruleset
from regkit.model.window import Duration
from regkit.show.plan_text import plan_lines

ISLAND = regkit.load(Path(__file__).parent / "rulesets" / "qa")
ON = date(2026, 3, 10)
OLD = {
    "vehicle.first_registered_here": "never", "vehicle.built": "1962",
    "arrival.date": "2026-03-01", "qa.engine_as_recorded": "yes",
}


def assessed(on: date = ON, papers: tuple[Any, ...] = (), done: tuple[Any, ...] = (),
             ruleset: Ruleset = ISLAND, **facts: str) -> Assessment:
    told = {**OLD, **{name.replace("__", "."): value for name, value in facts.items()}}
    case = regkit.read_case({"jurisdiction": "QA", "facts": told, "papers": list(papers),
                             "done": list(done)}, ruleset)
    return regkit.assess(case, ruleset, on)


def plan(*arguments: Any, **facts: Any) -> Plan:
    return assessed(*arguments, **facts).plan


def paper(evidence: str, **more: str) -> dict[str, str]:
    return {"evidence": evidence, **more}


# ------------------------------------------------------------------ order


def test_the_order_follows_from_needs_and_gives() -> None:
    order = [step.requirement for step in plan().steps]
    for before, after in (("clear-customs", "notify-arrival"), ("notify-arrival", "register"),
                          ("prove-age", "register"), ("register", "ask-for-freedom-from-tax")):
        assert order.index(before) < order.index(after)


def test_networkx_finds_no_step_before_one_it_needs() -> None:
    found = plan(vehicle__built="2020")
    graph = networkx.DiGraph(
        (part.step, step.requirement) for step in found.steps for part in step.missing if part.step)
    assert networkx.is_directed_acyclic_graph(graph)
    order = {step.requirement: at for at, step in enumerate(found.steps)}
    assert all(order[before] < order[after] for before, after in graph.edges)
    ready = {step.requirement for step in found.in_state(StepState.READY, StepState.NEEDS_PAPERS)}
    assert ready == {name for name in order if name not in graph or not graph.in_degree(name)}


def test_what_is_ready_what_needs_papers_and_what_waits_for_what() -> None:
    found = plan(papers=(paper("invoice"),))
    assert found.step("clear-customs").state == StepState.READY
    assert found.step("prove-age").state == StepState.NEEDS_PAPERS
    waiting = found.step("notify-arrival")
    assert waiting.state == StepState.WAITING
    assert waiting.missing == (Missing("customs-paper", "clear-customs"),)


def test_a_step_that_does_not_apply_is_no_step() -> None:
    with pytest.raises(KeyError):
        plan().step("obtain-approval")
    assert plan(vehicle__built="2020").step("obtain-approval").state == StepState.WAITING


def test_a_step_that_may_apply_is_in_the_plan_and_marked() -> None:
    found = plan(vehicle__built="1995/1997")
    assert found.step("obtain-approval").perhaps
    assert Missing("approval", "obtain-approval", perhaps=True) in found.step("register").missing


def test_what_a_step_costs_that_may_not_apply_counts_from_nothing() -> None:
    """The plan costs as little as if it did not apply and as much as if it did, like the bill."""
    without, with_it = plan(vehicle__built="1962").cost, plan(vehicle__built="2020").cost
    open_ = plan(vehicle__built="1995/1997").cost
    assert (open_.least, open_.most) == (without.least, with_it.most) == (55, 205)


def test_a_step_that_may_not_apply_but_gives_a_needed_paper_costs_in_any_case() -> None:
    """Whether approval is asked for is open, but the step that must be taken needs its paper."""
    found = plan(vehicle__built="1995/1997", ruleset=with_needs("register", "approval"))
    assert found.step("obtain-approval").perhaps
    assert found.cost.least == 205


def test_standing_duties_wait_for_their_event() -> None:
    assert plan().waits == ("notify-engine-change", "tell-of-new-address", "report-new-colour")
    woken = plan(change__engine="2026-03-09")
    assert woken.step("notify-engine-change").state == StepState.WAITING
    assert "notify-engine-change" not in woken.waits


def test_a_dead_end_names_the_paper_and_the_step() -> None:
    evidence = dict(ISLAND.evidence)
    evidence["invoice"] = History("invoice", tuple(
        replace(edition, from_outside=False) for edition in evidence["invoice"].editions))
    found = plan(ruleset=replace(ISLAND, evidence=evidence, digest="a dead end"))
    (said,) = (speaker().say(end) for end in found.dead_ends)
    assert said == "nothing gives this paper: Invoice; so this cannot be done: Clear customs"
    assert found.step("register").state == StepState.STUCK and found.finish is None


def with_needs(requirement: str, *needs: str, when: Any = None) -> Ruleset:
    requirements = dict(ISLAND.requirements)
    (edition,) = requirements[requirement].editions
    more = tuple(Need(evidence=name, when=when) for name in needs)
    requirements[requirement] = History(
        requirement, (replace(edition, needs=(*edition.needs, *more)),))
    return replace(ISLAND, requirements=requirements, digest=f"{requirement} {needs} {when}")


def test_a_paper_needed_either_way_is_not_perhaps_needed() -> None:
    """Whether approval is due is open; a need for the case that it is, or is not, is settled."""
    (edition,) = ISLAND.requirements["obtain-approval"].editions
    told = {"vehicle__built": "1995/1997"}
    assert edition.when is not None and plan(**told).step("obtain-approval").perhaps
    either = AnyOf((edition.when, NoneOf((edition.when,))))

    found = plan(ruleset=with_needs("register", "invoice", when=either), **told)

    (missing,) = (one for one in found.step("register").missing if one.evidence == "invoice")
    assert not missing.perhaps


def test_a_circle_is_found_in_the_rules_and_named() -> None:
    assert order_circle(ISLAND, ON) == ()
    ruleset = with_needs("clear-customs", "registration-document")
    found = order_circle(ruleset, ON)
    assert found[0] == found[-1]
    assert set(found) == {"clear-customs", "notify-arrival", "register"}
    stuck = plan(ruleset=ruleset)
    assert set(stuck.circles[0]) >= set(found)
    assert stuck.step("clear-customs").state == StepState.STUCK
    text = "\n".join(plan_lines(assessed(ruleset=ruleset)))
    assert "These steps wait for each other:" in text


def test_a_circle_through_a_condition_is_only_a_warning() -> None:
    when = ISLAND.requirements["register"].latest.needs[2].when
    ruleset = with_needs("clear-customs", "registration-document", when=when)
    assert order_circle(ruleset, ON) == ()
    assert order_circle(ruleset, ON, conditional=True)


graphs = st.dictionaries(st.sampled_from("abcdefgh"),
                         st.lists(st.sampled_from("abcdefgh"), max_size=4), max_size=8)


@given(graphs)
def test_networkx_agrees_on_whether_there_is_a_circle(waits_for: dict[str, list[str]]) -> None:
    graph = networkx.DiGraph(
        (name, other) for name, others in waits_for.items() for other in others)
    found = circle(waits_for)
    assert bool(found) == (not networkx.is_directed_acyclic_graph(graph))
    assert all(graph.has_edge(first, second)
               for first, second in pairwise(found))


# ------------------------------------------------------------------ days


@st.composite
def tasks(draw: st.DrawFn) -> list[Task]:
    count = draw(st.integers(1, 9))
    found = []
    for at in range(count):
        least = draw(st.integers(0, 20))
        most = least + draw(st.integers(0, 20))
        needs = draw(st.lists(st.integers(0, at - 1), max_size=3, unique=True)) if at else []
        found.append(Task(str(at), tuple(map(str, needs)), Duration(
            Period(least, "days"), Period(most, "days")), ON))
    return found


@given(tasks())
def test_networkx_agrees_on_the_critical_path(drawn: list[Task]) -> None:
    """The longest path in a graph whose edges carry the length of the task they leave."""
    found = schedule(drawn)
    for pick, end in ((lambda t: t.least.count, lambda d: d.first),
                      (lambda t: t.most.count, lambda d: d.last)):
        graph = networkx.DiGraph()
        for task in drawn:
            graph.add_edge(task.name, "end", length=pick(task.takes))
            for needed in task.needs:
                length = pick(found.tasks[needed].takes)
                graph.add_edge(needed, task.name, length=length)
        length = networkx.dag_longest_path_length(graph, weight="length")
        assert max(end(days) for days in found.finish.values()) == ON + timedelta(days=length)
    path = found.path()
    assert sum(found.tasks[name].takes.most.count for name in path) == length  # type: ignore[union-attr]
    assert all(found.spare[name] == 0 for name in path)
    assert all(first in found.tasks[second].needs
               for first, second in pairwise(path))


@given(tasks(), st.data())
def test_a_task_may_slip_by_what_it_has_to_spare_and_no_more(
    drawn: list[Task], data: st.DataObject
) -> None:
    found = schedule(drawn)
    at = data.draw(st.integers(0, len(drawn) - 1))
    spare = found.spare[drawn[at].name]
    for slip, moves in ((spare, False), (spare + 1, True)):
        later = found.start[drawn[at].name].last + timedelta(days=slip)
        slipped = [replace(task, not_before=later) if task is drawn[at] else task for task in drawn]
        assert (schedule(slipped).end != found.end) == moves


def test_no_step_starts_before_the_event_its_window_runs_from() -> None:
    start = plan(arrival__date="2026-05-01").step("notify-arrival").start
    assert start is not None and start.first == date(2026, 5, 1)


def test_a_deadline_that_cannot_be_met_is_said() -> None:
    found = plan(qa__engine_as_recorded="no", on=date(2026, 5, 20))
    step = found.step("register")
    assert step.hopeless and step.margin is not None and step.margin < 0


def test_a_length_nobody_states_counts_no_time_and_is_marked() -> None:
    found = plan()
    assert found.step("clear-customs").duration_kind == "common practice"
    assert found.step("prove-age").duration_kind == ""
    assert found.finish is not None and found.finish.or_later


# ------------------------------------------------------------------ what is done


def test_a_done_step_is_done_and_gives_its_papers() -> None:
    found = plan(done=({"requirement": "clear-customs", "on": "2026-03-05"},))
    assert found.step("clear-customs").state == StepState.DONE
    assert found.step("notify-arrival").state == StepState.READY


def test_a_paper_that_a_step_gives_shows_that_it_is_done() -> None:
    found = assessed(papers=(paper("customs-paper", dated="2026-03-04", reference="X1"),))
    met = found.finding("clear-customs").met
    assert met is not None and (met.on, met.reference) == (date(2026, 3, 4), "X1")
    assert found.plan.step("clear-customs").state == StepState.DONE


def test_the_state_on_an_earlier_day_can_be_asked_for() -> None:
    done = ({"requirement": "clear-customs", "on": "2026-03-05"},)
    assert plan(done=done, on=date(2026, 3, 4)).step("clear-customs").state != StepState.DONE
    assert plan(done=done, on=date(2026, 3, 5)).step("clear-customs").state == StepState.DONE


def test_an_earlier_change_does_not_meet_the_duty_a_new_one_wakes() -> None:
    done = ({"requirement": "notify-engine-change", "on": "2025-01-10"},)
    found = assessed(done=done, change__engine="2026-03-09")
    assert found.finding("notify-engine-change").met is None


def test_a_paper_does_not_meet_a_duty_whose_event_has_not_happened() -> None:
    found = assessed(papers=(paper("changed-document", dated="2026-03-01"),))
    assert found.finding("notify-engine-change").met is None


names = st.sampled_from(sorted(ISLAND.requirements))


@settings(max_examples=60, deadline=None)
@given(st.lists(names, unique=True), st.dates(date(2026, 1, 1), date(2027, 1, 1)))
def test_done_steps_never_become_ready_again(done: list[str], on: date) -> None:
    entries = tuple({"requirement": name, "on": "2026-01-01"} for name in done)
    found = plan(on=on, done=entries)
    assert {step.requirement for step in found.in_state(StepState.DONE)} == set(done)
    assert len({step.requirement for step in found.steps}) == len(found.steps)


# ------------------------------------------------------------------ ways


def test_ways_stand_side_by_side_and_the_best_are_named() -> None:
    evidence = dict(ISLAND.evidence)
    evidence["old-document"] = History("old-document", tuple(
        replace(edition, from_outside=False) for edition in evidence["old-document"].editions))
    found = plan(ruleset=replace(ISLAND, evidence=evidence, digest="two ways"))
    (choice,) = found.choices
    assert [way.papers for way in choice.ways] == [("maker-extract",), ("club-letter",)]
    assert choice.fastest == choice.cheapest == choice.chosen == 1
    extract, letter = choice.ways
    assert (extract.cost.most, letter.cost.most) == (115, 80)  # type: ignore[union-attr]
    assert extract.finish.last == ON + timedelta(weeks=8)  # type: ignore[union-attr]
    assert letter.finish.last == ON + timedelta(weeks=3)  # type: ignore[union-attr]
    assert letter.weakest == "common practice"


def test_a_way_is_called_fastest_or_cheapest_only_where_the_ways_differ() -> None:
    def untimed(edition: Evidence) -> Evidence:
        return replace(edition, takes=None, charges=())

    assert "(taken here, fastest and cheapest)" in "\n".join(plan_lines(assessed()))
    evidence = {name: History(name, tuple(map(untimed, history.editions)))
                for name, history in ISLAND.evidence.items()}
    alike = "\n".join(plan_lines(assessed(
        ruleset=replace(ISLAND, evidence=evidence, digest="alike"))))
    assert "(taken here)" in alike and "fastest" not in alike


def test_a_held_paper_leaves_nothing_to_choose() -> None:
    assert plan(papers=(paper("old-document"),)).choices == ()


def test_beyond_the_bound_the_plan_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(choices, "MOST_COMBINATIONS", 1)
    found = assessed()
    assert not found.plan.exact
    assert "too many combinations" in "\n".join(plan_lines(found))


# ------------------------------------------------------------------ in words


def test_the_checklist_says_what_now_by_when_and_what_waits_for_what() -> None:
    text = "\n".join(plan_lines(assessed(papers=(paper("invoice"),))))
    assert text.index("Ready now") < text.index("[ ] Clear customs")
    assert "[.] Tell the harbour office of the arrival" in text
    assert "by    15 March 2026, 5 days left" in text
    assert "needs Customs paper, from: Clear customs" in text
    assert "How long things take rests on: common practice" in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_json_fits_its_published_schema() -> None:
    root = Path(__file__).parent.parent
    schema = json.loads((root / "schemas" / "plan.schema.json").read_text("utf-8"))
    for facts in ({}, {"vehicle__built": "1995/1997"}, {"change__engine": "2026-03-09"}):
        found = assessed(done=({"requirement": "clear-customs", "on": "2026-03-05"},), **facts)
        Draft202012Validator(schema).validate(plan_document(found))
