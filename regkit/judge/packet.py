"""The packet check: which paper meets which need, what is missing and where to get it.

Three things may be uncertain of a need: whether it applies, whether a paper meets it, and which of
several parts count. Each check therefore keeps the *set* of what it may come to: it drops out, it
is met, it is not met. A need is in order only if every possibility is, and missing only if none is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from regkit.conditions.truth import NO, UNDECIDED, YES, Truth
from regkit.judge.crosscheck import paper_trouble
from regkit.judge.deciding import hangs_on
from regkit.judge.exact import Exact
from regkit.judge.freshness import evidence_on
from regkit.judge.inspection import inspection
from regkit.judge.law import Law
from regkit.judge.offered import offered_for
from regkit.language import Phrase, phrase
from regkit.model.assessment import Finding
from regkit.model.packet import NeedCheck, NeedState, Packet
from regkit.model.ruleset import Evidence, Need, Requirement

DROPS, MET, UNMET = "drops out", "met", "not met"


def packet(law: Law, exact: Exact, finding: Finding, sent: date) -> Packet:
    """Return the packet of one requirement, to be sent on a day.

    Args:
        exact: the case, its definitions settled.
        sent: the day it is sent; papers must still be fresh enough then.
    """
    case, requirement = exact.view.case, finding.requirement
    return Packet(
        finding=finding,
        authority=law.ruleset.authorities[requirement.authority],
        on=law.day.on,
        sent=sent,
        needs=need_checks(law, exact, requirement, sent),
        trouble=paper_trouble(law, case),
        inspection=inspection(law, case, requirement),
    )


def need_checks(
    law: Law, exact: Exact, requirement: Requirement, sent: date
) -> tuple[NeedCheck, ...]:
    """Return what the case has for each need of a requirement, and what it lacks."""
    checker = _Checker(law, exact, sent)
    return tuple(checker.check(need)[0] for need in requirement.needs)


class _Checker:
    """Checks needs against what one case holds on the sending day."""

    def __init__(self, law: Law, exact: Exact, sent: date) -> None:
        self.law = law
        self.exact = exact
        self.view = exact.view
        self.sent = sent

    def check(self, need: Need) -> tuple[NeedCheck, frozenset[str]]:
        """Return the check of a need, and all it may come to."""
        truth = YES if need.when is None else self.exact.truth(need.when)
        made, inner = self._leaf(need) if need.evidence else self._group(need)
        possible = {NO: frozenset({DROPS}), YES: inner, UNDECIDED: inner | {DROPS}}[truth]
        state = _state(possible, bool(made.offered) or any(
            part.state == NeedState.NOT_IN_ORDER for part in made.parts))
        return NeedCheck(
            need, state, made.evidence, made.offered,
            made.where if state not in (NeedState.IN_ORDER, NeedState.NOT_NEEDED) else None,
            made.given_by, self._hangs_on(need, truth, state), made.parts,
        ), possible

    def _hangs_on(self, need: Need, truth: Truth, state: NeedState) -> tuple[Phrase, ...]:
        if truth != UNDECIDED or need.when is None or state != NeedState.OPEN:
            return ()
        return tuple(dict.fromkeys(hangs_on(need.when, self.law, self.view)))

    def _leaf(self, need: Need) -> tuple[NeedCheck, frozenset[str]]:
        evidence = evidence_on(self.law.ruleset, need.evidence, self.law.day.on)
        offered = offered_for(self.law.ruleset, self.view, need, self.sent)
        if any(one.in_order for one in offered):
            possible = frozenset({MET})
        elif any(not fault.kind.certain for one in offered for fault in one.faults) and any(
            not any(fault.kind.certain for fault in one.faults) for one in offered
        ):
            possible = frozenset({MET, UNMET})
        else:
            possible = frozenset({UNMET})
        giver = self._giver(evidence.id)
        check = NeedCheck(need, NeedState.OPEN, evidence, offered,
                          self._where(evidence, giver), giver)
        return check, possible

    def _group(self, need: Need) -> tuple[NeedCheck, frozenset[str]]:
        checked = [self.check(part) for part in need.parts]
        check = NeedCheck(need, NeedState.OPEN, parts=tuple(part for part, _ in checked))
        return check, _combined((possible for _, possible in checked), need.count)

    def _giver(self, evidence: str) -> str:
        """Return the requirement in force that gives a paper, one that applies before others."""
        givers = [
            (name, self.law.requirements[name])
            for name, history in self.law.ruleset.requirements.items()
            if evidence in self.law.edition(history, self.view.case).gives
        ]
        for name, condition in givers:
            if condition is not None and self.exact.truth(condition) != NO:
                return name
        return ""

    def _where(self, evidence: Evidence, giver: str) -> Phrase:
        if giver:
            edition = self.law.edition(self.law.ruleset.requirements[giver], self.view.case)
            return phrase("the step '{title}' [{id}] gives it", title=edition.title, id=giver)
        if evidence.issued_by is None:
            return phrase("from you; the ruleset names nobody else who issues it")
        authority = self.law.ruleset.authorities.get(str(evidence.issued_by))
        if authority is None:
            return phrase("from {issuer}", issuer=evidence.issued_by)
        return phrase("from {title}, {address}" if authority.address else "from {title}",
                      title=authority.title, address=authority.address)


def _combined(parts: Iterable[frozenset[str]], count: int) -> frozenset[str]:
    """Return all that 'so many of these' may come to, from all that its parts may come to.

    Parts that drop out are no longer asked for; of fewer than `count`, all are needed.
    """
    reached = {(0, 0)}
    for possible in parts:
        reached = {step for at in reached for step in _steps(at, possible)}
    return frozenset(
        DROPS if not asked else MET if met >= min(count, asked) else UNMET
        for asked, met in reached
    )


def _steps(at: tuple[int, int], possible: frozenset[str]) -> Iterator[tuple[int, int]]:
    asked, met = at
    ways: Mapping[str, tuple[int, int]] = {
        DROPS: at, MET: (asked + 1, met + 1), UNMET: (asked + 1, met)}
    return (ways[way] for way in possible)


def _state(possible: frozenset[str], something_there: bool) -> NeedState:
    if possible == {DROPS}:
        return NeedState.NOT_NEEDED
    if UNMET not in possible:
        return NeedState.IN_ORDER
    if possible == {UNMET}:
        return NeedState.NOT_IN_ORDER if something_there else NeedState.MISSING
    return NeedState.OPEN
