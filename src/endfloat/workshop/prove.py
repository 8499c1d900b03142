"""What a person does at the stage Prove, each written to the record; sending anything twice is harmless."""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.job.events import Event
from endfloat.job.proving_events import (
    EngineStopped,
    FiredAgain,
    FirstFired,
    GaugeLogged,
    Keyed,
    PrimingDone,
    ProvingWithdrawn,
    ReadAgain,
    ReadyTicked,
    ReadyUnticked,
    RecheckDone,
    RunInLogged,
)
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.proving import proved
from endfloat.workshop.record import write
from endfloat.workshop.view import view


def _once(store: Store, clock: Clock, event: Keyed) -> Problem | None:
    """Record what bears a key, unless the record holds that key of proving already."""

    def decide(state: State) -> list[Event] | Problem:
        return [] if event.key in proved(state, clock()).proof.keys else [event]

    return write(store, clock, decide)


def prime(
    store: Store,
    clock: Clock,
    *,
    key: str,
    step: str,
    showed: str,
    by: str,
    looked: Sequence[str] = (),
    second: str = "",
) -> Problem | None:
    """Record that a step of priming is done."""
    done = PrimingDone(key, step, showed.strip(), by.strip(), clock(), tuple(looked), second.strip())
    return _once(store, clock, done)


def tick(store: Store, clock: Clock, *, role: str, items: Sequence[str], by: str) -> Problem | None:
    """Record what one person looked at of a list; what is ticked already stays as it is."""

    def decide(state: State) -> list[Event] | Problem:
        ticks = proved(state, clock()).proof.ticks
        fresh: list[Event] = [ReadyTicked(e, role, by.strip(), clock()) for e in items if (e, role) not in ticks]
        if not fresh and not items:
            return Problem("nothing", "Ready to fire?", "nothing ticked", "a tick", "Look, tick what is so, then save.")
        return fresh

    return write(store, clock, decide)


def untick(store: Store, clock: Clock, *, role: str, item: str, by: str) -> Problem | None:
    """Record that something is not so after all."""

    def decide(state: State) -> list[Event] | Problem:
        ticks = proved(state, clock()).proof.ticks
        return [ReadyUnticked(item, role, by.strip(), clock())] if (item, role) in ticks else []

    return write(store, clock, decide)


def fire(store: Store, clock: Clock, *, by: str, second: str) -> Problem | None:
    """Record that the engine fires: for the first time, or again."""

    def decide(state: State) -> list[Event] | Problem:
        seen = proved(state, clock())
        proof = seen.proof
        if proof.start is not None and (proof.start.by, proof.start.second) == (by.strip(), second.strip()):
            return []
        if seen.out_of_limits:
            remedy = "Put it right and measure again; an engine that does not fit is not started."
            return Problem("out_of_limits", "first fire", seen.out_of_limits, "every place within its limits", remedy)
        start = FirstFired if proof.first is None else FiredAgain
        return [start(by.strip(), second.strip(), clock())]

    return write(store, clock, decide)


def log_gauge(store: Store, clock: Clock, *, key: str, gauge: str, text: str, by: str) -> Problem | None:
    """Record what a gauge shows while the engine runs."""
    return _once(store, clock, GaugeLogged(key, gauge, text.strip(), by.strip(), clock()))


def stop_engine(store: Store, clock: Clock, *, reason: str, planned: bool, by: str) -> Problem | None:
    """Record that the engine was stopped. A blank name is that of the one who started it: nothing delays a stop."""

    def decide(state: State) -> list[Event] | Problem:
        proof = proved(state, clock()).proof
        if proof.start is None and proof.stopped is not None:
            return []
        who = by.strip() or (proof.start.by if proof.start else "")
        return [EngineStopped(reason.strip(), planned, who, clock())]

    return write(store, clock, decide)


def log_run_in(store: Store, clock: Clock, *, key: str, stage: str, lasted: str, words: str, by: str) -> Problem | None:
    """Record a piece of a stage of the run-in; a bare number is in the unit of the stage."""

    def decide(state: State) -> list[Event] | Problem:
        seen = proved(state, clock())
        if key in seen.proof.keys:
            return []
        described = seen.proving.run_in.get(stage)
        unit = described.lasts.unit.shown if described and described.lasts else ""
        text = lasted.strip()
        text = f"{text} {unit}" if text and text[-1].isdigit() and unit else text
        return [RunInLogged(key, stage, text, words.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def recheck(store: Store, clock: Clock, *, key: str, item: str, found: str, right: bool, by: str) -> Problem | None:
    """Record that something was looked at again."""
    return _once(store, clock, RecheckDone(key, item, found.strip(), right, by.strip(), clock()))


def read_again(
    store: Store, clock: Clock, *, key: str, compared: str, spot: tuple[str, str, str], text: str, gauge: str, by: str
) -> Problem | None:
    """Record a reading after the run; a bare number is in the unit that the gauge is marked in."""
    place, station, axis = spot

    def decide(state: State) -> list[Event] | Problem:
        seen = proved(state, clock())
        if key in seen.proof.keys:
            return []
        job = view(state)
        each = seen.proving.compare.get(compared)
        if each is not None:
            described = seen.engine.characteristics[each.of]
            register = job.gauges.get(gauge)
            if register is None or register.kind is not described.kind:
                expected = f"a gauge for {described.kind.value} of the register"
                return Problem("unknown_gauge", each.title, f"`{gauge}`", expected, "Choose a gauge.")
            typed = text.strip()
            text_with_unit = f"{typed} {register.resolution.unit.shown}" if typed[-1:].isdigit() else typed
            return [ReadAgain(key, compared, place, station, axis, text_with_unit, gauge, by.strip(), clock())]
        return [ReadAgain(key, compared, place, station, axis, text, gauge, by.strip(), clock())]

    return write(store, clock, decide)


def withdraw(store: Store, clock: Clock, *, key: str, reason: str, by: str) -> Problem | None:
    """Record that an entry of proving no longer counts."""

    def decide(state: State) -> list[Event] | Problem:
        gone = proved(state, clock()).proof.withdrawn
        return [] if key in gone else [ProvingWithdrawn(key, reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)
