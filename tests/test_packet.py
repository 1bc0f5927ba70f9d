"""Which paper meets which need, what is missing and where to get it, what is wrong with a paper."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import regkit
from regkit.model.packet import FaultKind, NeedCheck, NeedState, Packet
from tests.quillby import ON, RULES, assessed, case, say, wrong

IN_ORDER, NOT_IN_ORDER = NeedState.IN_ORDER, NeedState.NOT_IN_ORDER
MISSING, OPEN, NOT_NEEDED = NeedState.MISSING, NeedState.OPEN, NeedState.NOT_NEEDED

FORM = {"evidence": "form-q", "named": "Wendeline Oakhart"}
INVOICE = {"evidence": "invoice"}
LETTER = {"evidence": "letter-of-mayor"}


def packet(*papers: dict[str, Any], facts: dict[str, Any] | None = None,
           sent: date | None = None, done: Any = (), requirement: str = "register-it") -> Packet:
    return assessed(facts, papers, done).packet(requirement, sent)


def leaf(found: Packet, evidence: str) -> NeedCheck:
    return next(check for need in found.needs for check in need.leaves()
                if check.evidence is not None and check.evidence.id == evidence)


def faults(found: Packet, evidence: str) -> list[FaultKind]:
    return [fault.kind for offered in leaf(found, evidence).offered for fault in offered.faults]


# ------------------------------------------------------------------ all of, any of, so many, if

def test_without_papers_every_need_that_applies_is_missing() -> None:
    """Of five needs one (approval, for young vehicles) does not apply to a vehicle of 1962."""
    states = [check.state for check in packet().needs]

    assert states == [MISSING, MISSING, MISSING, MISSING, NOT_NEEDED]


def test_one_of_several_is_enough_where_any_will_do() -> None:
    assert packet({"evidence": "old-document"}).needs[1].state == IN_ORDER
    assert packet({"evidence": "dating-letter"}).needs[1].state == IN_ORDER


@pytest.mark.parametrize(("held", "state"), [
    ([], MISSING),
    ([LETTER], MISSING),
    ([LETTER, {"evidence": "statement", "named": "Wendeline Oakhart", "dated": "2026-04-01"}],
     IN_ORDER),
])
def test_so_many_of_several(held: list[dict[str, Any]], state: NeedState) -> None:
    """Two of three are asked for."""
    assert packet(*held).needs[2].state == state


def test_of_all_that_are_asked_for_none_may_lack() -> None:
    assert packet(INVOICE).needs[3].state == MISSING
    assert packet(INVOICE, {"evidence": "clearance"}).needs[3].state == IN_ORDER


def test_a_part_whose_condition_does_not_hold_is_not_asked_for() -> None:
    """The clearance is for vehicles from abroad."""
    found = packet(INVOICE, facts={"vehicle.place": "found_here"})

    assert found.needs[3].state == IN_ORDER
    assert leaf(found, "clearance").state == NOT_NEEDED


@pytest.mark.parametrize(("built", "state"), [
    ("2016-04-20", NOT_NEEDED),  # ten years to the day: no longer 'less than ten'
    ("2016-04-21", MISSING),
    ("2016", OPEN),
    (None, OPEN),
])
def test_approval_is_asked_for_only_under_ten_years(built: str | None, state: NeedState) -> None:
    found = packet(facts={"vehicle.built": built})

    assert found.needs[4].state == state
    depends = [say(fact) for fact in found.needs[4].hangs_on]
    assert depends == (["built"] if state == OPEN else [])


def test_a_paper_is_enough_where_it_is_not_known_whether_it_is_needed() -> None:
    found = packet({"evidence": "approval"}, facts={"vehicle.built": None})

    assert found.needs[4].state == IN_ORDER


def test_where_to_get_what_is_missing() -> None:
    """A step gives it, an authority issues it, or someone outside does."""
    found = packet()

    assert say(leaf(found, "clearance").where) == "the step 'Clear it' [clear-it] gives it"
    assert say(leaf(found, "form-q").where) == "from Office of Quillby, https://office.example"
    assert say(leaf(found, "old-document").where) == "from the office abroad"
    assert leaf(packet(FORM), "form-q").where is None


def test_a_step_told_as_done_has_given_its_papers() -> None:
    done = [{"requirement": "clear-it", "on": "2026-04-16"}]

    assert leaf(packet(INVOICE, done=done), "clearance").state == IN_ORDER
    assert [say(o.title) for o in packet(INVOICE, done=done).enclosed] == ["Invoice"]


# ------------------------------------------------------------------ form, age, name, stand-ins

@pytest.mark.parametrize(("form", "state"), [
    ("original", IN_ORDER), ("certified copy", NOT_IN_ORDER), ("copy", NOT_IN_ORDER),
])
def test_a_copy_does_not_serve_where_the_original_is_needed(form: str, state: NeedState) -> None:
    found = packet({"evidence": "old-document", "as": form})

    assert leaf(found, "old-document").state == state
    assert faults(found, "old-document") == ([] if state == IN_ORDER else [FaultKind.FORM])


@pytest.mark.parametrize(("dated", "sent", "kinds"), [
    ("2026-01-20", "2026-04-20", []),                            # three months to the day
    ("2026-01-19", "2026-04-20", [FaultKind.STALE]),
    ("2026-02-10", "2026-05-10", []),
    ("2026-02-09", "2026-05-10", [FaultKind.STALE_WHEN_SENT]),   # fresh today, not when sent
    ("2026-01", "2026-04-20", [FaultKind.UNDATED]),              # some day of January
    (None, "2026-04-20", [FaultKind.UNDATED]),
    ("2026-05-01", "2026-04-25", [FaultKind.NOT_YET_ISSUED]),
    ("2026-05-01", "2026-05-02", []),                            # will be issued before it is sent
])
def test_a_paper_must_be_fresh_on_the_day_it_is_sent(
    dated: str | None, sent: str, kinds: list[FaultKind]
) -> None:
    """A statement may be three months old, counted from its date as `Period` counts."""
    held = {"evidence": "statement", "named": "Wendeline Oakhart"}
    found = packet({**held, **({"dated": dated} if dated else {})}, sent=date.fromisoformat(sent))

    assert faults(found, "statement") == kinds


def test_an_undated_paper_leaves_it_open_and_a_dated_one_settles_it() -> None:
    undated = {"evidence": "statement", "named": "Wendeline Oakhart"}

    assert leaf(packet(undated), "statement").state == OPEN
    assert leaf(packet(undated, {**undated, "dated": "2026-04-01"}), "statement").state == IN_ORDER


@pytest.mark.parametrize(("named", "kinds"), [
    ("Wendeline Oakhart", []),
    ("OAKHART, Wendeline", []),
    ("W. Oakhart", []),
    ("Wendelin Oakharst", [FaultKind.NAMED]),
    ("", [FaultKind.UNNAMED]),
])
def test_a_paper_must_name_the_keeper(named: str, kinds: list[FaultKind]) -> None:
    found = packet({"evidence": "form-q", **({"named": named} if named else {})})

    assert faults(found, "form-q") == kinds


def test_another_paper_may_stand_in_by_its_own_rules() -> None:
    """The extract stands in for the dating letter, as a certified copy or better."""
    certified = packet({"evidence": "extract", "as": "certified copy"})
    copied = packet({"evidence": "extract", "as": "copy"})

    assert leaf(certified, "dating-letter").state == IN_ORDER
    assert leaf(certified, "dating-letter").offered[0].stands_in
    assert leaf(copied, "dating-letter").state == NOT_IN_ORDER


def test_the_paper_that_is_in_order_is_the_one_enclosed() -> None:
    found = packet({"evidence": "old-document", "as": "copy"}, {"evidence": "old-document"})

    assert leaf(found, "old-document").state == IN_ORDER
    enclosed = [offered.paper for offered in found.enclosed if offered.paper is not None]
    assert [paper.form for paper in enclosed] == ["original"]


def test_what_a_paper_must_be_besides_is_a_reminder() -> None:
    offered = leaf(packet({"evidence": "dating-letter"}), "dating-letter").offered[0]

    assert [say(says) for says in offered.reminders] == [
        "language: in the language of Quillby, or with a certified translation"]


def test_a_packet_is_ready_when_all_is_in_order_and_nothing_contradicts() -> None:
    papers = [FORM, {"evidence": "old-document"}, INVOICE, {"evidence": "clearance"}, LETTER,
              {"evidence": "statement", "named": "Wendeline Oakhart", "dated": "2026-04-01"}]
    contradicting = {"evidence": "dating-letter", "shows": {"vehicle.built": "1955"}}

    assert packet(*papers).ready
    assert not packet(*papers[1:]).ready
    assert not packet(*papers, contradicting).ready


def test_papers_cannot_be_sent_before_the_day_of_assessment() -> None:
    with pytest.raises(ValueError, match="cannot be sent on 2026-04-19"):
        packet(sent=date(2026, 4, 19))


# ------------------------------------------------------------------ promises

papers_drawn = st.lists(st.fixed_dictionaries({
    "evidence": st.sampled_from(sorted(RULES.evidence)),
    "as": st.sampled_from(["original", "certified copy", "copy"]),
}, optional={
    "dated": st.sampled_from(["2025-01-01", "2026-04-01", "2026-05-30", "2026"]),
    "named": st.sampled_from(["Wendeline Oakhart", "Someone Else"]),
    "shows": st.dictionaries(
        st.sampled_from(["vehicle.built", "vehicle.first_registered"]),
        st.sampled_from(["1962", "1962-05-17", "2020-01-01", "1955/1963", "unknown"]), max_size=2),
}), max_size=5)
facts_drawn = st.fixed_dictionaries({
    "vehicle.built": st.sampled_from([None, "1962", "2019-06", "2016"]),
    "vehicle.place": st.sampled_from([None, "abroad", "found_here"]),
})


@given(facts_drawn, papers_drawn, st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_the_order_of_papers_never_matters(facts: Any, papers: Any, random: Any) -> None:
    shuffled = list(papers)
    random.shuffle(shuffled)

    one, other = (assessed(facts, held).to_dict() for held in (papers, shuffled))
    for document in (one, other):
        document["case"].pop("papers", None)
    assert one == other


@given(facts_drawn, papers_drawn, papers_drawn.filter(bool))
@settings(max_examples=60, deadline=None)
def test_adding_a_paper_never_creates_a_missing_need(facts: Any, papers: Any, more: Any) -> None:
    """What is missing afterwards was missing, or could not be told, before.

    A paper may settle a fact and with it whether a need applies, so an open need may become a
    missing one; one that was met, or not needed, never does.
    """
    before, after = (packet(*held, facts=facts) for held in (papers, [*papers, more[0]]))
    lacking = (MISSING, NOT_IN_ORDER)

    for earlier, later in zip(before.needs, after.needs, strict=True):
        if later.state in lacking:
            assert earlier.state in (*lacking, OPEN)
        if earlier.state in lacking and "shows" not in more[0]:
            assert later.state in (*lacking, IN_ORDER, OPEN)


@given(papers_drawn, papers_drawn)
@settings(max_examples=40, deadline=None)
def test_papers_that_show_nothing_new_leave_fewer_needs_open(papers: Any, more: Any) -> None:
    """With facts fixed, each further paper can only help."""
    silent = [{key: value for key, value in paper.items() if key != "shows"}
              for paper in [*papers, *more]]
    before, after = packet(*silent[:len(papers)]), packet(*silent)

    for earlier, later in zip(before.needs, after.needs, strict=True):
        if earlier.state in (IN_ORDER, NOT_NEEDED):
            assert later.state == earlier.state


# ------------------------------------------------------------------ bad input

@pytest.mark.parametrize(("paper", "says"), [
    ({"evidence": "old-documnet"}, "the ruleset knows no paper `old-documnet` "
                                   "(did you mean `old-document`?)"),
    ({"evidence": "invoice", "as": "fax"},
     "`as` must be one of original, certified copy, copy, and is \"fax\""),
    ({"evidence": "invoice", "dated": "17 May 1963"}, "`dated` '17 May 1963' is no date"),
    ({"evidence": "invoice", "shows": {"purchase.price": "much"}},
     "`purchase.price` 'much' is no amount"),
    ({"evidence": "invoice", "shows": {"purchase.pirce": "5 XTS"}},
     "the vocabulary has no fact `purchase.pirce` (did you mean `purchase.price`?)"),
    ({"evidence": "invoice", "issuer": "x"}, "unknown key `issuer`"),
])
def test_a_paper_told_wrongly_is_one_clear_sentence(paper: dict[str, Any], says: str) -> None:
    problems = wrong(papers=[paper])

    assert len(problems) == 1
    assert problems[0].startswith(says)


def test_everything_wrong_is_said_at_once() -> None:
    assert len(wrong(papers=[{"evidence": "x"}, {"evidence": "y"}], facts={"a.b": "1"})) == 3


def test_dates_in_the_future_are_said_one_by_one_and_nothing_is_dropped() -> None:
    told = assessed(
        {"vehicle.first_registered": "2027-01-01", "vehicle.built": None},
        [{"evidence": "letter-of-mayor", "dated": "2026-12-24", "reference": "7"}],
        [{"requirement": "clear-it", "on": "2026-12-25"}],
        [{"from": "EUR", "to": "XTS", "rate": 2, "on": "2026-12-26", "source": "a bank"}],
    )

    assert [say(doubt.says) for doubt in told.paper_trouble.doubts] == [
        "'Letter of the mayor' (7) is dated 24 December 2026, after the day of assessment, "
        "20 April 2026; check its date",
        "'Clear it' is told as done on 25 December 2026, after the day of assessment, "
        "20 April 2026",
        "the rate from EUR to XTS is for 26 December 2026, after the day of assessment, "
        "20 April 2026",
        "first registered 1 January 2027 lies after the day of assessment, 20 April 2026",
    ]
    assert len(told.case.papers) == len(told.case.done) == len(told.case.rates) == 1


def test_a_case_with_papers_is_written_as_it_was_read() -> None:
    """The case in an assessment's JSON can be read again and is the same case."""
    told = case(papers=[{"evidence": "dating-letter", "as": "copy", "dated": "1962~",
                         "named": "N", "reference": "R", "language": "fr",
                         "translated": "certified", "shows": {"vehicle.built": "1962"}}],
                done=[{"requirement": "clear-it", "on": "2026-04-16", "reference": "C"}],
                rates=[{"from": "EUR", "to": "XTS", "rate": "0.5", "on": "2026-04-01",
                        "source": "a bank"}])
    document = regkit.assess(told, RULES, ON).to_dict()["case"]

    assert regkit.read_case(document, RULES) == told


def test_great_britain_the_papers_of_the_demo_case() -> None:
    """A missing paper, one stale on the sending date, a copy for an original, contradictions."""
    told = regkit.read_case("docs/cases/gb-papers.yaml")
    found = regkit.assess(told, regkit.load("GB"), date(2026, 4, 20)).packet(
        "apply-for-registration", date(2026, 5, 10))

    assert leaf(found, "exemption-declaration").state == MISSING
    assert faults(found, "address-document") == [FaultKind.STALE_WHEN_SENT]
    assert FaultKind.FORM in faults(found, "foreign-registration-document")
    assert leaf(found, "dating-evidence").state == IN_ORDER
    assert {apart.about for apart in found.trouble.contradictions} == {
        "vehicle.built", "frame-number"}
