"""What the pages of a joint say, in plain values: what comes next, the picture, and each joint's state in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from endfloat.assembly.tightening import (
    APART,
    FEELS,
    amount_of,
    apart_left,
    easily_missed_done,
    left_in_pass,
    pause,
)
from endfloat.drawings.joint import DrawnBolt, DrawnCircle, JointPicture
from endfloat.engine.joints import WayBack, listed
from endfloat.job.events import BoltPulled, BoltSetFitted, JointClosed, PassCompleted
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind
from endfloat.workshop.fit_bolt_set import sorts_in_sequence
from endfloat.workshop.pull_bolt import fitting_gauges, gauges_of
from endfloat.workshop.tightening import JointView

MM = 1000.0


@dataclass(frozen=True, slots=True)
class Asked:
    """The one thing asked for now: its pass (0: apart), bolt, amount, and the gauges that fit."""

    pass_number: int
    bolt: str
    amount: str
    note: str
    page: int
    left: int
    gauges: tuple[str, ...]
    gauge: str


@dataclass(frozen=True, slots=True)
class JointPage:
    """What one joint's page shows. `mode` is fit, pull, back, finish or closed."""

    mode: str
    asked: Asked | None
    by: str
    lubrication: str
    what_happened: str = ""
    way_back: WayBack | None = None
    closed: str = ""
    sorts: tuple[str, ...] = ()
    wrong_choices: tuple[tuple[str, str], ...] = ()


def page_of(seen: JointView, state: State, now: str) -> JointPage:
    """The page of a joint as it stands at a time."""
    keyed = [event for event in seen.recorded if not isinstance(event, PassCompleted)]
    by = keyed[-1].by if keyed else ""
    fitted = next((each for each in reversed(keyed) if isinstance(each, BoltSetFitted)), None)
    closing = next((each for each in reversed(keyed) if isinstance(each, JointClosed)), None)
    happened, way = _gone_wrong(seen, now)
    asked = asked_now(seen, state)
    mode = "pull" if asked else "finish"
    if seen.progress.closed:
        mode = "closed"
    elif not seen.progress.fitted:
        mode = "fit"
    elif happened:
        mode = "back"
    return JointPage(
        mode=mode,
        asked=asked,
        by=by,
        lubrication=fitted.lubrication if fitted else "",
        what_happened=happened,
        way_back=way,
        closed=f"Closed by {closing.by}, {when(closing.at)}" if closing else "",
        sorts=tuple(sorts_in_sequence(seen.joint)),
        wrong_choices=_wrong_choices(seen, asked),
    )


def when(at: str) -> str:
    """A recorded time in words; the record keeps universal time."""
    return f"{at[:10]} at {at[11:16]} (universal time)"


def amount_words(amount: Typed | None) -> str:
    """ "25 N·m", "+ 90 °", or that it is still to look up."""
    if amount is None:
        return "still to look up"
    return f"+ {amount.text}" if amount.unit.kind is Kind.ANGLE else amount.text


def asked_now(seen: JointView, state: State) -> Asked | None:
    """The next pull: of the sequence, else the first fastener apart; None when all is pulled."""
    joint = seen.joint
    upcoming = seen.upcoming
    if upcoming is None:
        left = apart_left(joint, seen.progress)
        if not left:
            return None
        upcoming = (APART, left[0])
    number, bolt = upcoming
    gauges = fitting_gauges(joint, number, bolt, gauges_of(state))
    used = next((each.gauge for each in reversed(seen.recorded) if isinstance(each, BoltPulled)), "")
    gauge = used if used in gauges or (not gauges and used) else (gauges[0] if len(gauges) == 1 else "")
    fastener = joint.fastener(bolt)
    apart = fastener.apart if fastener else None
    count = len(left_in_pass(joint, seen.progress, number)) if number else len(apart_left(joint, seen.progress))
    return Asked(
        pass_number=number,
        bolt=bolt,
        amount=amount_words(amount_of(joint, number, bolt)),
        note=joint.passes[number - 1].note if number else f"Where: {fastener.easily_missed if fastener else ''}.",
        page=joint.passes[number - 1].page if number or apart is None else apart.page,
        left=count,
        gauges=tuple(gauges),
        gauge=gauge,
    )


def _gone_wrong(seen: JointView, now: str) -> tuple[str, WayBack | None]:
    condemned = seen.progress.condemned
    if condemned is not None:
        where = f" in pass {condemned.pass_number}" if condemned.pass_number else ""
        return f"Bolt {condemned.bolt} {FEELS[condemned.feel]}{where}.", condemned.way_back
    stopped = pause(seen.joint, seen.progress, now)
    if stopped:
        stop, words = stopped
        return f"{words[0].upper()}{words[1:]}. At most {stop.longest.text} is allowed.", stop
    return "", None


