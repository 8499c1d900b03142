"""Pull one bolt in one pass; sending it twice is harmless."""

from __future__ import annotations

from endfloat.assembly.tightening import amount_of, left_in_pass
from endfloat.engine.joints import Joint
from endfloat.inspection.gauges import Gauge, read_gauges
from endfloat.job.events import BoltPulled, Event, PassCompleted
from endfloat.job.state import State, refusal
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def pull_bolt(
    store: Store, clock: Clock, *, key: str, joint: str, pass_number: int, bolt: str, gauge: str, by: str
) -> Problem | None:
    """Record a pull, and the end of its pass when it was the last one; a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        before = seen.recorded_under(key)
        if isinstance(before, BoltPulled) and (before.pass_number, before.bolt) == (pass_number, bolt):
            return []
        fitted = seen.progress.fitted
        pulled = BoltPulled(key, joint, fitted, pass_number, bolt, gauge.strip(), by.strip(), clock())
        # Which bolt and pass come first: a gauge for the wrong pass would be the lesser news.
        wrong = refusal(state, pulled) or _wrong_gauge(seen.joint, pass_number, bolt, gauge, gauges_of(state))
        if wrong:
            return wrong
        events: list[Event] = [pulled]
        if pass_number > 0 and left_in_pass(seen.joint, seen.progress, pass_number) == (bolt,):
            events.append(PassCompleted(joint, fitted, pass_number))
        return events

    return write(store, clock, decide)


def gauges_of(state: State) -> dict[str, Gauge]:
    """The register kept in the job; none when it cannot be read."""
    register = read_gauges(state.opened.gauges.encode(), name="gauges.yaml") if state.opened else {}
    return register if isinstance(register, dict) else {}


def fitting_gauges(joint: Joint, pass_number: int, bolt: str, register: dict[str, Gauge]) -> list[str]:
    """The registered gauges that measure what this pull is told in."""
    amount = amount_of(joint, pass_number, bolt)
    return [name for name, gauge in register.items() if amount and gauge.kind is amount.unit.kind]


def _wrong_gauge(joint: Joint, pass_number: int, bolt: str, gauge: str, register: dict[str, Gauge]) -> Problem | None:
    amount = amount_of(joint, pass_number, bolt)
    if amount is None:
        return None
    fitting = fitting_gauges(joint, pass_number, bolt, register)
    kind = amount.unit.kind.value
    if not gauge.strip():
        return Problem("no_gauge", joint.title, "no gauge", f"a gauge for {kind}", "Name the gauge; it is recorded.")
    # A register without any gauge of the kind must not stop the work: the name as typed is then kept.
    if fitting and gauge not in fitting:
        found = f"`{gauge}`"
        return Problem("wrong_gauge", joint.title, found, f"a gauge for {kind}: {', '.join(fitting)}", "Choose it.")
    return None
