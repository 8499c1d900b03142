"""The joints of a job in words for the build record: which bolts, which passes, who and with what."""

from __future__ import annotations

from itertools import groupby

from endfloat.assembly.tightening import FEELS, amount_of, everything_left, outcome_of
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
from endfloat.job.joint_events import AmountLookedUp, JointChecked, JointUndone, LookedUp
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
    return f"Not closed: {'; '.join(left)} not done." if left else "Every bolt pulled, not yet closed."


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
    its_page = joint.passes[number - 1].page
    return f"Pass {number}, {shown}, " + (f"page {its_page}" if its_page else "page not in the description")


def _line(joint: Joint, event: JointEvent) -> str:
    if isinstance(event, BoltSetFitted):
        return f"Bolt set {event.bolts} in; {event.lubrication}. {event.by}, {event.at}"
    if isinstance(event, BoltCondemned):
        words = FEELS.get(event.feel, event.feel)
        return f"Bolt {event.bolt} {words} in pass {event.pass_number}; not counted. {event.by}, {event.at}"
    if isinstance(event, JointTakenBack):
        renewed = f" New bolt {event.new_bolt}." if event.new_bolt else ""
        return f"Taken back as the description says.{renewed} {event.by}, {event.at}"
    if isinstance(event, LookedUp):
        return _looked_up(event)
    if isinstance(event, JointChecked):
        return _checked(joint, event)
    if isinstance(event, JointUndone):
        passes = f"; pass {event.first_pass} and later no longer count" if event.first_pass else ""
        return f"The step {event.step.replace('_', ' ')} was undone{passes}. {event.by}, {event.at}"
    assert isinstance(event, JointClosed), "pulls and passes are told elsewhere"
    return f"Every pull line looked at, closed. {event.by}, {event.at}"


def _looked_up(event: LookedUp) -> str:
    if isinstance(event, AmountLookedUp):
        of = f"bolt {event.bolt}" if event.bolt else f"pass {event.pass_number}, {event.sort.replace('_', ' ')}"
        what = f"{of}: {event.amount}"
    else:
        of = f"pass {event.pass_number}" if event.pass_number else "the bolts"
        what = f"order of {of}: {', '.join(event.sequence)}"
    return f"Typed at the bench, {what}, page {event.page}. {event.by}, {event.at}"


def _checked(joint: Joint, event: JointChecked) -> str:
    check = joint.checks.get(event.check)
    who = ", ".join(each for each in (event.gauge, event.by, event.at) if each)
    if check is None:
        return f"{event.check} at {event.place}: {event.text}, which the description no longer asks. {who}"
    words = {"good": "good", "out": "out of its limit", "close": "too close to call"}
    told = words[outcome_of(check, event.text, event.within)]
    if check.reads is None:
        return f"After pass {check.after_pass}, {event.place}: {check.asks} {event.text}. {who}"
    limit = f"limit {check.limit}{f', page {check.page}' if check.page else ''}"
    return f"After pass {check.after_pass}, {event.place}: {event.text}, {limit}: {told}. {who}"
