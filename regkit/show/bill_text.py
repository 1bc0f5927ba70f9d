"""Bills as plain text: one a route, line by line, with reason and source."""

from __future__ import annotations

from collections.abc import Iterator

from regkit.language import Phrase, Speaker, joined, phrase, speaker
from regkit.model.assessment import Outcome
from regkit.model.bill import Amount, Bill, Line
from regkit.show.lines import WIDTH, hanging, heading, leading, wrapped
from regkit.show.paper_words import some

OPENNESS = {
    Outcome.YES: "Open to this vehicle: {why}",
    Outcome.UNDECIDED: "Whether it is open cannot be told yet; reckoned as if it were: {why}",
    Outcome.NO: "Not open to this vehicle: {why}",
}


def bill_lines(bills: tuple[Bill, ...], language: str = "en") -> Iterator[str]:
    """Yield the lines of all bills."""
    speak = speaker(language)
    for bill in bills:
        yield from _bill(bill, speak)
    yield from heading(speak.say(phrase("Bear in mind")))
    for says in cautions():
        yield from hanging("-", 2, speak.say(says))


def cost_lines(bills: tuple[Bill, ...], speak: Speaker) -> Iterator[str]:
    """Yield the total of each route that is, or may be, open; one line each."""
    shown = [bill for bill in bills if bill.totals and (bill.as_told or bill.open != Outcome.NO)]
    if shown:
        yield from heading(speak.say(phrase("What it costs, by the charges this ruleset states")))
    for bill in shown:
        title = bill.title if bill.title is not None else phrase("As the case is told")
        template = "{title}" if bill.open == Outcome.YES else "{title}, if it is open"
        for amount in bill.totals:
            yield from _two_columns(f"- {speak.say(phrase(template, title=title))}",
                                    phrase("{amount}", amount=amount), speak)


def say_openness(bill: Bill) -> Phrase:
    """Say whether a route is open to the vehicle, and why."""
    return phrase(OPENNESS[bill.open], why=bill.why or "")


def cautions() -> Iterator[Phrase]:
    """Yield what holds for every bill."""
    yield phrase("Amounts in brackets are not paid; others are reckoned from them.")
    yield phrase("Only charges that the ruleset states are counted; see what it does not cover.")
    yield phrase("The authority sets what is due. An amount here is no assessment of tax.")


def _bill(bill: Bill, speak: Speaker) -> Iterator[str]:
    title = bill.title if bill.title is not None else phrase("As the case is told")
    yield from heading(speak.say(title))
    if bill.as_told and bill.title is not None:
        yield from wrapped(speak.say(phrase("This is what the case tells.")), "")
    if bill.why is not None:
        yield from wrapped(speak.say(say_openness(bill)), "")
    for line in bill.lines:
        yield from _line(line, speak)
    if bill.open != Outcome.NO or bill.as_told:
        yield from _total(bill, speak)


def _line(line: Line, speak: Speaker) -> Iterator[str]:
    title = speak.say(phrase("{title}", title=line.title) if line.certain
                      else phrase("{title}, perhaps", title=line.title))
    mark = " " if line.payable else "("
    yield from _two_columns(f"{mark} {title}", say_amount(line), speak,
                            "" if line.payable else ")")
    for lead, says in line_details(line):
        yield from leading(lead, speak.say(says), speak)


def say_amount(line: Line) -> Phrase:
    """Return the amount of a line, or the fact or rate it needs where nothing can be said of it."""
    amount = line.amount
    wanted = [need for template in ("{label}", "a rate from {one} to {to}")
              for need in line.needs if need.template == template]
    if amount.most is None and not amount.least and wanted:
        return phrase("needs {fact}", fact=wanted[0])
    return phrase("{amount}", amount=amount)


def line_details(line: Line) -> Iterator[tuple[str, Phrase]]:
    """Yield lead and words for what is to be said of a line."""
    for at, how in enumerate(line.how):
        yield "or" if at else "how", how
    if line.because is not None:
        yield "why", line.because
    if line.needs:
        yield "needs", some(line.needs)
    if line.due_if and line.payable:
        yield "if", phrase("whether it is due depends on {facts}",
                           facts=some(line.due_if))
    if line.rounding is not None:
        yield "round", line.rounding
    if line.paid_to is not None:
        yield "to", phrase("{authority}, for [{requirement}]", authority=line.paid_to,
                           requirement=line.requirement)
    yield "under", joined(
        *(phrase("{id} ({kind})", id=source.id, kind=phrase(source.kind))
          for source in line.sources), by=", ")


def _total(bill: Bill, speak: Speaker) -> Iterator[str]:
    yield f"{'':10}{'':-<{WIDTH - 10}}"
    for amount in bill.totals or ():
        yield from _two_columns(f"  {speak.say(phrase('Total'))}", phrase(
            "{amount}", amount=_at_least_nothing(amount)), speak)
    if not bill.totals:
        yield from _two_columns(f"  {speak.say(phrase('Total'))}", phrase("nothing"), speak)


def _at_least_nothing(amount: Amount) -> Amount | Phrase:
    return amount if amount.most is not None or amount.least else phrase("not known")


def _two_columns(left: str, right: Phrase, speak: Speaker, close: str = "") -> Iterator[str]:
    """Yield a text to the left and an amount to the right, on two lines if they are too long."""
    amount = speak.say(right) + close
    space = WIDTH - len(left) - len(amount)
    if space >= 2:
        yield f"{left}{' ' * space}{amount}"
    else:
        yield from hanging(left[:2].rstrip() or " ", 2, left[2:])
        yield amount.rjust(WIDTH)
