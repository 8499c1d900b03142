"""The timing of the cams: how it stands after what was recorded, and whether more may be recorded now."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from endfloat.assembly.violations import Violation
from endfloat.engine.timing import Timing
from endfloat.job.description import engine_of
from endfloat.job.events import BuildEvent, JobOpened
from endfloat.job.timing_events import (
    CamsConfirmedAgain,
    DeadCentreFound,
    DeadCentreLost,
    DriveOpened,
    GateTicked,
    TimingEvent,
    TurnMade,
    WheelRead,
    WheelReadingWithdrawn,
)
from endfloat.job.timing_gate import Shut, gate_at
from endfloat.problems import Problem, quoted
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

TIMED = "timed"
OPEN_GATE = "every condition ticked, every wait over"
LOST = {
    "turned_back": "The crank was turned back.",
    "interrupted": "The work was interrupted.",
    "wheel_moved": "The wheel or its pointer was moved.",
}
"""Why the wheel is no longer trusted, by code."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A wheel reading that counts, and the dead centre that it was read by."""

    read: WheelRead
    by: DeadCentreFound


@dataclass(frozen=True, slots=True)
class TimingProgress:
    """How the timing stands: the dead centre (none when lost, then `lost` says why), ticks, the turn, readings."""

    dead_centre: DeadCentreFound | None = None
    lost: DeadCentreLost | None = None
    ticks: dict[str, GateTicked] = field(default_factory=dict)
    turned: TurnMade | None = None
    readings: tuple[Standing, ...] = ()
    last: str = ""

    def of(self, cam: str, *, turned: bool) -> tuple[Standing, ...]:
        """The readings of a cam that count, before or after the turns."""
        return tuple(each for each in self.readings if each.read.cam == cam and each.read.turned == turned)


def timing_after(timing: Timing, events: Iterable[TimingEvent]) -> TimingProgress:
    """How the timing stands after what was recorded."""
    progress = TimingProgress()
    for event in events:
        back = rested(timing, progress, event.at)
        if paused_too_long(timing, progress, event.at):
            # Whatever is done first on coming back, the wheel stood alone: that is not made good by doing something.
            back = replace(back, dead_centre=None, lost=DeadCentreLost("", "interrupted", event.by, event.at))
        progress = replace(_after(back, event), last=event.at)
    return progress


def rested(timing: Timing, progress: TimingProgress, at: str) -> TimingProgress:
    """The progress at a time: after a pause longer than the description trusts, what was ticked is seen anew."""
    return replace(progress, ticks={}) if _paused(timing, progress, at) else progress


def _after(now: TimingProgress, event: TimingEvent) -> TimingProgress:
    if isinstance(event, DeadCentreFound):
        return replace(now, dead_centre=event, lost=None)
    if isinstance(event, DeadCentreLost):
        ticks = {} if event.why == "interrupted" else now.ticks
        return replace(now, dead_centre=None, lost=event, ticks=ticks)
    if isinstance(event, WheelRead):
        assert now.dead_centre is not None, "the rules refuse a reading without a dead centre"
        return replace(now, readings=(*now.readings, Standing(event, now.dead_centre)))
    if isinstance(event, WheelReadingWithdrawn):
        return replace(now, readings=tuple(each for each in now.readings if each.read.key != event.reading))
    if isinstance(event, GateTicked):
        return replace(now, ticks={**now.ticks, event.condition: event})
    if isinstance(event, TurnMade):
        return replace(now, turned=event)
    if isinstance(event, DriveOpened):
        return replace(now, ticks={}, turned=None, readings=_left_by(now, event))
    return now


def _left_by(now: TimingProgress, event: DriveOpened) -> tuple[Standing, ...]:
    """What was read of the other cams, as first readings: the turns have to be made again."""
    others = [each for each in now.readings if each.read.cam not in event.cams]
    again = {(each.read.cam, each.read.point) for each in others if each.read.turned}
    return tuple(
        Standing(replace(each.read, turned=False), each.by)
        for each in others
        if each.read.turned or (each.read.cam, each.read.point) not in again
    )


def paused_too_long(timing: Timing, progress: TimingProgress, at: str) -> bool:
    """Whether the wheel stood alone for longer than the description trusts it."""
    return progress.dead_centre is not None and _paused(timing, progress, at)


