"""The timing in words for the build record: each cam as it stood before and after the turns, and what was done."""

from __future__ import annotations

from endfloat.engine.timing import Timing
from endfloat.inspection.wheel import CamFinding
from endfloat.job.timing import LOST
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
from endfloat.quantities.shown_text import shown_estimate, shown_number
from endfloat.quantities.units import UNITS
from endfloat.workshop.timing_view import timing_view
from endfloat.workshop.view import View

DEGREE = UNITS["°"]


def timing_rows(seen: View) -> list[list[str]]:
    """Each cam: its lobe centre before and after the turns, where it was expected, its limits with page, the verdict.

    Empty when nothing of the timing was recorded.
    """
    view = timing_view(seen, seen.state.timing[-1].at) if seen.state.timing else None
    if view is None:
        return []
    rows = []
    for name, cam in view.cams.items():
        now = view.now(name)
        limits = " to ".join(each.text for each in (cam.cam.low, cam.cam.high) if each) or "none"
        expected = shown_number(now.expected.value, DEGREE, 1) + " °" if now.expected else ""
        rows.append(
            [
                cam.cam.title,
                _centre(cam.before),
                _centre(cam.after) if view.turned else "",
                expected,
                f"{limits}, page {cam.cam.page}",
                now.verdict.words,
            ]
        )
    return rows


def _centre(found: CamFinding) -> str:
    return shown_estimate(found.centre, DEGREE) if found.centre else "not read"


def timing_lines(seen: View) -> list[str]:
    """What was done at the wheel, in order, each with its name and time."""
    timing = seen.engine.timing
    if timing is None:
        return []
    events = seen.state.timing
    read = {event.key: event for event in events if isinstance(event, WheelRead)}
    return [f"{_told(timing, event, read)} {event.by}, {event.at[:16].replace('T', ' ')}" for event in events]


def _told(timing: Timing, event: TimingEvent, read: dict[str, WheelRead]) -> str:
    if isinstance(event, DeadCentreFound):
        return f"Dead centre: the stop at {event.before} and {event.after} ({event.gauge})."
    if isinstance(event, DeadCentreLost):
        return f"{LOST[event.why]} Dead centre to be found again."
    if isinstance(event, WheelRead):
        return f"{_reading(timing, event)}."
    if isinstance(event, WheelReadingWithdrawn):
        of = read.get(event.reading)
        return f"Withdrawn: {_reading(timing, of) if of else event.reading}. Reason: {event.reason}."
    if isinstance(event, DriveOpened):
        cams = ", ".join(_title(timing, cam) for cam in event.cams)
        return f"Drive opened, readings void: {cams}. Reason: {event.reason}."
    if isinstance(event, GateTicked):
        condition = timing.gate.get(event.condition)
        return f"Seen before the turn: {condition.says if condition else event.condition}."
    if isinstance(event, TurnMade):
        return f"{event.turns} full turns by hand, no hard stop."
    assert isinstance(event, CamsConfirmedAgain), "every event of the timing has its words"
    asked = timing.confirm_before.get(event.step)
    return f"Confirmed right before the step: {asked.says if asked else event.step}."


def _reading(timing: Timing, event: WheelRead) -> str:
    when = "after the turns" if event.turned else "before the turns"
    other = ", in the other turn" if event.other_turn else ""
    return f"{_title(timing, event.cam)}, {event.point}, wheel {event.text}{other}, {when} ({event.gauge})"


def _title(timing: Timing, cam: str) -> str:
    return timing.cams[cam].title if cam in timing.cams else cam
