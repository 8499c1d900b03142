"""Sub-assemblies: heads on the bench, rods and pistons, the oil pump; planned on their own, then merged.

A plan of its own sees the steps of its sub-assembly, the relations among them, and what must come between them by way
of other steps. Merged, each keeps that order; the whole is then looked at once more without it, as far as the cap goes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from endfloat.engine.circles import circle
from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences
from endfloat.engine.relations import RELATIONS, Before, Clocked, Relation, Relations

PLANNED = "it was planned so on its own"


def members(engine: Engine, name: str) -> list[str]:
    """The steps of a sub-assembly."""
    return [step for step, operation in engine.operations.items() if operation.assembly == name]


def alone(engine: Engine, name: str) -> Engine:
    """A description of nothing but the steps of a sub-assembly and what holds among them."""
    inside = set(members(engine, name))
    kept = {
        each: [record for record in getattr(engine.relations, each) if _names_only(record, inside)]
        for each in RELATIONS
    }
    cures = [clock for clock in kept["clocked"] if isinstance(clock, Clocked) and clock.cure_minutes is not None]
    kept["clocked"] = [clock for clock in kept["clocked"] if clock not in cures] + [
        clock.model_copy(update={"cure_minutes": None, "not_before": []})
        for clock in cures
        if clock.open_minutes is not None
    ]
    waits = [link for clock in cures for link in _after_cure(clock)]
    kept["before"] = [*kept["before"], *waits, *_by_way_of_others(engine, inside)]
    return engine.model_copy(
        update={
            "operations": {step: engine.operations[step] for step in engine.operations if step in inside},
            "relations": Relations(**kept),
            "safe_states": None,
            "assemblies": {},
        }
    )


def _names_only(record: Relation, inside: set[str]) -> bool:
    return all(operation in inside for _, operation in record.named())


def _after_cure(clock: Clocked) -> Iterable[Before]:
    """What is left of a cure on its own: the order. Its minutes may pass while others work on the whole."""
    if clock.close_with:
        yield Before(first=clock.starts, then=clock.close_with, why=clock.why)
    for step in clock.not_before:
        yield Before(first=clock.cures_from, then=step, why=clock.why)


def _by_way_of_others(engine: Engine, inside: set[str]) -> Iterable[Before]:
    """Links between two steps of a sub-assembly that lead through steps outside it."""
    then: dict[str, set[str]] = {step: set() for step in engine.operations}
    for link in precedences(engine):
        then[link.first].add(link.then)
    for step in sorted(inside):
        found = sorted(then[step] - inside)
        for outer in found:
            found += sorted(then[outer] - inside - set(found))
        for later in sorted(set().union(*(then[outer] for outer in found)) & inside - {step}):
            yield Before(first=step, then=later, why="other steps lie between")


def merged(engine: Engine, plans: Mapping[str, Sequence[str]]) -> Engine:
    """The description with each plan as a chain; a plan that would run in a circle with the others is left out."""
    whole = engine
    for name in sorted(plans):
        chain = [Before(first=first, then=then, why=PLANNED) for first, then in pairwise(plans[name])]
        relations = whole.relations.model_copy(update={"before": [*whole.relations.before, *chain]})
        chained = whole.model_copy(update={"relations": relations})
        whole = whole if circle(chained) else chained
    return whole
