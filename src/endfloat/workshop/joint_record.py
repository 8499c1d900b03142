"""The joints of a job in words for the build record: which bolts, which passes, who and with what."""

from __future__ import annotations

from itertools import groupby

from endfloat.assembly.tightening import APART, FEELS, amount_of, everything_left, outcome_of
from endfloat.engine.joints import Joint, listed
from endfloat.inspection.gauges import Gauge
from endfloat.job.events import (
    BoltCondemned,
    BoltPulled,
    BoltSetFitted,
    JointClosed,
    JointEvent,
    JointTakenBack,
    PassCompleted,
)
from endfloat.job.joint_events import AmountLookedUp, JointChecked, JointTakenUp, JointUndone, LookedUp
from endfloat.job.state import State
from endfloat.workshop.clamp_words import expected_now, question_about
from endfloat.workshop.joint_picture import joint_picture
from endfloat.workshop.pull_bolt import gauges_of
from endfloat.workshop.tightening import JointView, joint_views
from endfloat.workshop.wrench import Adapter


def joints_on_paper(state: State) -> list[dict[str, object]]:
    """Every joint that was begun: its picture, what was done in order, the clamp load to expect, and how it stands."""
    return [
        {
            "title": seen.joint.title,
            "picture": joint_picture(seen, ring=False),
            "lines": _lines(seen, gauges_of(state)),
            "expected": _expected(seen, gauges_of(state)),
            "stands": _stands(seen),
        }
        for seen in joint_views(state).values()
        if seen.recorded
    ]


def _stands(seen: JointView) -> str:
    if seen.progress.closed:
        closing = next(event for event in reversed(seen.recorded) if isinstance(event, JointClosed))
        signed = f"Signed by {closing.by}, a name as typed, {closing.at}."
        return f"Closed with bolt set {seen.progress.fitted}. {signed}"
    left = everything_left(seen.joint, seen.progress)
    return f"Not closed: {'; '.join(left)} not done." if left else "Every bolt pulled, not yet closed."


def _expected(seen: JointView, register: dict[str, Gauge]) -> list[str]:
    """The clamp load of each sort of bolt after the last pass that all of it was pulled in."""
    joint, told = seen.joint, []
    for sort in joint.bolts:
        numbers = [each.number for each in joint.fasteners if each.bolt == sort]
        passes = [seen.progress.passes_of(number) for number in numbers]
        last = min((max(each, default=-1) for each in passes), default=-1)
        if last >= APART:
            words = expected_now(seen, register, last, numbers[0], "")
            after = f"after pass {last}" if last else "pulled on its own"
            name = sort.replace("_", " ")
            told.append(f"{name[0].upper()}{name[1:]} {after}. {' '.join(words.lines)}")
    return told


def _lines(seen: JointView, register: dict[str, Gauge]) -> list[str]:
    told = [event for event in seen.recorded if not isinstance(event, PassCompleted)]
    lines: list[str] = []
    for pulls, group in groupby(told, key=_like):
        events = list(group)
        if pulls is None:
            lines += [_line(seen.joint, event) for event in events]
            continue
        first = events[0]
        assert isinstance(first, BoltPulled), "only pulls are told together"
        pulled = [event for event in events if isinstance(event, BoltPulled)]
        bolts = listed([event.bolt for event in pulled])
        lines.append(
            f"{_amount_words(seen.joint, first)}: {bolts}.{_through(first)} {first.gauge}, {first.by}, {first.at}"
        )
        lines += [_seen(seen, register, event) for event in pulled if event.seen]
    return lines


def _like(event: JointEvent) -> tuple[object, ...] | None:
    """Pulls of one set in one pass with one gauge, set alike, by one person are told in one line."""
    if isinstance(event, BoltPulled):
        hand = (event.length, event.offset, event.askew, event.setting, event.in_spite)
        return event.bolts, event.pass_number, event.gauge, event.by, *hand
    return None


def _through(event: BoltPulled) -> str:
    """The adapter and the setting for it, and why a gauge past its date was used."""
    adapter = Adapter(event.length, event.offset, event.askew)
    told = f" Set to {event.setting}: {adapter.words}." if event.setting else ""
    return f"{told} {event.gauge} was past its date: {event.in_spite}." if event.in_spite else told


def _seen(seen: JointView, register: dict[str, Gauge], event: BoltPulled) -> str:
    asked = question_about(seen, register, event)
    return f"Bolt {event.bolt}, torque at the end of the angle: {event.seen}. {asked}".strip()


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
    if isinstance(event, JointTakenUp):
        gave = f", given up by {event.gave}" if event.gave else ""
        return f"Recorded from here on one device{gave}. {event.by}, {event.at}"
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
