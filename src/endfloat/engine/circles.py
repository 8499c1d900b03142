"""Do the relations contradict each other in a circle, and in which shortest chain of sentences?

Steps that nothing may part (an unbroken sequence, one move, a check confirmed now) count as one step, so that
"before it" and "after it" of one such run is a circle too.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.precedences import Precedence, precedences, quoted


def runs(engine: Engine) -> list[tuple[str, int, list[str]]]:
    """Steps that nothing may part: relation, index and steps."""
    found = [("unbroken", i, list(each.sequence)) for i, each in enumerate(engine.relations.unbroken)]
    found += [("as_one_move", i, list(each.operations)) for i, each in enumerate(engine.relations.as_one_move)]
    found += [
        ("confirm_again_now", i, [each.check, each.before]) for i, each in enumerate(engine.relations.confirm_again_now)
    ]
    return found


def circle(engine: Engine) -> list[Precedence]:
    """The shortest circle of precedences, with the sentence of each run it passes through; empty where none is."""
    links = precedences(engine)
    inner = _shortest(links, {each: each for each in engine.operations})
    if inner:
        return inner
    heads = {each: each for each in engine.operations}
    for _, _, steps in runs(engine):
        merged = {heads[step] for step in steps}
        heads = {each: min(merged) if head in merged else head for each, head in heads.items()}
    outer = _shortest([each for each in links if heads[each.first] != heads[each.then]], heads)
    return [said for before, here in zip(outer[-1:] + outer[:-1], outer, strict=True)
            for said in (*_through(engine, before.then, here.first), here)]  # fmt: skip


def _through(engine: Engine, enters: str, leaves: str) -> Iterable[Precedence]:
    """The sentences that hold two steps of one run together."""
    if enters == leaves:
        return
    holding = sorted(runs(engine), key=lambda run: (run[0], run[2]))
    came: dict[str, tuple[str, int]] = {}
    waiting, seen = deque([enters]), {enters}
    while waiting and leaves not in seen:
        step = waiting.popleft()
        for number, (_, _, steps) in enumerate(holding):
            for other in sorted(set(steps) - seen) if step in steps else ():
                seen.add(other)
                came[other] = (step, number)
                waiting.append(other)
    step = leaves
    while step != enters:
        previous, number = came[step]
        relation, index, _ = holding[number]
        record = getattr(engine.relations, relation)[index]
        said = f"{quoted(engine, previous)} and {quoted(engine, step)} are not parted by anything: {record.why}."
        yield Precedence(previous, step, relation, index, said)
        step = previous


def _shortest(links: list[Precedence], heads: dict[str, str]) -> list[Precedence]:
    """The shortest circle by breadth first from every step; ties go to the first by id, then by sentence."""
    following: dict[str, list[Precedence]] = {}
    for link in sorted(links, key=lambda each: (each.first, each.then, each.relation, each.sentence)):
        following.setdefault(heads[link.first], []).append(link)
    best: list[Precedence] = []
    for start in sorted(_never_first(following, heads)):
        found = _back_to(start, following, heads)
        if found and (not best or len(found) < len(best)):
            best = found
    return best


def _never_first(following: dict[str, list[Precedence]], heads: dict[str, str]) -> set[str]:
    """What is left when steps that nothing waits before are taken away again and again: circles and what follows."""
    waits = dict.fromkeys(heads.values(), 0)
    for links in following.values():
        for link in links:
            waits[heads[link.then]] += 1
    free = [step for step, count in waits.items() if not count]
    for step in free:
        for link in following.get(step, ()):
            waits[heads[link.then]] -= 1
            if not waits[heads[link.then]]:
                free.append(heads[link.then])
    return {step for step, count in waits.items() if count}


def _back_to(start: str, following: dict[str, list[Precedence]], heads: dict[str, str]) -> list[Precedence]:
    came: dict[str, Precedence] = {}
    waiting = deque([start])
    while waiting:
        step = waiting.popleft()
        for link in following.get(step, ()):
            reached = heads[link.then]
            if reached == start:
                path = [link]
                while heads[path[0].first] != start:
                    path.insert(0, came[heads[path[0].first]])
                return path
            if reached not in came:
                came[reached] = link
                waiting.append(reached)
    return []
