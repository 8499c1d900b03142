"""Before the next step: must somebody look at the last ones? Asked of the record with its times, person by person."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from endfloat.engine.model import Engine
from endfloat.job.build import laid_out, steps_done
from endfloat.job.clock_words import duration
from endfloat.job.conditions import kept_now, lost_conditions
from endfloat.job.description import engine_of
from endfloat.job.events import Event
from endfloat.job.pauses import away, last_steps, presence, stopped
from endfloat.job.state import State
from endfloat.job.wire import Entry, from_body
from endfloat.problems import Problem

YES, NO = "yes", "no"


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked before work goes on: why, in a sentence, the steps to look at, and what must still be true."""

    why: str
    steps: tuple[str, ...]
    kept: tuple[str, ...]


def question_of(
    state: State, entries: Sequence[Entry], now: str, by: str, operation: str | None = None
) -> Question | None:
    """What a person is asked before a step is done; None where he may go on.

    Without a name the question is asked of whoever made the last entry, and without a step nothing is taken off for
    the time that the step in hand takes.
    """
    if state.opened is None:
        return None
    engine = engine_of(state.opened.engine)
    done = steps_done(engine, state.building)
    left = [step for step in laid_out(engine, state.building) if step not in done]
    if not done or not (operation or left):
        return None
    why = why_asked(state, engine, entries, now, by, operation)
    return asked(state, why) if why else None


def asked(state: State, why: str) -> Question:
    """The question itself, whatever the reason."""
    engine = engine_of(state.opened.engine if state.opened else "")
    done = steps_done(engine, state.building)
    lost = lost_conditions(engine, state.building)
    kept = tuple(each.state for each in kept_now(engine, done) if each.state not in lost)
    return Question(why, last_steps(done), tuple(dict.fromkeys(kept)))


def why_asked(state: State, engine: Engine, entries: Sequence[Entry], now: str, by: str, operation: str | None) -> str:
    """Why the question is asked; nothing where it is not."""
    stop = stopped(state.building)
    if stop is not None:
        return f"{stop.by} stopped the work: {stop.why}."
    told = [(entry.at, from_body(entry.body)) for entry in entries]
    name = by.strip() or last_name(told)
    own = presence(told, name)
    if not own:
        return f"{name} has not worked on this build yet." if name else ""
    gone = away(engine, own, now, operation)
    if gone is None:
        return ""
    spent = duration(60 * gone.minutes)
    return f"You were away {spent}." if gone.until == now else f"You were away {spent} before your last entries."


def look_first(state: State, entries: Sequence[Entry], now: str, by: str, operation: str) -> Problem | None:
    """Why a step is not done before the last ones were looked at."""
    question = question_of(state, entries, now, by, operation) if by.strip() else None
    if question is None or state.opened is None:
        return None
    title, found = engine_of(state.opened.engine).operations[operation].title, question.why.rstrip(".")
    remedy = "Look at the last steps first: open “The last steps” and answer for each."
    return Problem("look_first", title, found, "the last steps looked at", remedy)


def last_name(told: Sequence[tuple[str, Event]]) -> str:
    """Who made the last entry that bears a name."""
    return next((name for _, event in reversed(told) if (name := getattr(event, "by", "").strip())), "")
