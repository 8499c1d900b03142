"""What every deed of the timing shares."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.assembly.now import reopens
from endfloat.inspection.gauges import WHEEL, Gauge
from endfloat.job.build import steps_done
from endfloat.job.description import engine_of
from endfloat.job.state import State
from endfloat.job.timing import timing_after
from endfloat.job.timing_events import DriveOpened
from endfloat.problems import Problem, quoted


def recorded(state: State, key: str) -> bool:
    """Whether an entry of the timing bears this key already."""
    return any(event.key == key for event in state.timing)


def wheel_refused(register: Mapping[str, Gauge], gauge: str) -> Problem | None:
    """Why a wheel cannot be read with; None when the register has it as a degree wheel."""
    wheels = [name for name, each in register.items() if each.sort == WHEEL]
    if gauge in wheels:
        return None
    if wheels:
        return Problem("unknown_gauge", "the wheel", quoted(gauge), f"one of {', '.join(wheels)}", "Choose a wheel.")
    remedy = f"Add it to the gauges file with `sort: {WHEEL}`, its step, error and repeat, then read the file again."
    return Problem("no_wheel", "the wheel", "no degree wheel in the register", "one", remedy)


def drive_opened_by(state: State, operation: str, *, by: str, at: str) -> list[DriveOpened]:
    """What undoing a step does to the timing: the drive is open where it or a step that falls with it closed it."""
    engine = engine_of(state.opened.engine if state.opened else "")
    timing = engine.timing
    if timing is None:
        return []
    fallen = {operation, *reopens(engine, steps_done(engine, state.building), operation)}
    progress = timing_after(timing, state.timing)
    if not fallen & set(timing.opened_by) or not (progress.readings or progress.ticks or progress.turned):
        return []
    title = engine.operations[operation].title
    return [DriveOpened(f"undone/{len(state.timing)}", tuple(timing.cams), f"Undone: {title}", by, at)]
