"""Everything that holds a step of the build now: what it measures, the joint it pulls, the parts that it takes up."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.violations import Violation
from endfloat.engine.operations import Measured
from endfloat.engine.proving import Proving
from endfloat.inspection.verdicts import Verdict
from endfloat.inspection.words import label
from endfloat.job.build import steps_done
from endfloat.job.conditions import condition_holds
from endfloat.job.holds import joint_holds
from endfloat.job.parts import ARRIVED, part_holds
from endfloat.job.proof import fire_holds
from endfloat.job.strip_rules import gate_holds
from endfloat.workshop.read_again import not_read_again
from endfloat.workshop.sheets import bought_agreed, described, work_agreed
from endfloat.workshop.take_in_parts import parts_expected
from endfloat.workshop.timing_holds import timing_holds
from endfloat.workshop.view import View

MEASURED, OUT, NOT_BACK = "measured", "out", "not_back"


def holds(seen: View, operation: str) -> list[Violation]:
    """Why a step may not be confirmed yet, apart from the order; empty when nothing holds it."""
    wanted = seen.engine.operations[operation].measures if operation in seen.engine.operations else []
    found = [each for measured in wanted for each in _measured(seen, operation, measured)]
    done = steps_done(seen.engine, seen.state.building)
    lost = condition_holds(seen.engine, seen.state.building, operation)
    parts = part_holds(parts_expected(seen.state), seen.state.arrivals, operation)
    gates = gate_holds(seen.engine, seen.state.strip, operation)
    tight = joint_holds(seen.engine, seen.state.tightening, operation, done)
    fire = fire_holds(seen.engine.proving or Proving(), seen.state.proving, operation)
    return [*fire, *parts, *_work_out(seen, operation), *found, *gates, *lost, *tight, *timing_holds(seen, operation)]


def _work_out(seen: View, operation: str) -> Iterable[Violation]:
    """A step that closes something waits for the agreed work that alters a size: closed in, it is done no more."""
    step, agreed = seen.engine.operations.get(operation), seen.state.agreed
    if step is None or agreed is None or not step.closes:
        return
    decisions = described(seen).decisions
    options = {name: decisions[name].options[agreed.choice[name]] for name in work_agreed(seen)}
    waits = {
        name: title
        for name, (title, back) in work_agreed(seen).items()
        if back is None and (options[name].sets or options[name].moves or options[name].renews)
    }
    bought = bought_agreed(seen)
    out = ", ".join(title for name, title in waits.items() if name not in bought)
    if out:
        words = f"Agreed, and not back yet: {out}. Say on the sheets when it is back."
        yield Violation(NOT_BACK, (operation,), words)
    to_come = ", ".join(title for name, title in waits.items() if name in bought)
    if to_come:
        words = f"Agreed, and not all in yet: {to_come}. Count the parts in when they come."
        yield Violation(ARRIVED, (operation,), words)


def places_of(seen: View, measured: Measured) -> list[str]:
    """Where a step measures: the places it names, or all."""
    return measured.at or list(seen.engine.places_of(measured.of))


def _measured(seen: View, operation: str, measured: Measured) -> Iterable[Violation]:
    """Only what is good passes; a characteristic without a limit has to be read, and one that is read again anew."""
    places = places_of(seen, measured)
    for place in not_read_again(seen.state, operation, measured.of, places) if measured.again else ():
        if (measured.of, place) not in seen.state.left:
            words = f"{label(seen.engine, measured.of, place)}: read it again now."
            yield Violation(MEASURED, (operation,), f"{words} What was read before this step was due does not free it.")
    judged = [finding for finding in seen.findings if finding.on == measured.of and finding.place in places]
    for finding in judged:
        if finding.verdict is not Verdict.GOOD:
            words = (
                f"{label(seen.engine, finding.on, finding.place)}: {finding.verdict.words}. {finding.reason}".strip()
            )
            yield Violation(OUT if finding.verdict is Verdict.OUT else MEASURED, (operation,), words)
    described = seen.engine.characteristics.get(measured.of)
    if judged or described is None or described.given is not None:
        return
    taken = seen.taken_spots
    for place in places:
        spots = [(measured.of, place, station, axis) for station in described.stations for axis in described.axes]
        if any(spot not in taken for spot in spots) and (measured.of, place) not in seen.state.left:
            yield Violation(MEASURED, (operation,), f"{label(seen.engine, measured.of, place)}: not measured yet.")
