"""Pull one bolt in one pass; sending it twice is harmless."""

from __future__ import annotations

from dataclasses import dataclass, replace

from endfloat.assembly.tightening import amount_of, left_in_pass
from endfloat.engine.joints import Joint
from endfloat.inspection.gauges import WHEEL, Gauge, read_gauges
from endfloat.job.events import BoltPulled, Event, PassCompleted
from endfloat.job.joint_device import holder
from endfloat.job.joint_events import JointTakenUp
from endfloat.job.state import State, refusal
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view
from endfloat.workshop.wrench import NO_ADAPTER, Adapter, out_of_range, past_due, set_through


@dataclass(frozen=True, slots=True)
class Already:
    """The pull was on the record before it was sent: nothing was written."""

    pulled: BoltPulled


@dataclass(frozen=True, slots=True)
class InHand:
    """What a person pulls with, as typed: the gauge, an adapter on it, the torque seen, and why it is used past due."""

    gauge: str
    adapter: Adapter = NO_ADAPTER
    seen: str = ""
    in_spite: str = ""


def pull_bolt(
    store: Store,
    clock: Clock,
    *,
    key: str,
    joint: str,
    pass_number: int,
    bolt: str,
    gauge: str,
    by: str,
    adapter: Adapter = NO_ADAPTER,
    seen: str = "",
    in_spite: str = "",
    device: str = "",
) -> Already | Problem | None:
    """Record a pull, and the end of its pass when it was the last one; a Problem writes nothing.

    The same pull sent again, or by a second device on the same page, is not counted and told as Already.
    """
    hand = InHand(gauge.strip(), adapter, seen.strip(), in_spite.strip())
    earlier: list[BoltPulled] = []

    def decide(state: State) -> list[Event] | Problem:
        found = joint_view(state, joint)
        if isinstance(found, Problem):
            return found
        before = found.recorded_under(key)
        if isinstance(before, BoltPulled) and (before.pass_number, before.bolt) == (pass_number, bolt):
            earlier.append(before)
            return []
        fitted = found.progress.fitted
        who, now = by.strip(), clock()
        pulled = BoltPulled(key, joint, fitted, pass_number, bolt, hand.gauge, who, now, device=device)
        # Which bolt and pass come first: a gauge for the wrong pass would be the lesser news.
        wrong = refusal(state, pulled)
        if wrong:
            return wrong
        complete = _with_gauge(pulled, found.joint, hand, gauges_of(state))
        if isinstance(complete, Problem):
            return complete
        first = device and holder(state.tightening, joint) is None
        events: list[Event] = [JointTakenUp(f"{key}/device", joint, device, who, now)] if first else []
        events.append(complete)
        if pass_number > 0 and left_in_pass(found.joint, found.progress, pass_number) == (bolt,):
            events.append(PassCompleted(joint, fitted, pass_number))
        return events

    problem = write(store, clock, decide)
    return Already(earlier[-1]) if earlier and problem is None else problem


def gauges_of(state: State) -> dict[str, Gauge]:
    """The register kept in the job; none when it cannot be read."""
    register = read_gauges(state.opened.gauges.encode(), name="gauges.yaml") if state.opened else {}
    return register if isinstance(register, dict) else {}


def fitting_gauges(joint: Joint, pass_number: int, bolt: str, register: dict[str, Gauge]) -> list[str]:
    """The registered gauges that measure what this pull is told in."""
    amount = amount_of(joint, pass_number, bolt)
    return [
        name for name, gauge in register.items() if amount and gauge.kind is amount.unit.kind and gauge.sort != WHEEL
    ]


def _with_gauge(pulled: BoltPulled, joint: Joint, hand: InHand, register: dict[str, Gauge]) -> BoltPulled | Problem:
    """The pull with what was in hand; a Problem when the gauge does not do for it."""
    amount = amount_of(joint, pulled.pass_number, pulled.bolt)
    assert amount is not None, "a pull without its amount is refused"
    wrong = _wrong_gauge(joint, amount, hand.gauge, fitting_gauges(joint, pulled.pass_number, pulled.bolt, register))
    if wrong:
        return wrong
    through = set_through(amount, hand.adapter, joint.title)
    if isinstance(through, Problem):
        return through
    adapter, wanted = through
    seen = _torque_seen(joint, hand.seen)
    if isinstance(seen, Problem):
        return seen
    gauge = register.get(hand.gauge)
    unfit = _unfit(joint, hand, gauge, wanted, pulled.at) if gauge else None
    if unfit:
        return unfit
    setting = wanted.text if adapter.on else ""
    spite = hand.in_spite if gauge and past_due(gauge, pulled.at) else ""
    length, offset, askew = adapter.length, adapter.offset, adapter.askew
    return replace(pulled, length=length, offset=offset, askew=askew, setting=setting, seen=seen, in_spite=spite)


def _torque_seen(joint: Joint, text: str) -> str | Problem:
    if not text:
        return ""
    read = read_typed(text, kind=Kind.TORQUE, place=f"{joint.title}, torque seen", default_unit="N·m")
    return read if isinstance(read, Problem) else read.text


def _unfit(joint: Joint, hand: InHand, gauge: Gauge, wanted: Typed, at: str) -> Problem | None:
    if past_due(gauge, at) and not hand.in_spite:
        found = f"{hand.gauge}, which was due on {gauge.due}"
        remedy = "Take another gauge, or say why it is used all the same; that goes on the record."
        return Problem("past_due", joint.title, found, "a gauge that is not past its date", remedy)
    return out_of_range(hand.gauge, gauge, wanted, joint.title)


def _wrong_gauge(joint: Joint, amount: Typed, gauge: str, fitting: list[str]) -> Problem | None:
    kind = amount.unit.kind.value
    if not gauge:
        return Problem("no_gauge", joint.title, "no gauge", f"a gauge for {kind}", "Name the gauge; it is recorded.")
    # A register without any gauge of the kind must not stop the work: the name as typed is then kept.
    if fitting and gauge not in fitting:
        found = f"`{gauge}`"
        return Problem("wrong_gauge", joint.title, found, f"a gauge for {kind}: {', '.join(fitting)}", "Choose it.")
    return None
