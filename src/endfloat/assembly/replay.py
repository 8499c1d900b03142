"""Random orders that keep every relation, drawn by a walk over the sets of steps done. The chance is an argument."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

from endfloat.assembly.compiled import Compiled
from endfloat.assembly.search import START_CLOCK, State, after, open_steps, ready_after

Chance = Callable[[int], int]
"""A whole number from 0 up to and without the one given."""
TRIES = 20


def random_orders(compiled: Compiled, chance: Chance, count: int) -> Iterator[tuple[str, ...]]:
    """Up to `count` orders; fewer where walk after walk ends where nothing may be done."""
    return islice(_drawn(compiled, chance, count * TRIES), count)


def _drawn(compiled: Compiled, chance: Chance, tries: int) -> Iterator[tuple[str, ...]]:
    for _ in range(tries):
        steps = _walk(compiled, chance)
        if steps:
            yield tuple(compiled.ids[step] for step in steps)


def _walk(compiled: Compiled, chance: Chance) -> list[int]:
    """One order step by step; empty where it ran into a state from which nothing may be done."""
    state: State = (0, 0, 0, False, (START_CLOCK,) * len(compiled.timers), 0)
    ready = tuple(step for step, needs in enumerate(compiled.needs) if not needs)
    steps: list[int] = []
    while len(steps) < len(compiled.ids):
        choices = [(step, moved[0]) for step in open_steps(compiled, state[0], ready)
                   if (moved := after(compiled, state, step))]  # fmt: skip
        if not choices:
            return []
        step, state = choices[chance(len(choices))]
        ready = ready_after(compiled, ready, step, state[0])
        steps.append(step)
    return steps
