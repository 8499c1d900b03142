"""What a person leaves behind who stops now: loose things, what must be left alone, clocks, and what comes first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from endfloat.assembly.loose import loose_now
from endfloat.assembly.tightening import inside_pass, left_in_pass, pause
from endfloat.engine.joints import listed
from endfloat.engine.sentences import capital
from endfloat.job.clock_words import duration
from endfloat.job.clocks import Timer
from endfloat.job.conditions import lost_conditions
from endfloat.job.state import State
from endfloat.workshop.build import build_of
from endfloat.workshop.clocks import running
from endfloat.workshop.tightening import JointView, joint_views

Face = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Standing:
    """How the work stands, in sentences; `at` is the one line for the first page of the job."""

    loose: tuple[str, ...]
    leave: tuple[str, ...]
    running: tuple[str, ...]
    first: tuple[str, ...]
    at: str


def standing(state: State, now: str, face: Face) -> Standing:
    """All of it, from the record and the time; `face` tells a time of the record as the clock on the wall would."""
    build = build_of(state)
    told = loose_now(build.engine, build.done)
    joints = [seen for seen in joint_views(state).values() if is_open(seen)]
    lost = [each.text() for each in lost_conditions(build.engine, state.building).values()]
    clocks = running(state, now)
    following = [f"Then step {build.number(build.next)}: {build.step(build.next).title}."] if build.next else []
    return Standing(
        loose=(*map(joint_stands, joints), *told.loose),
        leave=(
            *filter(None, map(untouched, joints)),
            *told.leave,
            *(_undisturbed(each) for each in clocks if _cures(each)),
        ),
        running=tuple(clock_on_tag(each, face) for each in clocks),
        first=(*lost, *(rule for seen in joints for rule in pause_rules(seen, now)), *told.first, *following),
        at=stands_at(joints, following),
    )


def is_open(seen: JointView) -> bool:
    """Whether bolts of a joint are in and it is not closed."""
    return bool(seen.progress.fitted) and not seen.progress.closed


def joint_stands(seen: JointView) -> str:
    """How far an open joint is."""
    if seen.progress.trouble is not None:
        return f"{seen.joint.title}: {seen.progress.trouble.what}. Pull no other bolt."
    if seen.upcoming is None:
        return f"{seen.joint.title}: every bolt of the sequence is pulled, and it is not closed."
    number, bolt = seen.upcoming
    left, every = left_in_pass(seen.joint, seen.progress, number), seen.joint.covered(number)
    counted = f"pass {number} of {len(seen.joint.passes)}, {len(every) - len(left)} of {len(every)} bolts pulled"
    return f"{seen.joint.title}: {counted}; bolt {bolt} is next."


def untouched(seen: JointView) -> str:
    """What nobody may do to a joint that was begun; nothing where no bolt is pulled."""
    if not seen.progress.pulled:
        return ""
    return f"{seen.joint.title}: put no wrench on a pulled bolt to test it. Look at its paint stripe."


def pause_rules(seen: JointView, now: str) -> list[str]:
    """What the description says of a pause in a joint: the rule when it has been too long, else how long it may be."""
    if seen.progress.trouble is not None:
        way = seen.progress.trouble.way_back
        return [f"{seen.joint.title}: {way.words if way else 'look up in your service book what to do'}."]
    if seen.upcoming is None:
        return []
    too_long = pause(seen.joint, seen.progress, now)
    if too_long:
        rule, told = too_long
        return [f"{seen.joint.title}: {told}. Your description says: {rule.words}. {rule.caution}".strip()]
    number, _ = seen.upcoming
    inside = inside_pass(seen.joint, seen.progress, number)
    if not inside and number == 1:
        return []
    stop = seen.joint.interrupted.inside_pass if inside else seen.joint.interrupted.between_passes
    where = f"inside pass {number}" if inside else f"between pass {number - 1} and pass {number}"
    left = f" Still to pull there: {listed(left_in_pass(seen.joint, seen.progress, number))}." if inside else ""
    if stop is None:
        return [
            f"{seen.joint.title}, {where}: no rule for a pause is described. Look it up in your service book.{left}"
        ]
    later = f"After {stop.longest.text} from the last pull: {stop.words}. {stop.caution}".strip()
    return [f"{seen.joint.title}, {where}.{left} {later}"]


def stands_at(joints: list[JointView], following: list[str]) -> str:
    """Where the work stopped, to follow "stopped with": a joint in the middle, else the step that was next."""
    for seen in joints:
        if seen.upcoming is not None:
            return f"{seen.joint.title} at pass {seen.upcoming[0]}"
        return f"{seen.joint.title} not closed"
    return following[0].removeprefix("Then ").rstrip(".") + " next" if following else "every step done"


def clock_on_tag(timer: Timer, face: Face) -> str:
    """A clock as a tag tells it: with its end, which does not age."""
    if timer.sort == "not before":
        return f"{capital(timer.clock)}: not before {face(timer.end)}."
    if timer.seconds_left < 0:
        rule = capital(timer.late_do) if timer.late_do else "Look up in your service book what to do"
        return f"{capital(timer.clock)}: its open time ended at {face(timer.end)}. {rule}."
    return f"{capital(timer.clock)}: finish before {face(timer.end)}, {duration(timer.seconds_left)} from now."


def _cures(timer: Timer) -> bool:
    return timer.sort == "not before" and not timer.is_over


def _undisturbed(timer: Timer) -> str:
    return f"{capital(timer.clock)}: leave it alone until its time is over."
