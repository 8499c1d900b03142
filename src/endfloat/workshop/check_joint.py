"""A check between passes is answered at one place: a reading with its gauge, or yes or no."""

from __future__ import annotations

import math
from decimal import Decimal

from endfloat.engine.passes import Check
from endfloat.inspection.gauges import Gauge
from endfloat.job.events import Event
from endfloat.job.joint_events import JointChecked
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.pull_bolt import gauges_of
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def check_joint(
    store: Store, clock: Clock, *, key: str, joint: str, check: str, place: str, text: str, gauge: str, by: str
) -> Problem | None:
    """Record the answer; whether it is good follows from the limit. A Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        if seen.recorded_under(key) is not None:
            return []
        described = seen.joint.checks.get(check)
        typed = _with_unit(described, text.strip())
        within = "" if described is None else _what_it_can_tell(described, gauge, gauges_of(state), seen.joint.title)
        if isinstance(within, Problem):
            return within
        fitted = seen.progress.fitted
        return [JointChecked(key, joint, fitted, check, place, typed, gauge.strip(), within, by.strip(), clock())]

    return write(store, clock, decide)


def gauges_for(check: Check, register: dict[str, Gauge]) -> list[str]:
    """The registered gauges that measure what the check reads."""
    return [name for name, gauge in register.items() if check.reads is not None and gauge.kind is check.reads]


def unit_shown(check: Check) -> str:
    """The unit that the page shows beside the box: that of the limit."""
    bound = check.high or check.low
    return bound.unit.shown if bound else ""


def _with_unit(check: Check | None, text: str) -> str:
    if check is None or check.reads is None:
        return text
    read = read_typed(text, kind=check.reads, place="", default_unit=unit_shown(check) or None)
    return read.text if isinstance(read, Typed) else text


def _what_it_can_tell(check: Check, gauge: str, register: dict[str, Gauge], title: str) -> str | Problem:
    """Twice the standard uncertainty of one reading with this gauge (JCGM 100:2008 6.3.3 gives the factor)."""
    if check.reads is None:
        return ""
    fitting = gauges_for(check, register)
    if not gauge.strip():
        return Problem("no_gauge", title, "no gauge", f"a gauge for {check.reads.value}", "Name the gauge.")
    if gauge not in fitting:
        # A register without any gauge of the kind must not stop the work: the name as typed is then kept.
        expected = f"a gauge for {check.reads.value}: {', '.join(fitting)}"
        return Problem("wrong_gauge", title, f"`{gauge}`", expected, "Choose it.") if fitting else ""
    used = register[gauge]
    half, repeat, step = (float(each.decimal * each.unit.factor) for each in (used.error, used.repeat, used.resolution))
    expanded = 2 * math.sqrt(half**2 / 3 + repeat**2 + step**2 / 12)
    unit = used.resolution.unit
    return f"{Decimal(f'{expanded / float(unit.factor):.1e}'):f} {unit.shown}".strip()
