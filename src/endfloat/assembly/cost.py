"""What an order costs a person: calls for a helper, turns of the engine, tool changes. In this order of weight."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from endfloat.assembly.violations import Laid, lay_out
from endfloat.engine.model import Engine


class Cost(NamedTuple):
    """Compared from the left: one call for a helper outweighs any number of turns."""

    helper_calls: int
    turns: int
    tool_changes: int


def cost_of(engine: Engine, order: Sequence[str]) -> Cost:
    """Count an order.

    A helper is there for a step for two persons and from the first to the last step of a visit (`second_person`);
    each time a helper is there who was not there for the step before is one call. The engine is turned where a
    step asks for another attitude than the last step that asked for any, and tools are changed likewise.
    """
    steps = [engine.operations[each] for each in order]
    there = helper_there(lay_out(engine, order))
    calls = sum(here and not before for before, here in zip([False, *there], there, strict=False))
    return Cost(
        calls,
        _changes([step.attitude for step in steps]),
        _changes([tuple(sorted(step.tools)) for step in steps]),
    )


def helper_there(laid: Laid) -> list[bool]:
    """By position, whether a helper is there: for steps for two persons and all through a visit."""
    there = [laid.engine.operations[each].persons > 1 for each in laid.order]
    for visit in laid.engine.relations.second_person:
        places = [laid.at[each] for each in visit.operations]
        for position in range(min(places), min(max(places) + 1, len(laid.order))):
            there[position] = True
    return there


@dataclass(frozen=True, slots=True)
class Stay:
    """One call: the positions (from 0) of the first and the last step the helper is there for, and the minutes."""

    first: int
    last: int
    minutes: int


def stays(engine: Engine, order: Sequence[str]) -> list[Stay]:
    """Every call of a helper in an order; after the last step of each the helper may go."""
    laid = lay_out(engine, order)
    there = [*helper_there(laid), False]
    comes = [at for at in range(len(order)) if there[at] and not (at and there[at - 1])]
    goes = [at for at in range(len(order)) if there[at] and not there[at + 1]]
    return [Stay(first, last, laid.minutes(first, last + 1)) for first, last in zip(comes, goes, strict=True)]


def _changes(asked: Sequence[object]) -> int:
    given = [each for each in asked if each]
    return sum(here != before for before, here in pairwise(given))
