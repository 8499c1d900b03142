"""A description as bit masks: what may come next depends on the set of steps done, and on clocks that run.

Bits follow the ids in order of the alphabet, so the order of lines in a file plays no part.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import reduce
from operator import or_

from endfloat.assembly.poses import concerns, pose_after, poses, refused
from endfloat.engine.circles import runs
from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences

Mask = int
REFUSED = -1
Mask_of = Callable[[Iterable[str]], Mask]


@dataclass(frozen=True, slots=True)
class Timer:
    """Minutes counted from `begins` done (from its first step's start for a visit) until all of `ends` is done.

    A limit not to be exceeded, and `work` what must be done until then; for a cure, one to be reached before any
    step of `ends`.
    """

    begins: Mask
    ends: Mask
    limit: int
    work: Mask = 0
    is_visit: bool = False
    is_cure: bool = False


@dataclass(frozen=True, slots=True)
class Compiled:
    """Per operation: `needs` done before, `waiting` the numbers of those that need it, and `shut`: not while any of
    the first mask but not all of the second is done.

    `together` holds runs that nothing may part and `run_of` the first of them that a step is in, or the step alone;
    `free` are the steps that shut nothing and belong to no visit, no clock and at most one run. `tools` and
    `attitudes` are numbers from 1; 0 asks for nothing. `moves` gives, for each state of crank and cams by its number,
    the state that the step leaves, REFUSED where it may not be done; empty where the step is indifferent. The work
    begins in state 0. `by_hand`: from the first of the two steps to the second a helper who is there stays.
    """

    ids: tuple[str, ...]
    needs: tuple[Mask, ...]
    waiting: tuple[tuple[int, ...], ...]
    shut: tuple[tuple[tuple[Mask, Mask], ...], ...]
    together: tuple[Mask, ...]
    minutes: tuple[int, ...]
    tools: tuple[int, ...]
    attitudes: tuple[int, ...]
    helped: tuple[bool, ...]
    visits: tuple[Mask, ...]
    timers: tuple[Timer, ...]
    free: Mask
    moves: tuple[tuple[int, ...], ...]
    run_of: tuple[Mask, ...]
    by_hand: tuple[tuple[Mask, Mask], ...]


def compile_order(engine: Engine) -> Compiled:
    """Turn operations and relations into masks."""
    ids = tuple(sorted(engine.operations))
    bit = {name: 1 << number for number, name in enumerate(ids)}

    def mask(names: Iterable[str]) -> Mask:
        return sum({bit[name] for name in names})

    together = sorted({mask(steps) for _, _, steps in runs(engine)})
    needs = _needs(engine, ids, bit, together)
    shut = _not_settled(_shut(engine, ids, mask), needs)
    visits = tuple(mask(visit.operations) for visit in engine.relations.second_person)
    timers = _timers(engine, ids, needs, mask)
    steps = [engine.operations[name] for name in ids]
    tool_sets = sorted({tuple(sorted(step.tools)) for step in steps} | {()})
    attitudes = sorted({step.attitude for step in steps} | {""})
    moves = _moves(engine, ids)
    held = [each for each in engine.relations.slack_and_taut if each.by_hand_until]
    by_hand = tuple(sorted((bit[each.taken_up_by], bit[each.by_hand_until or ""]) for each in held))
    return Compiled(
        ids=ids,
        needs=needs,
        waiting=tuple(tuple(then for then, mask in enumerate(needs) if (mask >> step) & 1) for step in range(len(ids))),
        shut=shut,
        together=tuple(together),
        minutes=tuple(step.minutes for step in steps),
        tools=tuple(tool_sets.index(tuple(sorted(step.tools))) for step in steps),
        attitudes=tuple(attitudes.index(step.attitude) for step in steps),
        helped=tuple(step.persons > 1 for step in steps),
        visits=visits,
        timers=timers,
        free=_free(len(ids), shut, [*_overlapping(together), *visits], timers)
        & ~_unsettled(moves, all_earlier(needs))
        & ~mask(each.taken_up_by for each in held),
        moves=moves,
        by_hand=by_hand,
        run_of=tuple(next((run for run in together if (run >> step) & 1), 1 << step) for step in range(len(ids))),
    )


def _moves(engine: Engine, ids: tuple[str, ...]) -> tuple[tuple[int, ...], ...]:
    known = poses(engine)
    number = {pose: at for at, pose in enumerate(known)}
    return tuple(
        tuple(REFUSED if refused(engine, pose, name) else number[pose_after(engine, pose, name)] for pose in known)
        if concerns(engine, name)
        else ()
        for name in ids
    )


def _unsettled(moves: tuple[tuple[int, ...], ...], earlier: list[Mask]) -> Mask:
    """Steps that move crank or cams while another step that moves them elsewhere may come before or after."""
    movers = [step for step, moved in enumerate(moves) if any(to not in (REFUSED, at) for at, to in enumerate(moved))]
    unsettled = 0
    for step in movers:
        for other in movers:
            apart = (earlier[step] >> other) & 1 or (earlier[other] >> step) & 1
            if not apart and moves[other] != moves[step]:
                unsettled |= 1 << step
    return unsettled


def _needs(engine: Engine, ids: tuple[str, ...], bit: dict[str, Mask], together: list[Mask]) -> tuple[Mask, ...]:
    """What must be done before each step; what any step of a run needs from outside, all its steps need."""
    needs = dict.fromkeys(ids, 0)
    for link in precedences(engine):
        needs[link.then] |= bit[link.first]
    changed = True
    while changed:
        changed = False
        for run in together:
            outside = 0
            for name in ids:
                if bit[name] & run:
                    outside |= needs[name] & ~run
            for name in ids:
                if bit[name] & run and outside & ~needs[name]:
                    needs[name] |= outside
                    changed = True
    return tuple(needs[name] for name in ids)


def _shut(engine: Engine, ids: tuple[str, ...], mask: Mask_of) -> tuple[tuple[tuple[Mask, Mask], ...], ...]:
    """The stretches in which a step may not be done: begun by any of one mask, over when all of another is done."""
    found: dict[str, set[tuple[Mask, Mask]]] = {name: set() for name in ids}
    relations = engine.relations
    for state in relations.kept_true:
        for step in state.lost_by:
            found[step].add((mask([state.set_by]), mask(state.during)))
    for held in relations.slack_and_taut:
        for step in held.slack_for:
            found[step].add((mask([held.taken_up_by]), mask([held.let_go_by])))
    for aid in relations.aid_in_aid_out:
        for step in aid.nought_before:
            found[step].add((mask([aid.in_by]), mask([aid.out_by])))
    for use in relations.special_tool:
        for earlier in relations.special_tool:
            if earlier is not use and earlier.tool == use.tool:
                found[use.fitted_by].add((mask([earlier.fitted_by]), mask([earlier.off_by])))
    for kept in relations.attitude:
        for step, operation in engine.operations.items():
            if operation.attitude not in ("", kept.attitude) and step not in (kept.since, kept.until):
                found[step].add((mask([kept.since]), mask([kept.until])))
    for lists in relations.sides_differ:
        for side, steps in lists.sides.items():
            for other, theirs in lists.sides.items():
                for step in steps if other != side else ():
                    found[step].add((mask(theirs), mask(theirs)))
    return tuple(tuple(sorted(found[name])) for name in ids)


def _not_settled(
    shut: tuple[tuple[tuple[Mask, Mask], ...], ...], needs: tuple[Mask, ...]
) -> tuple[tuple[tuple[Mask, Mask], ...], ...]:
    """Leave out each stretch that a step cannot fall into: it must come before its beginning or after its end."""
    earlier = all_earlier(needs)
    kept = []
    for step, stretches in enumerate(shut):
        open_to = []
        for begun, over in stretches:
            later = sum(1 << other for other, before in enumerate(earlier) if (before >> step) & 1)
            begins = begun & ~later
            if begins and over & ~earlier[step]:
                open_to.append((begins, over))
        kept.append(tuple(open_to))
    return tuple(kept)


def _overlapping(runs_of_steps: list[Mask]) -> list[Mask]:
    return [a & b for number, a in enumerate(runs_of_steps) for b in runs_of_steps[number + 1 :] if a & b]


def _free(
    count: int, shut: Iterable[Iterable[tuple[Mask, Mask]]], runs_and_visits: Iterable[Mask], timers: Iterable[Timer]
) -> Mask:
    bound = 0
    for stretches in shut:
        for begun, _ in stretches:
            bound |= begun
    for run in runs_and_visits:
        bound |= run
    for timer in timers:
        bound |= timer.begins | timer.ends
    return ((1 << count) - 1) & ~bound


def _timers(engine: Engine, ids: tuple[str, ...], needs: tuple[Mask, ...], mask: Mask_of) -> tuple[Timer, ...]:
    """The clocks that an order can break; a cure that is over by the work that must lie between is none."""
    earlier = dict(zip(ids, all_earlier(needs), strict=True))

    def work(names: list[str]) -> Mask:
        return reduce(or_, (earlier[name] for name in names)) | mask(names)

    def between(begins: Mask, step: str) -> int:
        inner = (each for each in ids if earlier[each] & begins and mask([each]) & earlier[step])
        return sum(engine.operations[each].minutes for each in inner)

    found = []
    for visit in engine.relations.second_person:
        steps = mask(visit.operations)
        found.append(Timer(steps, steps, visit.minutes, work(visit.operations), is_visit=True))
    for clock in engine.relations.clocked:
        if clock.open_minutes is not None and clock.close_with is not None:
            closed = [clock.close_with]
            found.append(Timer(mask([clock.starts]), mask(closed), clock.open_minutes, work(closed)))
        if clock.cure_minutes is not None:
            begins, limit = mask([clock.cures_from]), clock.cure_minutes
            short = [step for step in clock.not_before if between(begins, step) < limit]
            found += [Timer(begins, mask(short), limit, is_cure=True)] if short else []
    return tuple(sorted(set(found), key=lambda each: (each.begins, each.ends, each.limit, each.is_cure)))


def all_earlier(needs: tuple[Mask, ...]) -> list[Mask]:
    """All steps that must come before each step, straight or by way of others. The needs run in no circle."""
    earlier = list(needs)
    changed = True
    while changed:
        changed = False
        for step, mask in enumerate(earlier):
            wider, rest = mask, mask
            while rest:
                wider |= earlier[(rest & -rest).bit_length() - 1]
                rest &= rest - 1
            if wider != mask:
                earlier[step] = wider
                changed = True
    return earlier
