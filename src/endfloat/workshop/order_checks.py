"""Look at an order without recording anything: one as typed or with a step moved, and what the relations may miss."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from endfloat.assembly.check import check
from endfloat.assembly.cost import Cost, cost_of
from endfloat.assembly.counters import Counter, count_questions, counters
from endfloat.assembly.hunt import Question, against_strip, replayed, unanswered
from endfloat.assembly.strip_hunt import not_kept
from endfloat.assembly.typed_order import read_order, read_strip
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.problems import Problem

FIRST = ""
"""Where a step goes that is moved to the very front."""


@dataclass(frozen=True, slots=True)
class OrderChecked:
    """An order, what is wrong with its lines, what it breaks, and what it costs when its lines are right."""

    order: tuple[str, ...]
    problems: tuple[Problem, ...] = ()
    violations: tuple[Violation, ...] = ()
    cost: Cost | None = None


@dataclass(frozen=True, slots=True)
class Hunted:
    """Questions and counts, how many random orders were replayed, and what is wrong with a typed strip order."""

    questions: tuple[Question, ...]
    counters: tuple[Counter, ...]
    drawn: int = 0
    problems: tuple[Problem, ...] = ()


def check_typed(engine: Engine, text: str) -> OrderChecked:
    """Check an order of one operation a line."""
    read = read_order(text.encode(), name="the order", engine=engine)
    if isinstance(read, list):
        return OrderChecked((), tuple(read))
    return OrderChecked(read, (), tuple(check(engine, read)), cost_of(engine, read))


def moved(order: Sequence[str], step: str, after: str) -> tuple[str, ...]:
    """The order with one step moved to stand after another, or to the front; as it was where either is not in it."""
    if step not in order or (after != FIRST and after not in order) or step == after:
        return tuple(order)
    rest = [each for each in order if each != step]
    at = 0 if after == FIRST else rest.index(after) + 1
    return (*rest[:at], step, *rest[at:])


def hunt(engine: Engine, *, orders: int = 0, seed: int = 1, strip: str = "", recorded: Sequence[str] = ()) -> Hunted:
    """What the relations may have forgotten, with so many random orders replayed.

    A typed strip order is held to it, and `recorded`, the steps that put back what came off on the record.
    """
    chance = np.random.default_rng(seed)
    removed = read_strip(strip.encode(), name="the strip", engine=engine)
    problems = tuple(removed) if isinstance(removed, list) else ()
    drawn, shut_in = replayed(engine, lambda below: int(chance.integers(below)), orders) if orders else (0, [])
    contradicted = [] if isinstance(removed, list) else against_strip(engine, removed)
    told = against_strip(engine, recorded)
    asked = [*unanswered(engine), *not_kept(engine), *shut_in, *told, *contradicted, *count_questions(engine)]
    return Hunted(tuple(dict.fromkeys(asked)), tuple(counters(engine)), drawn, problems)
