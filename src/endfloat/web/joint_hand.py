"""What a person has in hand at a joint: the gauge with range and due date, an adapter, and the clamp load to expect."""

from __future__ import annotations

from dataclasses import dataclass, field

from endfloat.inspection.gauges import Gauge
from endfloat.job.events import BoltPulled, BoltSetFitted
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind
from endfloat.workshop.clamp_words import ClampWords, expected, seen_question, sort_lubrication, window_after
from endfloat.workshop.tightening import JointView
from endfloat.workshop.wrench import NO_ADAPTER, Adapter, gauge_words, past_due, set_through


@dataclass(frozen=True, slots=True)
class Hand:
    """Gauges in words with range and due date, those past it, the adapter and the setting for it, or what is wrong."""

    told: dict[str, str] = field(default_factory=dict)
    overdue: tuple[str, ...] = ()
    reason: str = ""
    adapter: Adapter = NO_ADAPTER
    setting: str = ""
    wrong: str = ""


NOTHING_IN_HAND = Hand()


def hand_of(
    seen: JointView,
    register: dict[str, Gauge],
    amount: Typed | None,
    gauges: list[str],
    now: str,
    typed: Adapter | None,
) -> Hand:
    """What is known of the gauges that fit; an adapter stays on from pull to pass until another is typed, or none."""
    last = seen.last_pull
    kept = Adapter(last.length, last.offset, last.askew) if last else NO_ADAPTER
    adapter = kept if typed is None else typed
    told = {name: gauge_words(name, register) for name in gauges}
    overdue = tuple(name for name in gauges if past_due(register[name], now))
    reason = last.in_spite if last else ""
    if amount is None or amount.unit.kind is not Kind.TORQUE or not adapter.on:
        return Hand(told, overdue, reason)
    through = set_through(amount, adapter, seen.joint.title)
    if isinstance(through, Problem):
        return Hand(told, overdue, reason, adapter, wrong=through.text())
    return Hand(told, overdue, reason, through[0], through[1].text)


def expected_now(seen: JointView, register: dict[str, Gauge], number: int, bolt: str, gauge: str) -> ClampWords:
    """The clamp load to expect of a bolt after a pass, with the gauges used at this joint and the one in hand."""
    return expected(
        seen.joint,
        number,
        bolt,
        lubrication=sort_lubrication(seen.joint, bolt, stated_now(seen)),
        register=register,
        gauges=(*gauges_used(seen), gauge),
    )


def stated_now(seen: JointView) -> str:
    """What was said of thread and head when the present set went in."""
    fitted = (each for each in reversed(seen.recorded) if isinstance(each, BoltSetFitted))
    return next((each.lubrication for each in fitted), "")


def gauges_used(seen: JointView) -> tuple[str, ...]:
    """The gauges of all pulls at this joint, in their order."""
    return tuple(dict.fromkeys(each.gauge for each in seen.recorded if isinstance(each, BoltPulled)))


def question_about(seen: JointView, register: dict[str, Gauge], pulled: BoltPulled) -> str:
    """A question where the torque seen at the end of an angle lies outside what is expected; else nothing."""
    lubrication = sort_lubrication(seen.joint, pulled.bolt, stated_now(seen))
    window = window_after(
        seen.joint,
        pulled.pass_number,
        pulled.bolt,
        lubrication=lubrication,
        register=register,
        gauges=gauges_used(seen),
    )
    return seen_question(window, pulled.seen)
