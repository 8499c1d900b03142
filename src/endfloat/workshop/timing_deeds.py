"""What every deed of the timing shares."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.inspection.gauges import WHEEL, Gauge
from endfloat.job.state import State
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
