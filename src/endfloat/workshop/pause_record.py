"""Clocks and pauses as lines of the build record."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.engine.sentences import capital
from endfloat.job.clock_events import ClockEnded, ClockEvent, ClockStarted
from endfloat.job.pause_events import ConditionLost, PauseEvent, WorkStopped


def clock_or_pause(engine: Engine, event: ClockEvent | PauseEvent) -> str:
    """One entry in a line, with who and when."""
    return f"{_told(engine, event)}. {event.by}, {event.at[:16].replace('T', ' ')}"


def _told(engine: Engine, event: ClockEvent | PauseEvent) -> str:
    if isinstance(event, ClockStarted):
        warmth = f", at {event.temperature}" if event.temperature else ", started by hand"
        return f"Clock: {capital(event.clock)}{warmth}"
    if isinstance(event, ClockEnded):
        return f"Clock ended: {capital(event.clock)}. Reason: {event.reason}"
    if isinstance(event, ConditionLost):
        return f"No longer true: {event.condition}"
    if isinstance(event, WorkStopped):
        told = f" Loose: {' '.join(event.loose)}" if event.loose else ""
        return f"STOPPED: {event.why}.{told}".rstrip(".")
    so = ", ".join(engine.operations[step].title for step in event.still_so if step in engine.operations)
    return f"Taken up again. Looked at, and still so: {so or 'nothing'}"
