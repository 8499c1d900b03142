"""What the relations may have forgotten: they are held against what the parts say of each other.

Nothing proves that no relation is missing. What is found are questions for the person who knows the engine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from endfloat.assembly.compiled import all_earlier, compile_order
from endfloat.assembly.replay import Chance, random_orders
from endfloat.engine.model import Engine
from endfloat.engine.precedences import quoted


@dataclass(frozen=True, slots=True)
class Question:
    """Something to ask: its sort, the operations it is about, and the words."""

    sort: str
    operations: tuple[str, ...]
    sentence: str

    def as_json(self) -> dict[str, object]:
        return {"sort": self.sort, "operations": list(self.operations), "sentence": self.sentence}


@dataclass(frozen=True, slots=True)
class Claim:
    """What the parts say: `first` must come before `then`, in their words."""

    first: str
    then: str
    words: str


def claims(engine: Engine) -> list[Claim]:
    """Everything that the parts say of which step comes first."""
    return [claim for name in sorted(engine.blocking) for claim in _of_part(engine, name) if claim.first != claim.then]


def _of_part(engine: Engine, name: str) -> Iterable[Claim]:
    part = engine.blocking[name]

    def other(each: str) -> tuple[str, str]:
        return engine.blocking[each].fitted_by, engine.blocking[each].title

    for step, title in map(other, part.in_every_way()):
        yield Claim(part.fitted_by, step, f"{title} stands in every way to {part.title}")
    for step, title in map(other, part.rests_on):
        yield Claim(step, part.fitted_by, f"{part.title} rests on {title}")
    for step, title in map(other, part.wrench_meets):
        yield Claim(part.tightened_by, step, f"{title} keeps the wrench off {part.title}")
    for step, title in map(other, part.hidden_by):
        yield Claim(part.looked_at_by, step, f"{title} hides {part.title}")


def unanswered(engine: Engine) -> list[Question]:
    """What the parts say and the relations do not, or say the other way round."""
    compiled = compile_order(engine)
    earlier = dict(zip(compiled.ids, all_earlier(compiled.needs), strict=True))
    bit = {name: 1 << number for number, name in enumerate(compiled.ids)}
    found = []
    for claim in claims(engine):
        if earlier[claim.first] & bit[claim.then]:
            said = f"The relations put {quoted(engine, claim.then)} before {quoted(engine, claim.first)}"
            found.append(
                Question("contradicted", (claim.then, claim.first), f"{said}, but {claim.words}. Who is right?")
            )
        elif not earlier[claim.then] & bit[claim.first]:
            said = f"{claim.words}, but nothing keeps {quoted(engine, claim.first)} before {quoted(engine, claim.then)}"
            found.append(Question("not_kept", (claim.first, claim.then), f"{said}. Is a relation missing?"))
    return found


def shut_in(engine: Engine, order: Sequence[str]) -> list[Question]:
    """The parts that an order fits when every way in is shut, each way by whatever part."""
    at = {step: place for place, step in enumerate(order)}
    found = []
    for name in sorted(engine.blocking):
        part = engine.blocking[name]
        here = at[part.fitted_by]
        standing = [[each for each in way if at[engine.blocking[each].fitted_by] < here] for way in part.ways.values()]
        if standing and all(standing):
            titles = ", ".join(sorted({engine.blocking[way[0]].title for way in standing}))
            said = f"The relations allow {quoted(engine, part.fitted_by)} when every way to {part.title} is shut by"
            steps = tuple(sorted({engine.blocking[way[0]].fitted_by for way in standing}))
            found.append(Question("shut_in", (part.fitted_by, *steps), f"{said} {titles}. Can that be?"))
    return found


def hunted(engine: Engine, chance: Chance, count: int, removed: Sequence[str] = ()) -> tuple[int, list[Question]]:
    """Everything to ask, and how many random orders were drawn for it."""
    drawn, found = replayed(engine, chance, count)
    return drawn, [*unanswered(engine), *found, *against_strip(engine, removed)]


def replayed(engine: Engine, chance: Chance, count: int) -> tuple[int, list[Question]]:
    """How many random orders were drawn, and what they fit behind shut ways, each question once.

    What `unanswered` asks already is not asked again.
    """
    asked = {frozenset(each.operations) for each in unanswered(engine)}
    drawn = 0
    found: dict[tuple[str, ...], Question] = {}
    for order in random_orders(compile_order(engine), chance, count):
        drawn += 1
        for question in shut_in(engine, order):
            fitted, *shutters = question.operations
            if not any(frozenset((fitted, each)) in asked for each in shutters):
                found.setdefault((fitted,), question)
    return drawn, sorted(found.values(), key=lambda each: each.operations)


def against_strip(engine: Engine, removed: Sequence[str]) -> list[Question]:
    """What the strip contradicts: parts or steps in the order in which they came off.

    Turned round, it must keep what the relations and the parts say of what is fitted first. A pair that follows from
    another one which is asked is left out.
    """
    steps = [engine.blocking[each].fitted_by if each in engine.blocking else each for each in removed]
    came_off = {step: place for place, step in enumerate(steps)}
    compiled = compile_order(engine)
    earlier = dict(zip(compiled.ids, all_earlier(compiled.needs), strict=True))
    bit = {name: 1 << number for number, name in enumerate(compiled.ids)}
    said = {(each.first, each.then): f"; the parts say: {each.words}" for each in claims(engine)}
    wrong = sorted((first, then) for first in steps for then in steps if came_off[first] < came_off[then]
                   and (earlier[then] & bit[first] or (first, then) in said))  # fmt: skip
    roots = [pair for pair in wrong if not any((pair[0], c) in wrong or (c, pair[1]) in wrong
             for c in steps if earlier[c] & bit[pair[0]] and earlier[pair[1]] & bit[c])]  # fmt: skip
    return [
        Question(
            "strip_differs",
            pair,
            f"At the strip, what {quoted(engine, pair[0])} fits came off before what {quoted(engine, pair[1])} fits, "
            f"yet the build wants it in first{said.get(pair, '')}. Was the strip written down right, or the relation?",
        )
        for pair in roots
    ]
