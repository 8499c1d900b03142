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

CAP = 4000
FIRST_LOOK = 60
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
    lowest_dropped: int | None = None
    for _ in compiled.ids:
        reached: dict[State, tuple[int, State, int]] = {}
        for state, (price, _, _) in layers[-1].items():
            for step in open_steps(compiled, state[0]):
                moved = _after(compiled, state, step)
                if moved is not None:
                    after, added = moved
                    known = reached.get(after)
                    if known is None or price + added < known[0]:
                        reached[after] = (price + added, state, step)
        ranked = sorted((entry[0] + remaining.least(state), state) for state, entry in reached.items())
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


def open_steps(compiled: Compiled, done: int) -> list[int]:
    """The steps that the set of steps done allows next, clocks apart."""
    allowed = -1
    for run in compiled.together:
        begun = done & run
        if begun and begun != run:
            allowed &= run
    return [
        step
        for step, needs in enumerate(compiled.needs)
        if not (done >> step) & 1
        and (allowed >> step) & 1
        and not needs & ~done
        and not any(done & begun and over & ~done for begun, over in compiled.shut[step])
    ]


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
