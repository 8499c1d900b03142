"""Layer by layer over the sets of steps done: the machinery under the cheapest order.

All orders that have the same steps behind them, the same tools in hand, the engine in the same attitude, a helper
there or not, the same minutes on every running clock, and crank and cams in the same state can go on in the same ways;
only the cheapest is kept.
A price is one whole number: calls, turns and tool changes in its upper, middle and lower bits.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from endfloat.assembly.bound import remaining_cost
from endfloat.assembly.compiled import REFUSED, Compiled, Timer
from endfloat.assembly.cost import Cost

FORBIDDEN = -2
START_CLOCK = -1
CALL, TURN = 1 << 32, 1 << 16

State = tuple[int, int, int, bool, tuple[int, ...], int]
"""Steps done as a mask, tools in hand, attitude, helper there, minutes on each clock, state of crank and cams."""
Layer = dict[State, tuple[int, State, int]]
"""State to its price, the state it came from, and the step that led there."""


def packed(cost: Cost) -> int:
    """A cost as a price."""
    return cost.helper_calls * CALL + cost.turns * TURN + cost.tool_changes


def unpacked(price: int) -> Cost:
    """A price as a cost."""
    return Cost(price // CALL, price % CALL // TURN, price % TURN)


@dataclass(frozen=True, slots=True)
class Floor:
    """What no order undercuts: calls with turns, compared from the left, and tool changes."""

    calls_and_turns: int = 0
    tool_changes: int = 0

    def lift(self, price: int) -> int:
        """A lower bound made no lower than the floor."""
        return max(price // TURN * TURN, self.calls_and_turns) + max(price % TURN, self.tool_changes)


@dataclass(frozen=True, slots=True)
class Found:
    """The cheapest found, if any, with its steps; a bound that holds anyway; whether anything was left out."""

    best: tuple[int, list[int]] | None
    bound: int
    dropped: bool


def search(compiled: Compiled, *, cap: int, below: int | None = None, floor: Floor = Floor()) -> Found:
    """The cheapest order among at most `cap` states a layer; what cannot become cheaper than `below` is left out."""
    remaining = remaining_cost(compiled)
    start: State = (0, 0, 0, False, (START_CLOCK,) * len(compiled.timers), 0)
    layers: list[Layer] = [{start: (0, start, -1)}]
    ready = {0: tuple(step for step, needs in enumerate(compiled.needs) if not needs)}
    bounds = [] if below is None else [below]
    for _ in compiled.ids:
        reached, ready = _next_layer(compiled, layers[-1], ready)
        ahead = {done: remaining.ahead(steps) for done, steps in ready.items()}
        ranked = sorted(
            (entry[0] + remaining.least(ahead[state[0]], *state[1:4]), state) for state, entry in reached.items()
        )
        if below is not None:
            ranked = [each for each in ranked if floor.lift(each[0]) < below]
        bounds += [floor.lift(price) for price, _ in ranked[cap : cap + 1]]
        layers.append({state: reached[state] for _, state in ranked[:cap]})
    best = _traced(layers)
    dropped = len(bounds) > (below is not None)
    if best:
        bounds.append(best[0])
    return Found(best, min(bounds, default=0), dropped)


def _next_layer(
    compiled: Compiled, layer: Layer, ready: dict[int, tuple[int, ...]]
) -> tuple[Layer, dict[int, tuple[int, ...]]]:
    reached: Layer = {}
    next_ready: dict[int, tuple[int, ...]] = {}
    for state, (price, _, _) in layer.items():
        steps = open_steps(compiled, state[0], ready[state[0]])
        for step in _worth_trying(compiled, state, steps):
            moved = after(compiled, state, step)
            if moved is None:
                continue
            then, added = moved
            if then[0] not in next_ready:
                next_ready[then[0]] = ready_after(compiled, ready[state[0]], step, then[0])
            known = reached.get(then)
            if known is None or price + added < known[0]:
                reached[then] = (price + added, state, step)
    return reached, next_ready


def _traced(layers: list[Layer]) -> tuple[int, list[int]] | None:
    if not layers[-1]:
        return None
    price, state = min((entry[0], state) for state, entry in layers[-1].items())
    steps: list[int] = []
    for layer in reversed(layers[1:]):
        _, state, step = layer[state]
        steps.append(step)
    return price, steps[::-1]


def ready_after(compiled: Compiled, before: tuple[int, ...], step: int, done: int) -> tuple[int, ...]:
    """The steps that wait for nothing after one more step is done."""
    freed = [then for then in compiled.waiting[step] if not compiled.needs[then] & ~done]
    return tuple(each for each in before if each != step) + tuple(freed)


def open_steps(compiled: Compiled, done: int, ready: tuple[int, ...]) -> list[int]:
    """Of the steps that wait for nothing, those that the set of steps done allows next, clocks apart."""
    allowed = -1
    for run in compiled.together:
        begun = done & run
        if begun and begun != run:
            allowed &= run
    return sorted(
        step
        for step in ready
        if (allowed >> step) & 1 and not any(done & begun and over & ~done for begun, over in compiled.shut[step])
    )


def _worth_trying(compiled: Compiled, state: State, steps: list[int]) -> list[int]:
    """One step alone where it can be done at no cost and nothing is lost by doing it now; else all.

    Nothing is lost when the step is free, asks for no other tool, attitude or person than are there, leaves crank and
    cams as they are, and no clock counts its minutes: take the cheapest way on, move the step to its front, and what
    remains still keeps every relation and costs no more, since leaving a step out of a row never adds a change. A run
    that nothing may part is moved as a whole.
    """
    done, tool, attitude, helper, clocks, pose = state
    if helper or any(clock >= 0 for clock in clocks):
        return steps
    curing = any(timer.is_cure and timer.ends & ~done for timer in compiled.timers)

    def costs_nothing(step: int) -> bool:
        return (
            bool((compiled.free >> step) & 1)
            and not compiled.helped[step]
            and (not compiled.tools[step] or compiled.tools[step] == tool)
            and (not compiled.attitudes[step] or compiled.attitudes[step] == attitude)
            and not (curing and compiled.minutes[step])
            and (not compiled.moves[step] or compiled.moves[step][pose] == pose)
        )

    for step in steps:
        if costs_nothing(step) and all(costs_nothing(other) for other in bits(compiled.run_of[step] & ~done)):
            return [step]
    return steps


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits that are set."""
    while mask:
        yield (mask & -mask).bit_length() - 1
        mask &= mask - 1


