"""Does every part that is bought name steps and readings that exist?"""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.model import Engine
from endfloat.engine.positions import Located, Path
from endfloat.engine.references import unknown
from endfloat.problems import Problem


def part_problems(located: Located, engine: Engine) -> Iterable[Problem]:
    """Every problem of bought parts."""
    bought = {item for decision in engine.decisions.values() for o in decision.options.values() for item in o.catalogue}
    bought |= {void.buy for removal in engine.strip.values() for void in removal.void if void.buy}
    for name, part in engine.parts.items():
        here: Path = ("parts", name)
        for at, step in enumerate(part.fitted_by):
            if step not in engine.operations:
                yield unknown(located, (*here, "fitted_by", at), step, engine.operations, "operation")
        for at, item in enumerate(part.items):
            if item not in bought:
                yield unknown(located, (*here, "items", at), item, bought, "item")
        for at, measured in enumerate(part.measures):
            path: Path = (*here, "measures", at)
            if measured.of not in engine.characteristics:
                yield unknown(located, path, measured.of, engine.characteristics, "characteristic")
                continue
            for index, place in enumerate(measured.at):
                if place not in engine.places_of(measured.of):
                    yield unknown(located, (*path, "at", index), place, engine.places_of(measured.of), "place")
