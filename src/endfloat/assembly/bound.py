"""What an order must still cost at least: the most changes along any chain of steps that wait for each other.

Helper calls, turns and tool changes are counted apart, and the sum of three lower bounds is one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from endfloat.assembly.compiled import Compiled

Heads = dict[int, int]
"""For chains that begin at a step: the first value asked for, and the most changes that follow."""


@dataclass(frozen=True, slots=True)
class Remaining:
    """Lower bounds by step, for attitude and tools, and the fewest calls still to make."""

    needs: tuple[int, ...]
    turns: tuple[Heads, ...]
    tools: tuple[Heads, ...]
    calls: tuple[Heads, ...]
    weights: tuple[int, int]

    def least(self, state: tuple[int, int, int, bool, tuple[int, ...]]) -> int:
        """The least that is still to be added after a state."""
        done, tool, attitude, helper, _ = state
        turns = tools = calls = 0
        for step, needs in enumerate(self.needs):
            if (done >> step) & 1 or needs & ~done:
                continue
            for value, changes in self.turns[step].items():
                turns = max(turns, changes + (attitude not in (0, value)))
            for value, changes in self.tools[step].items():
                tools = max(tools, changes + (tool not in (0, value)))
            for value, changes in self.calls[step].items():
                calls = max(calls, changes + (value == HELPED and not helper))
        return calls * self.weights[0] + turns * self.weights[1] + tools


ALONE, HELPED = 1, 2


def remaining_cost(compiled: Compiled, *, call: int = 1 << 32, turn: int = 1 << 16) -> Remaining:
    """Work out the chains from their ends."""
    following = _following(compiled)
    alone = _surely_alone(compiled, following)
    people = [HELPED if helped else ALONE if sure else 0 for helped, sure in zip(compiled.helped, alone, strict=True)]
    order = sorted(range(len(compiled.ids)), key=lambda step: following[step].bit_count())
    return Remaining(
        compiled.needs,
        _chains(order, following, compiled.attitudes, from_any=True),
        _chains(order, following, compiled.tools, from_any=True),
        _chains(order, following, people, from_any=False),
        (call, turn),
    )


def _following(compiled: Compiled) -> list[int]:
    """All steps that wait for each step, straight or by way of others. The needs must run in no circle."""
    count = len(compiled.ids)
    following = [0] * count
    for _ in range(count):
        changed = False
        for step, needs in enumerate(compiled.needs):
            after = following[step] | 1 << step
            rest = needs
            while rest:
                first = (rest & -rest).bit_length() - 1
                rest &= rest - 1
                if after & ~following[first]:
                    following[first] |= after
                    changed = True
        if not changed:
            break
    return following


def _surely_alone(compiled: Compiled, following: list[int]) -> list[bool]:
    """Steps that no visit of a helper can span: all of it comes earlier, or all of it later."""
    sure = []
    for step, helped in enumerate(compiled.helped):
        earlier = sum(1 << other for other, after in enumerate(following) if (after >> step) & 1)
        apart = all(not visit & ~earlier or not visit & ~following[step] for visit in compiled.visits)
        sure.append(not helped and apart)
    return sure


def _chains(order: list[int], following: list[int], values: Sequence[int], *, from_any: bool) -> tuple[Heads, ...]:
    """From the last steps to the first. `from_any`: every change counts; else only from alone to helped."""
    heads: list[Heads] = [{} for _ in following]
    for step in order:
        merged: Heads = {}
        rest = following[step]
        while rest:
            other = (rest & -rest).bit_length() - 1
            rest &= rest - 1
            for value, changes in heads[other].items():
                merged[value] = max(merged.get(value, 0), changes)
        here = values[step]
        if here:
            most = 0
            for value, changes in merged.items():
                counts = value != here and (from_any or value == HELPED)
                most = max(most, changes + counts)
            merged = {here: most}
        heads[step] = merged
    return tuple(heads)
