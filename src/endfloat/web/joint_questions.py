"""What a joint asks besides its pulls: a number still to look up, and a check between two passes."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.assembly.pull_rules import blanks_of
from endfloat.assembly.tightening import APART, next_check
from endfloat.engine.joints import Joint
from endfloat.job.joint_events import AmountLookedUp, JointChecked, LookedUp, SequenceLookedUp
from endfloat.job.state import State
from endfloat.workshop.check_joint import gauges_for, unit_shown
from endfloat.workshop.pull_bolt import gauges_of
from endfloat.workshop.tightening import JointView


@dataclass(frozen=True, slots=True)
class Blank:
    """A number still to look up: of which pass (0: the joint or a bolt apart), for what, and on which page if named."""

    what: str
    words: str
    pass_number: int
    sort: str
    bolt: str
    page: int | None
    bolts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """A check as asked now: its name and place, the question, the limit with its page, and the gauges that fit."""

    name: str
    place: str
    asks: str
    reads: str
    limit: str
    page: str
    unit: str
    gauges: tuple[str, ...]
    tries: int
    close: str
    blank: bool


def blanks_now(joint: Joint, number: int, bolt: str) -> tuple[Blank, ...]:
    """What has to be looked up before a pull, the order of the bolts first."""
    found: list[Blank] = []
    for what, page in blanks_of(joint, number, bolt):
        if what == "amount" and number == APART:
            fastener = joint.fastener(bolt)
            found.append(Blank("amount", f"bolt {bolt}", APART, fastener.bolt if fastener else "", bolt, page))
        elif what == "amount":
            found += [
                Blank("amount", _sort_words(joint, number, sort), number, sort, "", page)
                for sort in joint.sorts_in(number)
                if joint.amount_for(number, sort) is None
            ]
        else:
            own = what == "sequence of the pass"
            every = tuple(each.number for each in joint.fasteners if each.apart is None)
            bolts = joint.covered(number) if own else every
            words = f"the order of pass {number}" if own else "the order of the bolts"
            found.append(Blank("sequence", words, number if own else APART, "", "", page, bolts))
    return tuple(found)


def question_now(seen: JointView, state: State) -> Question | None:
    """The check that is due; None when none is."""
    due = next_check(seen.joint, seen.progress)
    if due is None or not seen.progress.fitted:
        return None
    name, place = due
    check = seen.joint.checks[name]
    told = [event for event in seen.recorded if isinstance(event, JointChecked)]
    last = next((each for each in reversed(told) if (each.check, each.place) == due), None)
    close = ""
    if last is not None and seen.progress.outcome(name, place) == "close":
        close = f"{last.text} with {last.gauge} is too close to {check.limit} to call: it can be off by {last.within}."
    return Question(
        name,
        place,
        check.asks,
        check.reads.value if check.reads else "",
        check.limit,
        f"page {check.page}" if check.page else "the description names no page",
        unit_shown(check),
        tuple(gauges_for(check, gauges_of(state))),
        len(told),
        close,
        check.blank,
    )


def page_told(seen: JointView, number: int, bolt: str) -> str:
    """The page a pull goes by; a number typed at the bench says so and who typed it."""
    told = looked_up(seen, number, bolt)
    amount = next((each for each in reversed(told) if isinstance(each, AmountLookedUp)), None)
    if amount is not None:
        return f"page {amount.page}, typed at the bench by {amount.by}"
    fastener = seen.joint.fastener(bolt)
    apart = fastener.apart if fastener else None
    page = seen.joint.passes[number - 1].page if number else apart.page if apart else None
    words = f"page {page}" if page else "the description names no page"
    order = next((each for each in reversed(told) if isinstance(each, SequenceLookedUp)), None)
    return f"{words}; order from page {order.page}, typed at the bench by {order.by}" if order else words


def looked_up(seen: JointView, number: int, bolt: str) -> list[LookedUp]:
    """What was typed at the bench that a pull goes by."""
    fastener = seen.joint.fastener(bolt)
    sort = fastener.bolt if fastener else ""
    return [
        event
        for event in seen.recorded
        if (isinstance(event, SequenceLookedUp) and number and event.pass_number in (APART, number))
        or (
            isinstance(event, AmountLookedUp)
            and (event.pass_number, event.sort) == (number, sort)
            and event.bolt in ("", bolt)
        )
    ]


def _sort_words(joint: Joint, number: int, sort: str) -> str:
    words = f"pass {number}"
    return words if len(joint.bolts) == 1 else f"{words}, {sort.replace('_', ' ')}"
