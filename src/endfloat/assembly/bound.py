"""What an order must still cost at least: the most changes along any chain of steps that wait for each other.

Helper calls, turns and tool changes are counted apart, and the sum of three lower bounds is one.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from endfloat.assembly.compiled import Compiled, all_earlier

Heads = dict[int, int]
"""For chains that begin at a step: the first value asked for, and the most changes that follow."""
Pairs = tuple[tuple[int, int], ...]
Ahead = tuple[Pairs, Pairs, Pairs]


@dataclass(frozen=True, slots=True)
class Remaining:
    """By step, the chains that begin there: turns, tool changes and calls still to make."""

    heads: tuple[Ahead, ...]
    weights: tuple[int, int]

    def ahead(self, ready: Iterable[int]) -> Ahead:
        """Of all chains that begin with a step that is ready: most changes by first value, for each of the three."""
        turns: Heads = {}
        tools: Heads = {}
        calls: Heads = {}
        for step in ready:
            for merged, heads in zip((turns, tools, calls), self.heads[step], strict=True):
                for value, changes in heads:
                    if changes >= merged.get(value, 0):
                        merged[value] = changes
        return tuple(turns.items()), tuple(tools.items()), tuple(calls.items())

    def least(self, ahead: Ahead, tool: int, attitude: int, helper: bool) -> int:
        """The least that is still to be added with these tools, this attitude, a helper there or not."""
        turns, tools, calls = ahead
        turned = max((changes + (attitude not in (0, value)) for value, changes in turns), default=0)
        changed = max((changes + (tool not in (0, value)) for value, changes in tools), default=0)
        called = max((changes + (value == HELPED and not helper) for value, changes in calls), default=0)
        return called * self.weights[0] + turned * self.weights[1] + changed


ALONE, HELPED = 1, 2


def remaining_cost(compiled: Compiled, *, call: int = 1 << 32, turn: int = 1 << 16) -> Remaining:
    """Work out the chains from their ends."""
    following = _following(compiled)
    alone = _surely_alone(compiled, following)
    people = [HELPED if helped else ALONE if sure else 0 for helped, sure in zip(compiled.helped, alone, strict=True)]
    order = sorted(range(len(compiled.ids)), key=lambda step: following[step].bit_count())
    chains = (
        _chains(order, following, compiled.attitudes, from_any=True),
        _chains(order, following, compiled.tools, from_any=True),
        _chains(order, following, people, from_any=False),
    )
    heads = ((tuple(t.items()), tuple(u.items()), tuple(c.items())) for t, u, c in zip(*chains, strict=True))
    return Remaining(tuple(heads), (call, turn))


def _following(compiled: Compiled) -> list[int]:
    """All steps that wait for each step, straight or by way of others."""
    following = [0] * len(compiled.ids)
    for step, earlier in enumerate(all_earlier(compiled.needs)):
        while earlier:
            following[(earlier & -earlier).bit_length() - 1] |= 1 << step
            earlier &= earlier - 1
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
        # A chain that begins with another value gains one change at most.
        top = max(merged.values(), default=0)
        heads[step] = {value: changes for value, changes in merged.items() if changes >= top - 1}
    return tuple(heads)
