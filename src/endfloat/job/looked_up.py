"""Numbers that the description left blank and a person typed at the bench: how they count, and when not."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.tightening import APART, Progress
from endfloat.engine.joints import Fastener, Joint, listed
from endfloat.engine.passes import Pass
from endfloat.job.joint_events import AmountLookedUp, LookedUp, SequenceLookedUp
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind


def as_known(joint: Joint, name: str, events: Iterable[object]) -> Joint:
    """The joint with its blanks filled by what was looked up; a number of the description is never replaced."""
    found = [event for event in events if isinstance(event, LookedUp) and event.joint == name]
    if not found:
        return joint
    amounts = {(e.pass_number, e.sort, e.bolt): e for e in found if isinstance(e, AmountLookedUp)}
    orders = {e.pass_number: e for e in found if isinstance(e, SequenceLookedUp)}
    passes = [_pass(joint, number, amounts, orders) for number in range(1, len(joint.passes) + 1)]
    fasteners = [_fastener(each, amounts) for each in joint.fasteners]
    whole = orders.get(APART)
    sequence = joint.sequence or (list(whole.sequence) if whole else None)
    return joint.model_copy(update={"passes": passes, "fasteners": fasteners, "sequence": sequence})


def looking_up_refused(joint: Joint, progress: Progress, event: LookedUp) -> Problem | None:
    """Why a number may not be entered at the bench; `joint` is as described, without what was looked up."""
    if not 0 <= event.pass_number <= len(joint.passes):
        return _no(joint, "unknown_pass", f"pass {event.pass_number}", "a pass of this joint", "Look again.")
    if event.page < 1:
        return _no(joint, "no_page", "no page", "the page of the service book it stands on", "Type the page.")
    wrong = _amount_wrong(joint, event) if isinstance(event, AmountLookedUp) else _order_wrong(joint, event)
    if wrong:
        return wrong
    begun = [number for number, bolt in progress.pulled if _concerns(joint, event, number, bolt)]
    if begun:
        remedy = "What was pulled by the earlier number must be taken back first."
        return _no(joint, "already_pulled_by", "bolts pulled by it already", "a pass not yet begun", remedy)
    return None


def _concerns(joint: Joint, event: LookedUp, number: int, bolt: str) -> bool:
    if isinstance(event, SequenceLookedUp):
        return number == event.pass_number or (event.pass_number == APART and number > APART)
    if event.pass_number == APART:
        return (number, bolt) == (APART, event.bolt)
    fastener = joint.fastener(bolt)
    return number == event.pass_number and fastener is not None and fastener.bolt == event.sort


def _amount_wrong(joint: Joint, event: AmountLookedUp) -> Problem | None:
    if event.pass_number == APART:
        fastener = joint.fastener(event.bolt)
        blank = fastener is not None and fastener.apart is not None and fastener.apart.amount is None
    else:
        sorts = joint.sorts_in(event.pass_number)
        blank = event.sort in sorts and joint.amount_for(event.pass_number, event.sort) is None
    if not blank:
        return _not_blank(joint)
    read = read_typed(event.amount, kind=None, place=joint.title)
    if isinstance(read, Problem):
        return read
    if read.unit.kind not in (Kind.TORQUE, Kind.ANGLE):
        expected = "a torque or an angle with its unit, such as N·m or °"
        return _no(joint, "wrong_unit", f"`{event.amount}`", expected, "Type it as your service book has it.")
    if read.decimal <= 0:
        return _no(joint, "not_above_nought", read.text, "more than nought", "Correct the slip.")
    return None


def _order_wrong(joint: Joint, event: SequenceLookedUp) -> Problem | None:
    if event.pass_number == APART:
        wanted = tuple(each.number for each in joint.fasteners if each.apart is None)
        blank = not joint.sequence
    else:
        wanted = joint.covered(event.pass_number)
        blank = joint.passes[event.pass_number - 1].sequence is None
    if not blank:
        return _not_blank(joint)
    strange = [bolt for bolt in event.sequence if bolt not in wanted]
    twice = sorted({bolt for bolt in event.sequence if event.sequence.count(bolt) > 1})
    missed = [bolt for bolt in wanted if bolt not in event.sequence]
    expected = f"all {len(wanted)} bolts, each once: {', '.join(wanted)}"
    for bolts, code, words in (
        (strange, "unknown_bolt", "which this pass does not have"),
        (twice, "sequence_repeats", "more than once"),
        (missed, "sequence_misses", "left out"),
    ):
        if bolts:
            return _no(joint, code, f"{listed(bolts)}, {words}", expected, "Read the sequence again.")
    return None


def _not_blank(joint: Joint) -> Problem:
    remedy = "To change a number of the description, correct its file and read it again."
    return _no(joint, "not_blank", "a number that the description holds", "one that it left blank", remedy)


def _no(joint: Joint, code: str, found: str, expected: str, remedy: str) -> Problem:
    return Problem(code, joint.title, found, expected, remedy)


def _typed(text: str) -> Typed:
    read = read_typed(text, kind=None, place="")
    assert isinstance(read, Typed), "the rules refuse what cannot be read"
    return read


def _pass(
    joint: Joint,
    number: int,
    amounts: dict[tuple[int, str, str], AmountLookedUp],
    orders: dict[int, SequenceLookedUp],
) -> Pass:
    described = joint.passes[number - 1]
    filled = {
        sort: _typed(amounts[number, sort, ""].amount)
        for sort in joint.sorts_in(number)
        if joint.amount_for(number, sort) is None and (number, sort, "") in amounts
    }
    order = described.sequence
    if order is None and number in orders:
        order = list(orders[number].sequence)
    return described.model_copy(update={"amounts": {**described.amounts, **filled}, "sequence": order})


def _fastener(fastener: Fastener, amounts: dict[tuple[int, str, str], AmountLookedUp]) -> Fastener:
    told = amounts.get((APART, fastener.bolt, fastener.number))
    if fastener.apart is None or fastener.apart.amount is not None or told is None:
        return fastener
    return fastener.model_copy(update={"apart": fastener.apart.model_copy(update={"amount": _typed(told.amount)})})
