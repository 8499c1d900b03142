"""What a person has in hand at a joint: the gauge with range and due date, an adapter, and the clamp load to expect."""

from __future__ import annotations

from dataclasses import dataclass, field

from endfloat.inspection.gauges import Gauge
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind
from endfloat.workshop.tightening import JointView
from endfloat.workshop.wrench import NO_ADAPTER, Adapter, gauge_words, out_of_range, past_due, set_through


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
    gauge: str,
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
    short = out_of_range(gauge, register[gauge], through[1], seen.joint.title) if gauge in register else None
    return Hand(told, overdue, reason, through[0], through[1].text, short.text() if short else "")