def _paused(timing: Timing, progress: TimingProgress, at: str) -> bool:
    if not progress.last:
        return False
    gone = datetime.fromisoformat(at) - datetime.fromisoformat(progress.last)
    return gone.total_seconds() > timing.longest_pause.si


def confirm_holds(
    timing: Timing | None, events: Iterable[TimingEvent], building: Sequence[BuildEvent], operation: str
) -> list[Violation]:
    """Why a step waits for its cams to be confirmed right before it: nothing else may have been done since."""
    asked = timing.confirm_before.get(operation) if timing else None
    if asked is None:
        return []
    confirmed = [event for event in events if isinstance(event, CamsConfirmedAgain) and event.step == operation]
    if confirmed and confirmed[-1].entries == len(building):
        return []
    since = " Something was done since they were confirmed." if confirmed else ""
    return [Violation(TIMED, (operation,), f"{asked.says}: not confirmed right before this step.{since}")]


def timing_refusal(
    opened: JobOpened, events: tuple[TimingEvent, ...], building: Sequence[BuildEvent], event: TimingEvent
) -> Problem | None:
    """Why this may not be recorded now; None when it may."""
    engine = engine_of(opened.engine)
    timing = engine.timing
    if timing is None:
        remedy = "Add `timing:` to the description, then read it again."
        return Problem("no_timing", "the timing", "none described", "cams with their lobe centres", remedy)
    if event.key in {each.key for each in events}:
        return Problem("key_used", "the timing", "a key used before", "a new key", "Send it under a new key.")
    if not event.by.strip():
        return Problem("no_name", "the timing", "no name", "who did it", "Type a name; it goes on the record.")
    progress = rested(timing, timing_after(timing, events), event.at)
    if isinstance(event, DeadCentreFound):
        closed = gate_at(engine, progress.ticks, building, event.at).shut
        return touches_refused(event.before, event.after) or (shut_problem("dead centre", closed) if closed else None)
    if isinstance(event, DeadCentreLost):
        return _not_lost(progress, event)
    if isinstance(event, WheelRead):
        return _reading_refused(timing, progress, gate_at(engine, progress.ticks, building, event.at).shut, event)
    if isinstance(event, GateTicked):
        return _tick_refused(timing, progress, event)
    if isinstance(event, TurnMade):
        return _turn_refused(timing, progress, gate_at(engine, progress.ticks, building, event.at).shut, event)
    if isinstance(event, CamsConfirmedAgain):
        return _confirming_refused(timing, building, event)
    return _taking_back_refused(timing, progress, event)


def read_angle(text: str, place: str) -> Typed | Problem:
    """A wheel reading in degrees, at most one turn to either side."""
    read = read_typed(text, kind=Kind.ANGLE, place=place, default_unit="°")
    if isinstance(read, Problem):
        return read
    if abs(read.si) > 2 * math.pi + 1e-9:
        return Problem("more_than_a_turn", place, read.text, "at most 360 °", "Read the wheel again.")
    return read


def touches_refused(before: str, after: str) -> Problem | None:
    """Why two touches of the stop are no dead centre; None when they are one."""
    read = [read_angle(before, "before dead centre"), read_angle(after, "after dead centre")]
    wrong = next((each for each in read if isinstance(each, Problem)), None)
    if wrong:
        return wrong
    first, second = (each for each in read if isinstance(each, Typed))
    span = (second.si - first.si) % (2 * math.pi)
    # Beyond half a turn the middle of the touches is the bottom dead centre.
    if math.radians(4) <= span <= math.pi:
        return None
    degrees = f"{math.degrees(span):.1f} ° from the first to the second"
    remedy = "Type first the touch before dead centre, then the one after it, as the wheel grows the running way."
    return Problem("no_dead_centre", "the two touches", degrees, "4 to 180 ° the running way", remedy)


def shut_problem(place: str, closed: Sequence[Shut]) -> Problem:
    """What turns the crank waits for the gate: dead centre, a reading, the turns."""
    words = "; ".join(each.words for each in closed)
    return Problem("shut", place, f"the gate shut: {words}", OPEN_GATE, closed[0].says)


