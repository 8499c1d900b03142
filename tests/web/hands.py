"""Hands at the bench, for tests: a step of the build done with whatever holds it, bolt by bolt and cam by cam."""

from itertools import product
from typing import Protocol, runtime_checkable

from fastapi.testclient import TestClient
from timing_bench import find, read_all, timing_of, turn

from endfloat.assembly.tightening import amount_of, apart_left, left_in_pass
from endfloat.engine.asks import Asks, asks_of
from endfloat.engine.joints import Joint
from endfloat.engine.proving import Proving
from endfloat.engine.timing import Timing
from endfloat.job.parts import parts_in
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import build_of
from endfloat.workshop.close_joint import close_joint
from endfloat.workshop.confirm_cams import confirm_cams
from endfloat.workshop.fit_bolt_set import fit_bolt_set, sorts_in_sequence
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.prove import fire, prime, tick
from endfloat.workshop.pull_bolt import fitting_gauges, gauges_of, pull_bolt
from endfloat.workshop.record import load
from endfloat.workshop.sheets import work_agreed
from endfloat.workshop.take_in_parts import parts_expected, take_in
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.take_work_back import take_work_back
from endfloat.workshop.tightening import JointView, joint_view
from endfloat.workshop.view import view
from endfloat.workshop.wrench import out_of_range


@runtime_checkable
class Turned(Protocol):
    """A clock that a test turns on."""

    def go_on(self, *, minutes: int) -> None: ...


def do_step(page: TestClient, store: MemoryStore, clock: Clock, step: str) -> int:
    """Take the time that the step takes, pull what it pulls, then confirm it; the status of the answer."""
    build = build_of(load(store)[0])
    if isinstance(clock, Turned):
        clock.go_on(minutes=build.step(step).minutes)
    pulls = build.step(step).pulls
    if pulls is not None:
        tighten(store, clock, pulls.joint, pulls.passes, close=pulls.closed)
    take_in_for(store, clock, step)
    read_again_for(store, clock, step)
    if build.engine.timing is not None and build.engine.timing.concerns(step):
        time_for(store, clock, build.engine.timing, step)
    if build.engine.proving and step in {item.until for item in build.engine.proving.ready.values()}:
        fire_for(store, clock, build.engine.proving)
    form = {"by": "Ana", "second": "Bo", **answers(asks_of(build.engine, step))}
    return page.post(f"/build/{step}/done", data=form, follow_redirects=False).status_code


def take_in_for(store: Store, clock: Clock, step: str) -> None:
    """Take in every part that the step fits and that is not in yet, all looked at."""
    state = load(store)[0]
    here = parts_in(state.arrivals)
    for name, part in parts_expected(state).items():
        left = part.count - here.get(name, 0)
        if step in part.fitted_by and left:
            key = f"{name} in"
            assert take_in(store, clock, key=key, part=name, count=str(left), by="Bo", looked=part.looks) is None


def bring_all_in(store: Store, clock: Clock) -> None:
    """All that was agreed is here: what was bought counted in, what went out back from the shop."""
    for name, part in parts_expected(load(store)[0]).items():
        left = part.count - parts_in(load(store)[0].arrivals).get(name, 0)
        if left:
            key = f"{name} in"
            assert take_in(store, clock, key=key, part=name, count=str(left), by="Bo", looked=part.looks) is None
    for name, (_, back) in work_agreed(view(load(store)[0])).items():
        if back is None:
            assert take_work_back(store, clock, key=f"{name} back", decision=name, by="Bo") is None


def read_again_for(store: MemoryStore, clock: Clock, step: str) -> None:
    """Read what a step reads anew: 0.150 mm of end float, the middle of what the example allows."""
    engine = build_of(load(store)[0]).engine
    for measured in (each for each in engine.operations[step].measures if each.again):
        described = engine.characteristics[measured.of]
        for place in measured.at or engine.places_of(measured.of):
            for station, axis in product(described.stations, described.axes):
                spot, key = (measured.of, place, station, axis), f"again {place} {station} {axis} {clock()}"
                assert take_reading(store, clock, key=key, spot=spot, text="0.150 mm", gauge="D1", by="Ana") is None