def _wrong_choices(seen: JointView, asked: Asked | None) -> tuple[tuple[str, str], ...]:
    """The bolt in hand, and the one pulled last."""
    choices = []
    if asked:
        choices.append((f"{asked.pass_number}/{asked.bolt}", f"Bolt {asked.bolt}, the one in hand"))
    if seen.progress.pulled:
        number, bolt = seen.progress.pulled[-1]
        choices.append((f"{number}/{bolt}", f"Bolt {bolt}, pulled just before"))
    return tuple(choices)


def stop_words(seen: JointView) -> list[str]:
    """What a person should know before walking away."""
    upcoming = seen.upcoming
    if upcoming is None:
        return ["Every bolt of the sequence is pulled. You may stop here."]
    number, _ = upcoming
    left = left_in_pass(seen.joint, seen.progress, number)
    inside = len(left) < len(seen.joint.sequence)
    stop = seen.joint.interrupted.inside_pass if inside else seen.joint.interrupted.between_passes
    first = f"You are between two passes: pass {number} has not begun."
    if inside:
        first = f"You are inside pass {number}: {listed(left)} still to pull. Pull them first if you can."
    elif number == 1:
        return ["No bolt is pulled yet. You may stop here."]
    if stop is None:
        return [first, "Your description gives no rule for a pause here. Look it up in your service book first."]
    later = f"Later than that, your description says: {stop.words}. {stop.caution}".strip()
    return [first, f"Back within {stop.longest.text} of the last pull, you go on where you were.", later]


def picture_of(seen: JointView, *, ring: bool) -> JointPicture:
    """The joint as the drawing room wants it: plain millimetres and words; `ring` shows the next bolt."""
    joint, progress = seen.joint, seen.progress
    upcoming = seen.upcoming
    apart = apart_left(joint, progress)
    walked = joint.sequence.index(upcoming[1]) if upcoming else len(joint.sequence)
    finished, hidden = easily_missed_done(joint, progress)
    threads = " and ".join(dict.fromkeys(_short_thread(joint.bolts[each.bolt].thread) for each in joint.easily_missed))
    following = (upcoming[1] if upcoming else apart[0] if apart else None) if ring else None
    return JointPicture(
        title=joint.title,
        view=joint.drawing.view,
        front=joint.drawing.front,
        outline=tuple((x.si * MM, y.si * MM) for x, y in joint.drawing.outline),
        bolts=tuple(
            DrawnBolt(
                each.number,
                each.x.si * MM,
                each.y.si * MM,
                joint.angle_after(progress.passes_of(each.number)) if progress.passes_of(each.number) else None,
                each.apart is not None,
            )
            for each in joint.fasteners
        ),
        walk=tuple(joint.sequence),
        walked=walked,
        upcoming=following,
        bank=joint.bank,
        falling=seen.other_bank,
        circles=tuple(
            DrawnCircle(mark.name, mark.x.si * MM, mark.y.si * MM, mark.diameter.si * MM)
            for mark in joint.drawing.landmarks
        ),
        top_is_up=joint.drawing.top_is_up,
        hidden=f"EASILY MISSED {threads}: {finished} of {hidden}" if hidden else "",
    )


def _short_thread(thread: str) -> str:
    """The size without its pitch: M8 for M8x1.25, 5/16 for 5/16-24 UNF; the box on the drawing is narrow."""
    return thread.split("x")[0].split("-")[0]


def state_words(seen: JointView, now: str) -> str:
    """One joint's state on the list of joints."""
    happened, _ = _gone_wrong(seen, now)
    if seen.progress.closed:
        return "Closed"
    if not seen.progress.fitted:
        return "Not begun"
    if happened:
        return f"{happened} Read this first."
    if seen.upcoming is None:
        left = apart_left(seen.joint, seen.progress)
        return f"{listed(left).capitalize()} still to pull" if left else "Every bolt pulled, not yet closed"
    number, _ = seen.upcoming
    left = left_in_pass(seen.joint, seen.progress, number)
    return f"Pass {number} of {len(seen.joint.passes)}, {len(left)} left in this pass"


def board_rows(views: Iterable[JointView], now: str) -> list[tuple[JointView, str, tuple[int, int]]]:
    """Each joint with its state and its count of easily missed fasteners."""
    return [(seen, state_words(seen, now), easily_missed_done(seen.joint, seen.progress)) for seen in views]
