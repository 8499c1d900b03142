"""A wheel that tests turn: where each point of each cam reads, the wheel set off by an angle and a cam out."""

import math
from collections.abc import Mapping
from datetime import datetime, timedelta

from endfloat.engine.timing import Timing
from endfloat.inspection.wheel import book_angle
from endfloat.job.build import steps_done
from endfloat.job.events import StepConfirmed
from endfloat.problems import Problem
from endfloat.store.memory import MemoryStore
from endfloat.workshop.find_dead_centre import find_dead_centre
from endfloat.workshop.ports import Clock
from endfloat.workshop.read_wheel import read_wheel
from endfloat.workshop.record import load
from endfloat.workshop.timing_view import TimingView, timing_view
from endfloat.workshop.turn_crank import tick_gate, turn_crank
from endfloat.workshop.view import view

TOP = 1.5


def wheel_at(timing: Timing, cam: str, point: str, *, top: float = TOP, late: float = 0.0) -> float:
    """What a wheel shows, from 0 to 360, that reads `top` at the true dead centre, for a cam late by so much."""
    described = timing.cams[cam]
    return (math.degrees(book_angle(described, point) + described.top_at.si) + top + late) % 360


def timing_of(store: MemoryStore, clock: Clock) -> TimingView:
    seen = timing_view(view(load(store)[0]), clock())
    assert seen is not None
    return seen


def find(store: MemoryStore, clock: Clock, key: str = "dc", top: float = TOP, wheel: str = "R1") -> Problem | None:
    """Dead centre, after whatever shuts the gate before it."""
    open_gate(store, clock, key)
    touches = {"before": f"{top - 63:.1f}", "after": f"{top + 63:.1f} °"}
    return find_dead_centre(store, clock, key=key, **touches, seen=True, gauge=wheel, by="Ana")


def open_gate(store: MemoryStore, clock: Clock, word: str = "") -> None:
    start_waits(store, clock, minutes_ago=90)
    for name, condition in timing_of(store, clock).timing.gate.items():
        if condition.clocks or name in timing_of(store, clock).progress.ticks:
            continue
        told = tick_gate(store, clock, key=f"tick/{name}/{word}", condition=name, by="Ana")
        assert told is None, told


def start_waits(store: MemoryStore, clock: Clock, *, minutes_ago: int) -> None:
    """The steps from whose end the waits of the gate run, confirmed so long ago, where they are not done yet."""
    seen = view(load(store)[0])
    waits = {clock for condition in timing_of(store, clock).timing.gate.values() for clock in condition.clocks}
    done = steps_done(seen.engine, seen.state.building)
    at = (datetime.fromisoformat(clock()) - timedelta(minutes=minutes_ago)).isoformat()
    steps = [each.cures_from for each in seen.engine.relations.clocked if each.what in waits]
    begun = [StepConfirmed(step, "Ana", at) for step in steps if step not in done]
    store.append(begun, expected=len(store.entries()), at=clock())


def read_all(
    store: MemoryStore, clock: Clock, word: str, late: Mapping[str, float] | None = None, wheel: str = "R1"
) -> None:
    seen = timing_of(store, clock)
    for name, cam in seen.timing.cams.items():
        for point in seen.missing(name):
            text = f"{wheel_at(seen.timing, name, point, late=(late or {}).get(name, 0.0)):.1f}"
            told = read_wheel(
                store,
                clock,
                key=f"{word}/{name}/{point}",
                cam=name,
                point=point,
                text=text,
                gauge=wheel,
                turned=seen.turned,
                other_turn=False,
                by="Ana",
            )
            assert told is None, (cam.title, told)


def turn(store: MemoryStore, clock: Clock, word: str = "") -> None:
    turns = timing_of(store, clock).timing.turns
    told = turn_crank(store, clock, key=f"turn/{word}", turns=turns, by="Ana")
    assert told is None, told
