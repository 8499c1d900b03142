"""The cheapest order: dynamic programming over the sets of steps done, with a declared cap on their number.

Two easier questions are asked first: how few calls and turns there can be when tools play no part, and how few tool
changes when only tools do. Their answers are a floor for the whole question, which then needs fewer states.
The result is proved when nothing that was left out could have been cheaper.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from endfloat.assembly.check import check
from endfloat.assembly.compiled import Compiled, compile_order
from endfloat.assembly.cost import Cost, cost_of
from endfloat.assembly.search import TURN, Floor, Found, packed, search, unpacked
from endfloat.assembly.sub_assemblies import alone, merged
from endfloat.engine.model import Engine
from endfloat.errors import OrderWithheld

CAP = 5000
LOOKS = (60, 400)
MERGED_FROM = 2


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
    """The cheapest order that keeps every relation, or the best found within `cap` states a layer.

    Where few states do not settle it, each sub-assembly is planned on its own and the plans are merged; what that
    costs is the mark that the look at the whole has to beat. The relations must run in no circle
    (`endfloat.engine.circles`).
    """
    compiled = compile_order(engine)
    found = search(compiled, cap=min(LOOKS[0], cap))
    if found.dropped:
        floor = _floor(compiled, cap)
        found = _closing_in(compiled, min(LOOKS[-1], cap), floor, found.best)
        if found.dropped and cap > LOOKS[-1]:
            best = min((each for each in (found.best, _merged(engine, cap)) if each), default=None)
            found = _closing_in(compiled, cap, floor, best, found.bound, LOOKS[-1])
    if not found.best:
        return NoOrder(proved=not found.dropped)
    price, steps = found.best
    order = tuple(compiled.ids[step] for step in steps)
    objections = check(engine, order)
    cost = cost_of(engine, order)
    if objections or packed(cost) != price:
        raise OrderWithheld(objections=[each.sentence for each in objections] or [f"It counts {cost}."])
    return BuildOrder(order, cost, proved=found.bound >= price, bound=unpacked(min(found.bound, price)))


def plan_alone(engine: Engine, assembly: str, *, cap: int = CAP) -> BuildOrder | NoOrder:
    """The cheapest order of a sub-assembly by itself."""
    return build_order(alone(engine, assembly), cap=cap)


def _merged(engine: Engine, cap: int) -> tuple[int, list[int]] | None:
    """The best order in which each sub-assembly keeps the order that is cheapest for it alone; None where none is."""
    if len(engine.assemblies) < MERGED_FROM:
        return None
    plans = {name: plan_alone(engine, name, cap=min(LOOKS[-1], cap)) for name in engine.assemblies}
    whole = merged(engine, {name: plan.operations for name, plan in plans.items() if isinstance(plan, BuildOrder)})
    return search(compile_order(whole), cap=min(LOOKS[-1], cap)).best


def _closing_in(
    compiled: Compiled,
    cap: int,
    floor: Floor,
    best: tuple[int, list[int]] | None = None,
    bound: int = 0,
    looked: int = 0,
) -> Found:
    """Look with few states, then with more, each time only for what is cheaper than the best so far."""
    for states in (*(each for each in LOOKS if looked < each < cap), cap):
        found = search(compiled, cap=states, below=best[0] if best else None, floor=floor)
        best = found.best or best
        bound = max(bound, found.bound)
        if not found.dropped or (best and bound >= best[0]):
            return Found(best, bound, dropped=False)
    return Found(best, bound, dropped=True)


def _floor(compiled: Compiled, cap: int) -> Floor:
    nothing = (0,) * len(compiled.ids)
    without_tools = replace(compiled, tools=nothing)
    only_tools = replace(compiled, attitudes=nothing, helped=(False,) * len(compiled.ids), visits=())
    return Floor(
        _closing_in(without_tools, cap, Floor()).bound // TURN * TURN,
        _closing_in(only_tools, cap, Floor()).bound % TURN,
    )
