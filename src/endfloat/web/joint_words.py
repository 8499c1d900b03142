"""What the pages of a joint say, in plain values: what comes next, the picture, and each joint's state in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from endfloat.assembly.tightening import (
    APART,
    amount_of,
    apart_left,
    easily_missed_done,
    inside_pass,
    left_in_pass,
    next_check,
    pause,
)
from endfloat.engine.joints import listed
from endfloat.engine.passes import WayBack
from endfloat.job.events import BoltPulled, BoltSetFitted, JointClosed, PassCompleted
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind
from endfloat.web.joint_hand import NOTHING_IN_HAND, Hand, hand_of
from endfloat.web.joint_questions import Blank, Question, blanks_now, page_told, question_now
from endfloat.workshop.clamp_words import ClampWords, expected_now
from endfloat.workshop.fit_bolt_set import sorts_in_sequence
from endfloat.workshop.pull_bolt import fitting_gauges, gauges_of
from endfloat.workshop.tightening import JointView
from endfloat.workshop.wrench import Adapter, out_of_range


@dataclass(frozen=True, slots=True)
class Asked:
    """The one thing asked for now: its pass (0: apart), bolt, amount, and the gauges that fit.

    `expects` is what clamp load to expect after it, `hand` what is known of the gauge in hand.
    """

    pass_number: int
    bolt: str
    amount: str
    note: str
    page: str
    left: int
    gauges: tuple[str, ...]
    gauge: str
    angle: bool = False
    expects: ClampWords | None = None
    hand: Hand = NOTHING_IN_HAND


@dataclass(frozen=True, slots=True)
class JointPage:
    """What one joint's page shows. `mode` is fit, look_up, pull, check, back, finish or closed."""

    mode: str
    asked: Asked | None
    by: str
    lubrication: str
    what_happened: str = ""
    way_back: WayBack | None = None
    closed: str = ""
    sorts: tuple[str, ...] = ()
    wrong_choices: tuple[tuple[str, str], ...] = ()
    blanks: tuple[Blank, ...] = ()
    check: Question | None = None


def page_of(seen: JointView, state: State, now: str, adapter: Adapter | None = None) -> JointPage:
    """The page of a joint as it stands at a time; `adapter` is one just typed, else that of the last pull is kept."""
    keyed = [event for event in seen.recorded if not isinstance(event, PassCompleted)]
    by = keyed[-1].by if keyed else ""
    fitted = next((each for each in reversed(keyed) if isinstance(each, BoltSetFitted)), None)
    closing = next((each for each in reversed(keyed) if isinstance(each, JointClosed)), None)
    happened, way = _gone_wrong(seen, now)
    asked = asked_now(seen, state, now, adapter)
    blanks = blanks_now(seen.joint, asked.pass_number, asked.bolt) if asked else ()
    check = question_now(seen, state)
    mode = "check" if check else "look_up" if blanks else "pull" if asked else "finish"
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
        blanks=blanks,
        check=check,
    )


def when(at: str) -> str:
    """A recorded time in words; the record keeps universal time."""
    return f"{at[:10]} at {at[11:16]} (universal time)"


def amount_words(amount: Typed | None) -> str:
    """ "25 N·m", "+ 90 °", or that it is still to look up."""
    if amount is None:
        return "still to look up"
    return f"+ {amount.text}" if amount.unit.kind is Kind.ANGLE else amount.text