def _not_lost(progress: TimingProgress, event: DeadCentreLost) -> Problem | None:
    if event.why not in LOST:
        expected = f"one of {', '.join(LOST)}"
        return Problem("unknown_reason", "dead centre", quoted(event.why), expected, "Choose it again.")
    if progress.dead_centre is None:
        return Problem("not_found", "dead centre", "none found", "a dead centre to lose", "Find dead centre first.")
    return None


def _reading_refused(
    timing: Timing, progress: TimingProgress, closed: Sequence[Shut], event: WheelRead
) -> Problem | None:
    cam = timing.cams.get(event.cam)
    if cam is None:
        return Problem("unknown_cam", "the wheel", quoted(event.cam), "a cam of this engine", "Choose it again.")
    if event.point not in cam.points:
        expected = " or ".join(cam.points)
        return Problem("unknown_point", cam.title, quoted(event.point), expected, "Choose it again.")
    if cam.centre is None:
        remedy = f"Look it up on page {cam.page} and correct the description."
        return Problem("still_to_look_up", cam.title, "no lobe centre", "the lobe centre of the book", remedy)
    read = read_angle(event.text, cam.title)
    if isinstance(read, Problem):
        return read
    if progress.dead_centre is None:
        why = LOST[progress.lost.why] if progress.lost else "None was found yet."
        remedy = "Turn to dead centre again before you trust the wheel." if progress.lost else "Find dead centre first."
        return Problem("no_dead_centre", cam.title, why.rstrip("."), "a dead centre by two stops", remedy)
    if paused_too_long(timing, progress, event.at):
        found = f"a pause longer than {timing.longest_pause.text}"
        remedy = "Turn to dead centre again before you trust the wheel."
        return Problem("paused", cam.title, found, "a dead centre found since then", remedy)
    if closed:
        return shut_problem(cam.title, closed)
    if event.turned != (progress.turned is not None):
        found = "a reading after the turns" if event.turned else "a reading before the turns"
        return Problem("other_turns", cam.title, found, "a reading as the engine stands", "Open the page again.")
    return None


def _tick_refused(timing: Timing, progress: TimingProgress, event: GateTicked) -> Problem | None:
    condition = timing.gate.get(event.condition)
    if condition is None:
        return Problem("unknown_condition", "the gate", quoted(event.condition), "one of this gate", "Choose it again.")
    if condition.clocks:
        remedy = "Look at the clocks: the gate opens when they are over."
        return Problem("by_clock", condition.short, "a tick for a wait", "what is seen", remedy)
    if event.condition in progress.ticks:
        return Problem("ticked", condition.short, "ticked already", "one not yet ticked", "Look at the list again.")
    return None


def _turn_refused(timing: Timing, progress: TimingProgress, closed: Sequence[Shut], event: TurnMade) -> Problem | None:
    if closed:
        return shut_problem("the turn", closed)
    if event.turns != timing.turns:
        expected = f"{timing.turns} full turns"
        return Problem("other_turns", "the turn", f"{event.turns} turns", expected, "Turn it as the book says.")
    if progress.turned is not None:
        remedy = "Read the cams. After the drive was opened the turns are made again."
        return Problem("turned", "the turn", "made already", "a turn not yet made", remedy)
    return None


def _confirming_refused(timing: Timing, building: Sequence[BuildEvent], event: CamsConfirmedAgain) -> Problem | None:
    if event.step not in timing.confirm_before:
        expected = "a step with cams to confirm"
        return Problem("unknown_step", "the timing", quoted(event.step), expected, "Choose it again.")
    if event.entries != len(building):
        remedy = "Open the page of the step again, look at the cams, and confirm them."
        return Problem("step_between", "the timing", "a step done since", "nothing done in between", remedy)
    return None


def _taking_back_refused(
    timing: Timing, progress: TimingProgress, event: WheelReadingWithdrawn | DriveOpened
) -> Problem | None:
    if isinstance(event, DriveOpened):
        unknown = [cam for cam in event.cams if cam not in timing.cams]
        if unknown or not event.cams:
            found = quoted(unknown[0]) if unknown else "no cam"
            return Problem("unknown_cam", "the drive", found, "cams of this engine", "Choose them again.")
    elif event.reading not in {each.read.key for each in progress.readings}:
        return Problem("no_reading", "the wheel", "no such reading", "a reading that counts", "Look at the list again.")
    if not event.reason.strip():
        return Problem("no_reason", "the timing", "no reason", "a reason", "Say in a word or two why.")
    return None
