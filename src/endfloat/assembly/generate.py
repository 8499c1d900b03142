"""The cheapest order: dynamic programming over the sets of steps done, with a declared cap on their number.

All orders that have the same steps behind them, the same tools in hand, the engine in the same attitude, a helper
there or not, and the same minutes on every running clock can go on in the same ways; only the cheapest is kept.
Where no more than `cap` such states stand after any number of steps, nothing was left out and the result is proved.
"""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.assembly.bound import Remaining, remaining_cost
from endfloat.assembly.check import check
from endfloat.assembly.compiled import Compiled, Timer, compile_order
from endfloat.assembly.cost import Cost, cost_of
from endfloat.engine.model import Engine
from endfloat.errors import OrderWithheld

CAP = 100
FIRST_LOOK = 20
FORBIDDEN = -2
CALL, TURN = 1 << 32, 1 << 16

State = tuple[int, int, int, bool, tuple[int, ...]]
"""Steps done as a mask, tools in hand, attitude, helper there, minutes on each clock."""


@dataclass(frozen=True, slots=True)
class BuildOrder:
    """An order the checker has passed; `proved` when none is cheaper, else none is cheaper than `bound`."""

    operations: tuple[str, ...]
    cost: Cost
    proved: bool
    bound: Cost


@dataclass(frozen=True, slots=True)
class NoOrder:
    """None was found; `proved` when there is none, and not only none within the cap."""

    proved: bool


def build_order(engine: Engine, *, cap: int = CAP) -> BuildOrder | NoOrder:
    """The cheapest order that keeps every relation, or the best found within `cap` states a step."""
    compiled = compile_order(engine)
    remaining = remaining_cost(compiled)
    first = _search(compiled, remaining, cap=min(FIRST_LOOK, cap), below=None)
    best, bound = first.best, first.bound
    if first.dropped:
        second = _search(compiled, remaining, cap=cap, below=first.best[0] if first.best else None)
        best = second.best or first.best
        bound = min(second.bound, best[0]) if best else second.bound
        if not best:
            return NoOrder(proved=not second.dropped)
    if not best:
        return NoOrder(proved=True)
    price, steps = best
    order = tuple(compiled.ids[step] for step in steps)
    objections = check(engine, order)
    cost = cost_of(engine, order)
    if objections or _packed(cost) != price:
        raise OrderWithheld(objections=[each.sentence for each in objections] or [f"It counts {cost}."])
    return BuildOrder(order, cost, proved=bound >= price, bound=_unpacked(min(bound, price)))


@dataclass(frozen=True, slots=True)
class _Found:
    best: tuple[int, list[int]] | None
    bound: int
    dropped: bool


def _search(compiled: Compiled, remaining: Remaining, *, cap: int, below: int | None) -> _Found:
    """Layer by layer; states that cannot become cheaper than `below` are left out, which loses nothing."""
    start: State = (0, 0, 0, False, (-1,) * len(compiled.timers))
    layers: list[dict[State, tuple[int, State, int]]] = [{start: (0, start, -1)}]
    ready = {0: tuple(step for step, needs in enumerate(compiled.needs) if not needs)}
    lowest_dropped: int | None = None
    for _ in compiled.ids:
        reached: dict[State, tuple[int, State, int]] = {}
        next_ready: dict[int, tuple[int, ...]] = {}
        for state, (price, _, _) in layers[-1].items():
            steps = open_steps(compiled, state[0], ready[state[0]])
            for step in _worth_trying(compiled, state, steps):
                moved = _after(compiled, state, step)
                if moved is None:
                    continue
                after, added = moved
                if after[0] not in next_ready:
                    next_ready[after[0]] = _ready(compiled, ready[state[0]], step, after[0])
                known = reached.get(after)
                if known is None or price + added < known[0]:
                    reached[after] = (price + added, state, step)
        ready = next_ready
        ahead = {done: remaining.ahead(steps) for done, steps in ready.items()}
        ranked = sorted(
            (entry[0] + remaining.least(ahead[state[0]], *state[1:4]), state) for state, entry in reached.items()
        )
        if below is not None:
            ranked = [each for each in ranked if each[0] < below]
        if len(ranked) > cap:
            dropped = ranked[cap][0]
            lowest_dropped = dropped if lowest_dropped is None else min(lowest_dropped, dropped)
            ranked = ranked[:cap]
        layers.append({state: reached[state] for _, state in ranked})
    best = _traced(layers)
    known_bound = [each for each in (lowest_dropped, best[0] if best else below) if each is not None]
    return _Found(best, min(known_bound, default=0), lowest_dropped is not None)


def _traced(layers: list[dict[State, tuple[int, State, int]]]) -> tuple[int, list[int]] | None:
    if not layers[-1]:
        return None
    price, state = min((entry[0], state) for state, entry in layers[-1].items())
    steps: list[int] = []
    for layer in reversed(layers[1:]):
        _, state, step = layer[state]
        steps.append(step)
    return price, steps[::-1]


def _ready(compiled: Compiled, before: tuple[int, ...], step: int, done: int) -> tuple[int, ...]:
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

    Nothing is lost when the step is free, asks for no other tool, attitude or person than are there, and no clock
    counts its minutes: take the cheapest way on, move the step to its front, and what remains still keeps every
    relation and costs no more, since leaving a step out of a row never adds a change. A run that nothing may part
    is moved as a whole.
    """
    done, tool, attitude, helper, clocks = state
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
        )

    for step in steps:
        run = next((run for run in compiled.together if (run >> step) & 1), 1 << step) & ~done
        if all(costs_nothing(other) for other in range(run.bit_length()) if (run >> other) & 1):
            return [step]
    return steps


def _after(compiled: Compiled, state: State, step: int) -> tuple[State, int] | None:
    """The state after one more step and what the step adds; None where a clock forbids it."""
    done, tool, attitude, helper, clocks = state
    then = done | 1 << step
    run_on = tuple(
        _clock(timer, minutes, done, then, compiled.minutes[step])
        for timer, minutes in zip(compiled.timers, clocks, strict=True)
    )
    if FORBIDDEN in run_on:
        return None
    added = 0
    there = compiled.helped[step] or any(then & visit and (done & visit) != visit for visit in compiled.visits)
    if there and not helper:
        added += CALL
    if compiled.attitudes[step]:
        added += TURN * (attitude not in (0, compiled.attitudes[step]))
        attitude = compiled.attitudes[step]
    if compiled.tools[step]:
        added += tool not in (0, compiled.tools[step])
        tool = compiled.tools[step]
    return (then, tool, attitude, there, run_on), added


def _clock(timer: Timer, minutes: int, done: int, then: int, taken: int) -> int:
    """Minutes on a clock after a step; -1 where it does not run."""
    if timer.is_cure:
        if minutes >= 0:
            if (then ^ done) & timer.ends and minutes < timer.limit:
                return FORBIDDEN
            return -1 if not timer.ends & ~then else min(minutes + taken, timer.limit)
        return 0 if (then ^ done) & timer.begins else -1
    if minutes < 0:
        if not (then ^ done) & timer.begins or not timer.ends & ~done:
            return -1
        minutes = 0 if timer.is_visit else -taken
    if minutes + taken > timer.limit:
        return FORBIDDEN
    return minutes + taken if timer.ends & ~then else -1


def _packed(cost: Cost) -> int:
    return cost.helper_calls * CALL + cost.turns * TURN + cost.tool_changes


def _unpacked(price: int) -> Cost:
    return Cost(price // CALL, price % CALL // TURN, price % TURN)
