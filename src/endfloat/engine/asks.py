"""What a step asks of the person before it is done, from the description alone: looks, a mark, counts, hidden parts."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.engine.model import Engine
from endfloat.engine.operations import Look

HIDDEN_ANSWERS = {"renewed": "renewed", "sound": "looked at, sound"}
"""Code to words: how a part that a step hides may be answered for."""


@dataclass(frozen=True, slots=True)
class Asks:
    """`mark` is what stands on the part that belongs here; `counts` maps what is counted to how many there must be."""

    looks: tuple[Look, ...]
    mark: str
    counts: dict[str, int]
    hides: tuple[str, ...]


def asks_of(engine: Engine, name: str) -> Asks:
    """Everything that one step asks for."""
    step, relations = engine.operations[name], engine.relations
    looks, counts = list(step.to_see), dict[str, int]()
    if not step.mark:
        looks += [
            Look(what=f"{record.part}: mark read, {record.marks}")
            for record in relations.own_place
            if name in record.fitted_by
        ]
    for aid in relations.aid_in_aid_out:
        for at, way in ((aid.in_by, "in"), (aid.out_by, "out")):
            if at != name:
                continue
            if aid.count == 1:
                looks.append(Look(what=f"{aid.aid}: {way}"))
            else:
                counts[f"{aid.aid}: {way}"] = aid.count
    counts.update((record.what, record.count) for record in relations.easily_missed if record.counted_by == name)
    return Asks(tuple(looks), step.mark, counts, tuple(step.hides))


def same_mark(read: str, wanted: str) -> bool:
    """Whether a mark as typed is the one wanted; spaces and capitals do not tell marks apart."""
    return "".join(read.split()).casefold() == "".join(wanted.split()).casefold()
