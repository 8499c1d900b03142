"""The joints of a job in words for the build record: which bolts, which passes, who and with what."""

from __future__ import annotations

from itertools import groupby

from endfloat.assembly.tightening import FEELS, amount_of, everything_left
from endfloat.engine.joints import Joint, listed
from endfloat.job.events import (
    BoltCondemned,
    BoltPulled,
    BoltSetFitted,
    JointClosed,
    JointEvent,
    JointTakenBack,
    PassCompleted,
)
from endfloat.job.state import State
from endfloat.workshop.tightening import JointView, joint_views


def joints_on_paper(state: State) -> list[dict[str, object]]:
    """Every joint that was begun: its title, what was done in order, and how it stands."""
    return [
        {"title": seen.joint.title, "lines": _lines(seen), "stands": _stands(seen)}
        for seen in joint_views(state).values()
        if seen.recorded
    ]


def _stands(seen: JointView) -> str:
    if seen.progress.closed:
        return f"Closed with bolt set {seen.progress.fitted}."
    left = everything_left(seen.joint, seen.progress)
    return f"Not closed: {'; '.join(left)} not pulled." if left else "Every bolt pulled, not yet closed."


def _lines(seen: JointView) -> list[str]:
    told = [event for event in seen.recorded if not isinstance(event, PassCompleted)]
    lines: list[str] = []
    for pulls, group in groupby(told, key=_like):
        events = list(group)
        if pulls is None:
            lines += [_line(seen.joint, event) for event in events]
            continue
        first = events[0]
        assert isinstance(first, BoltPulled), "only pulls are told together"
        bolts = [event.bolt for event in events if isinstance(event, BoltPulled)]
        lines.append(f"{_amount_words(seen.joint, first)}: {listed(bolts)}. {first.gauge}, {first.by}, {first.at}")
    return lines


def _like(event: JointEvent) -> tuple[str, int, str, str] | None:
    """Pulls of one set in one pass with one gauge by one person are told in one line."""
    if isinstance(event, BoltPulled):
        return event.bolts, event.pass_number, event.gauge, event.by
    return None


def _amount_words(joint: Joint, pulled: BoltPulled) -> str:
    number = pulled.pass_number
    if number > len(joint.passes):
        return f"Pass {number}, which the description no longer has"
    amount = amount_of(joint, number, pulled.bolt)
    shown = amount.text if amount else "amount not described"
    fastener = joint.fastener(pulled.bolt)
    if number == 0:
        page = f", page {fastener.apart.page}" if fastener and fastener.apart else ""
        return f"On their own, {shown}{page}"
    return f"Pass {number}, {shown}, page {joint.passes[number - 1].page}"


def _line(joint: Joint, event: JointEvent) -> str:
    if isinstance(event, BoltSetFitted):
        return f"Bolt set {event.bolts} in; {event.lubrication}. {event.by}, {event.at}"
    if isinstance(event, BoltCondemned):
        words = FEELS.get(event.feel, event.feel)
        return f"Bolt {event.bolt} {words} in pass {event.pass_number}; not counted. {event.by}, {event.at}"
    if isinstance(event, JointTakenBack):
        renewed = f" New bolt {event.new_bolt}." if event.new_bolt else ""
        return f"Taken back as the description says.{renewed} {event.by}, {event.at}"
    assert isinstance(event, JointClosed), "pulls and passes are told elsewhere"
    return f"Every pull line looked at, closed. {event.by}, {event.at}"
