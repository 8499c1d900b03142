"""What the clocks allow: whether a step may be done at this time, and what may be recorded of a clock."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.relations import Clocked
from endfloat.engine.sentences import capital
from endfloat.job.clock_events import ClockEnded, ClockEvent, ClockStarted
from endfloat.job.clock_words import band_words, words
from endfloat.job.clocks import Run, Timer, minutes_at, runs_of, timers
from endfloat.job.events import BuildEvent
from endfloat.problems import Problem
from endfloat.quantities.typed_text import read_typed
from endfloat.quantities.units import Kind

TOO_LATE, TOO_EARLY, NEVER_EARLY = "too_late", "too_early", "never_early"


def clock_holds(engine: Engine, events: Iterable[BuildEvent], operation: str, at: str) -> list[Violation]:
    """Why the clock lets a step not be done at this time; empty where it does."""
    return [
        Violation(_relation(engine, each), (operation,), words(each))
        for each in timers(engine, events, at)
        if operation in each.steps and _is_shut(engine, each)
    ]


def told_late(engine: Engine, events: Iterable[BuildEvent], operation: str, at: str) -> list[str]:
    """What is said of a step that comes too late where the description lets it pass."""
    return [
        words(each)
        for each in timers(engine, events, at)
        if operation in each.steps and each.sort == "finish before" and each.is_over and not _is_shut(engine, each)
    ]


def clock_refusal(engine: Engine, events: tuple[BuildEvent, ...], event: ClockEvent) -> Problem | None:
    """Why this may not be recorded of a clock now; None when it may."""
    clock = next((each for each in engine.relations.clocked if each.what == event.clock), None)
    if clock is None:
        return Problem("unknown_clock", event.clock, "no such clock", "a clock of this engine", "Choose it again.")
    name = capital(event.clock)
    if not event.by.strip():
        return Problem("no_name", name, "no name", "who says so", "Type a name; it goes on the record.")
    if event.key in {each.key for each in events if isinstance(each, ClockEvent)}:
        return Problem("key_used", name, "a key used before", "a new key", "Send it under a new key.")
    run = runs_of(engine, events)[0][event.clock]
    if isinstance(event, ClockEnded):
        return _ending_refused(name, run, event)
    if run.closed and (clock.cure_minutes is None or not clock.bands):
        return Problem("clock_closed", name, "closed already", "a clock still to start", "Re-open its step first.")
    if run.open_from and not clock.bands:
        return Problem("clock_runs", name, "running already", "a clock that stands", "It began when it was started.")
    return _temperature_refused(clock, event) if clock.bands else None


def _ending_refused(name: str, run: Run, event: ClockEnded) -> Problem | None:
    if run.started:
        remedy = "Undo the step that started it: the clock ends with it."
        return Problem("clock_of_step", name, "a clock that a step started", "one started by hand", remedy)
    if not run.by_hand:
        return Problem("clock_stands", name, "a clock that stands", "one that runs", "Look at the clocks again.")
    if not event.reason.strip():
        return Problem("no_reason", name, "no reason", "a reason", "Say in a word or two why it no longer counts.")
    return None


def _temperature_refused(clock: Clocked, event: ClockStarted) -> Problem | None:
    name, told = capital(clock.what), "; ".join(band_words(clock))
    read = read_typed(event.temperature, kind=Kind.TEMPERATURE, place=name)
    if isinstance(read, Problem):
        return read
    if minutes_at(clock, read) is None:
        remedy = "Wait until it is as warm as that, or look the time up and write it into the description."
        return Problem("no_band", name, read.text, f"a temperature with a time: {told}", remedy)
    return None


def _is_shut(engine: Engine, timer: Timer) -> bool:
    if timer.sort == "not before":
        return not timer.is_over
    return timer.seconds_left < 0 and _clock(engine, timer).late == "shut"


def _relation(engine: Engine, timer: Timer) -> str:
    if timer.sort == "finish before":
        return TOO_LATE
    return NEVER_EARLY if _clock(engine, timer).never_signed else TOO_EARLY


def _clock(engine: Engine, timer: Timer) -> Clocked:
    return next(each for each in engine.relations.clocked if each.what == timer.clock)