def after(compiled: Compiled, state: State, step: int) -> tuple[State, int] | None:
    """The state after one more step and what it adds; None where a clock, the crank, the cams or a hand forbid it."""
    done, tool, attitude, helper, clocks, pose = state
    if compiled.moves[step]:
        pose = compiled.moves[step][pose]
        if pose == REFUSED:
            return None
    then = done | 1 << step
    run_on = tuple(
        _clock(timer, minutes, done, then, compiled.minutes) if minutes >= 0 or (then ^ done) & timer.begins else -1
        for timer, minutes in zip(compiled.timers, clocks, strict=True)
    )
    if FORBIDDEN in run_on:
        return None
    added = 0
    there = compiled.helped[step] or any(then & visit and (done & visit) != visit for visit in compiled.visits)
    if helper and not there and any(done & taken and not done & fast for taken, fast in compiled.by_hand):
        return None
    if there and not helper:
        added += CALL
    if compiled.attitudes[step]:
        added += TURN * (attitude not in (0, compiled.attitudes[step]))
        attitude = compiled.attitudes[step]
    if compiled.tools[step]:
        added += tool not in (0, compiled.tools[step])
        tool = compiled.tools[step]
    return (then, tool, attitude, there, run_on, pose), added


def _clock(timer: Timer, minutes: int, done: int, then: int, taken: tuple[int, ...]) -> int:
    """Minutes on a clock after a step; -1 where it has stopped, FORBIDDEN where it cannot be kept any more."""
    here = taken[(then ^ done).bit_length() - 1]
    if timer.is_cure:
        if minutes < 0:
            return 0
        if (then ^ done) & timer.ends and minutes < timer.limit:
            return FORBIDDEN
        return min(minutes + here, timer.limit) if timer.ends & ~then else -1
    if not timer.ends & ~done:
        return -1
    minutes = minutes + here if minutes >= 0 else here if timer.is_visit else 0
    still = minutes
    to_do = timer.work & ~then
    while to_do and still <= timer.limit:
        still += taken[(to_do & -to_do).bit_length() - 1]
        to_do &= to_do - 1
    if still > timer.limit:
        return FORBIDDEN
    return minutes if timer.ends & ~then else -1
