"""Readings that a step of the build takes anew: what was read before its turn came no longer speaks for the engine."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences
from endfloat.job.description import engine_of
from endfloat.job.events import ReadingTaken, StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.state import State


def turns_of(engine: Engine, state: State, step: str) -> list[int]:
    """How many entries of the build stood each time that the last step before this one was done; often only once."""
    first = {link.first for link in precedences(engine) if link.then == step}
    done: set[str] = set()
    turns = [] if first else [0]
    for number, event in enumerate(state.building, 1):
        if isinstance(event, StepConfirmed | StepDoneAgainstAdvice) and event.operation in first:
            done.add(event.operation)
            turns += [number] if done == first else []
    return turns


def superseded(state: State) -> dict[str, str]:
    """The key of each reading whose place its step has begun to read anew, with the title of that step."""
    if state.opened is None:
        return {}
    engine, older = engine_of(state.opened.engine), dict[str, str]()
    for name, step in engine.operations.items():
        for measured in (each for each in step.measures if each.again):
            turns = turns_of(engine, state, name)
            for place in measured.at or engine.places_of(measured.of):
                here = [each for each in state.standing if (each.characteristic, each.place) == (measured.of, place)]
                older |= dict.fromkeys((each.key for each in _before_the_last_turn(state, here, turns)), step.title)
    return older


def _before_the_last_turn(state: State, here: list[ReadingTaken], turns: list[int]) -> Iterable[ReadingTaken]:
    """Those of one place that were taken before the last turn after which anything was read there."""
    latest = max((state.built[taken.key] for taken in here), default=0)
    since = max((turn for turn in turns if turn <= latest), default=0)
    return (taken for taken in here if state.built[taken.key] < since)


def not_read_again(state: State, step: str, of: str, places: list[str]) -> list[str]:
    """The places at which no reading was taken since the turn of a step came."""
    turns = turns_of(engine_of(state.opened.engine if state.opened else ""), state, step)
    read = {taken.place for taken in state.standing if taken.characteristic == of and _since(state, taken, turns)}
    return [place for place in places if place not in read]


def _since(state: State, taken: ReadingTaken, turns: list[int]) -> bool:
    return bool(turns) and state.built[taken.key] >= turns[-1]