def fire_for(store: MemoryStore, clock: Clock, proving: Proving) -> None:
    """Prime it, tick both lists and fire: Ana on the first list, Bo on the second."""
    for name, step in proving.priming.items():
        showed = f"{step.shows.low.text}" if step.shows and step.shows.low else ""
        looked = [look.what for look in step.looks]
        told = prime(store, clock, key=name, step=name, showed=showed, by="Ana", looked=looked, second="Bo")
        assert told is None, told
    for role, by in (("first", "Ana"), ("second", "Bo")):
        items = [name for name, item in proving.ready.items() if item.who in (role, "both")]
        assert tick(store, clock, role=role, items=items, by=by) is None
    told = fire(store, clock, by="Ana", second="Bo")
    assert told is None, told


def answers(asks: Asks) -> dict[str, str | list[str]]:
    """The fields of a step's page, each answered as it should be."""
    counted = {f"counted {what}": str(wanted) for what, wanted in asks.counts.items()}
    hidden = {f"hidden {part}": "renewed" for part in asks.hides}
    return {"looked": [look.what for look in asks.looks], "mark": asks.mark, **counted, **hidden}


def time_for(store: MemoryStore, clock: Clock, timing: Timing, step: str) -> None:
    """What the timing asks of a step: cams confirmed right before it, the turns, the cams read."""
    if step in timing.confirm_before:
        assert confirm_cams(store, clock, key=f"again/{step}/{clock()}", step=step, by="Ana") is None
    if step == timing.turn_at:
        wheel = timing_of(store, clock).wheels[0]
        assert find(store, clock, key=f"dead centre/{clock()}", wheel=wheel) is None
        turn(store, clock)
    if step in timing.at:
        read_all(store, clock, f"read at {step}", wheel=timing_of(store, clock).wheels[0])


def tighten(store: Store, clock: Clock, name: str, passes: list[int], *, close: bool) -> None:
    """Put a set in where none is, pull the passes in sequence, and close the joint."""
    joint = seen(store, name).joint
    if not seen(store, name).progress.fitted:
        stated = {sort: lubrication(joint, sort) for sort in sorts_in_sequence(joint)}
        assert (
            fit_bolt_set(store, clock, key=f"{name}/in", joint=name, bolts=f"{name} set 1", stated=stated, by="Ana")
            is None
        )
    for number in passes:
        for bolt in left_in_pass(joint, seen(store, name).progress, number):
            pull(store, clock, name, number, bolt)
    for bolt in apart_left(joint, seen(store, name).progress) if close else ():
        pull(store, clock, name, 0, bolt)
    if close:
        assert close_joint(store, clock, key=f"{name}/shut", joint=name, by="Ana") is None


def pull(store: Store, clock: Clock, name: str, number: int, bolt: str) -> None:
    joint, register = seen(store, name).joint, gauges_of(load(store)[0])
    fitting, amount = fitting_gauges(joint, number, bolt, register), amount_of(joint, number, bolt)
    reaching = [each for each in fitting if amount and out_of_range(each, register[each], amount, name) is None]
    gauge = next(iter([*reaching, *fitting]), "by hand")
    key = f"{name}/{number}/{bolt}"
    told = pull_bolt(store, clock, key=key, joint=name, pass_number=number, bolt=bolt, gauge=gauge, by="Ana")
    assert told is None, told


def lubrication(joint: Joint, sort: str) -> tuple[str, str]:
    """What the book says, or oil where it says nothing."""
    book = joint.bolts[sort].lubrication
    return (book.thread, book.head) if book else ("oil", "oil")


def seen(store: Store, name: str) -> JointView:
    found = joint_view(load(store)[0], name)
    assert isinstance(found, JointView)
    return found