def asked_now(seen: JointView, state: State, now: str, adapter: Adapter | None = None) -> Asked | None:
    """The next pull: of the sequence, else the first fastener apart; None when all is pulled."""
    joint = seen.joint
    upcoming = seen.upcoming
    if upcoming is None:
        left = apart_left(joint, seen.progress)
        if not left:
            return None
        upcoming = (APART, left[0])
    number, bolt = upcoming
    register, amount = gauges_of(state), amount_of(joint, number, bolt)
    gauges = fitting_gauges(joint, number, bolt, register)
    used = next((each.gauge for each in reversed(seen.recorded) if isinstance(each, BoltPulled)), "")
    reaching = [each for each in gauges if amount and out_of_range(each, register[each], amount, joint.title) is None]
    only = reaching or gauges
    gauge = used if used in gauges or (not gauges and used) else (only[0] if len(only) == 1 else "")
    fastener = joint.fastener(bolt)
    count = len(left_in_pass(joint, seen.progress, number)) if number else len(apart_left(joint, seen.progress))
    return Asked(
        pass_number=number,
        bolt=bolt,
        amount=amount_words(amount),
        note=joint.passes[number - 1].note if number else f"Where: {fastener.easily_missed if fastener else ''}.",
        page=page_told(seen, number, bolt),
        left=count,
        gauges=tuple(gauges),
        gauge=gauge,
        angle=amount is not None and amount.unit.kind is Kind.ANGLE,
        expects=expected_now(seen, register, number, bolt, gauge),
        hand=hand_of(seen, register, amount, gauges, gauge, now, adapter),
    )


def _gone_wrong(seen: JointView, now: str) -> tuple[str, WayBack | None]:
    trouble = seen.progress.trouble
    if trouble is not None:
        return f"{trouble.what[0].upper()}{trouble.what[1:]}.", trouble.way_back
    stopped = pause(seen.joint, seen.progress, now)
    if stopped:
        stop, words = stopped
        return f"{words[0].upper()}{words[1:]}. At most {stop.longest.text} is allowed.", stop
    return "", None


def _wrong_choices(seen: JointView, asked: Asked | None) -> tuple[tuple[str, str], ...]:
    """The bolt in hand, the one pulled last, and the others of the pass in which one is."""
    choices = []
    if asked:
        choices.append((f"{asked.pass_number}/{asked.bolt}", f"Bolt {asked.bolt}, the one in hand"))
    if seen.progress.pulled:
        number, bolt = seen.progress.pulled[-1]
        choices.append((f"{number}/{bolt}", f"Bolt {bolt}, pulled just before"))
    number = asked.pass_number if asked else max((each for each, _ in seen.progress.pulled), default=APART)
    others = seen.joint.covered(number) if number else ()
    taken = {value for value, _ in choices}
    choices += [(f"{number}/{bolt}", f"Bolt {bolt}") for bolt in others if f"{number}/{bolt}" not in taken]
    return tuple(choices)


def stop_words(seen: JointView) -> list[str]:
    """What a person should know before walking away."""
    trouble = seen.progress.trouble
    if trouble is not None:
        stands = f"{trouble.what[0].upper()}{trouble.what[1:]}: pull no other."
        rule = trouble.way_back.words if trouble.way_back else "nothing; look it up in your service book"
        return [stands, f"Your description says: {rule}.", "You may stop here; that waits for you."]
    upcoming = seen.upcoming
    if upcoming is None:
        return ["Every bolt of the sequence is pulled. You may stop here."]
    number, _ = upcoming
    left = left_in_pass(seen.joint, seen.progress, number)
    inside = inside_pass(seen.joint, seen.progress, number)
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


def state_words(seen: JointView, now: str) -> str:
    """One joint's state on the list of joints."""
    happened, _ = _gone_wrong(seen, now)
    if seen.progress.closed:
        return "Closed"
    if not seen.progress.fitted:
        return "Not begun"
    if happened:
        return f"{happened} Read this first."
    check = next_check(seen.joint, seen.progress)
    if check:
        return f"To be looked at after pass {seen.joint.checks[check[0]].after_pass}: {check[1]}"
    if seen.upcoming is None:
        left = apart_left(seen.joint, seen.progress)
        return f"{listed(left).capitalize()} still to pull" if left else "Every bolt pulled, not yet closed"
    number, _ = seen.upcoming
    left = left_in_pass(seen.joint, seen.progress, number)
    return f"Pass {number} of {len(seen.joint.passes)}, {len(left)} left in this pass"


def board_rows(views: Iterable[JointView], now: str) -> list[tuple[JointView, str, tuple[int, int]]]:
    """Each joint with its state and its count of easily missed fasteners."""
    return [(seen, state_words(seen, now), easily_missed_done(seen.joint, seen.progress)) for seen in views]
