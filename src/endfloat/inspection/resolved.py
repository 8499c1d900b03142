"""What the parts are under a choice: the direct effects of the options, nothing else.

Every knock-on follows because quantities read the changed characteristics.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from endfloat.engine.model import Choice, Effect, Engine, Move, Option
from endfloat.inspection.measured import Answer, Gap, Inputs
from endfloat.inspection.verdicts import Verdict
from endfloat.quantities.estimates import ErrorSource, Estimate


def chosen(engine: Engine, choice: Mapping[str, str]) -> Iterator[tuple[str, str, Option]]:
    """Decision, option key and option of a choice, in the order of the description."""
    for name, decision in engine.decisions.items():
        key = choice.get(name, decision.as_found)
        if key is not None:
            yield name, key, decision.options[key]


def resolve(engine: Engine, found: Inputs, choice: Choice) -> dict[str, dict[str, Answer]]:
    """Inputs under a choice. A decision without an "as is" option changes nothing until it is chosen."""
    inputs = {name: dict(places) for name, places in found.items()}
    for name, _, option in chosen(engine, choice):
        for part in option.renews:
            for characteristic, described in engine.characteristics.items():
                if described.of == part and described.given is None and characteristic in inputs:
                    gap = Gap(Verdict.NOT_MEASURED, f"The {part} is new: measure it when it comes.")
                    inputs[characteristic] = dict.fromkeys(inputs[characteristic], gap)
        for effect in option.sets:
            if effect.characteristic in inputs:
                row = inputs[effect.characteristic]
                for place in _places(effect, row):
                    row[place] = _set(name, effect, place)
        for move in option.moves:
            if move.characteristic in inputs:
                row = inputs[move.characteristic]
                for place in _places(move, row):
                    row[place] = _moved(name, move, place, row[place])
    return inputs


def _places(effect: Effect | Move, row: Mapping[str, Answer]) -> list[str]:
    return list(row) if effect.at == "all" else effect.at


def _tolerance(decision: str, effect: Effect | Move, place: str) -> dict[str, ErrorSource]:
    if effect.within is None:
        return {}
    name = f"tolerance of {decision.replace('_', ' ')}, {effect.characteristic.replace('_', ' ')} {place}"
    return {name: ErrorSource(effect.within.si / math.sqrt(3), shape="rectangular")}


def _set(decision: str, effect: Effect, place: str) -> Estimate:
    return Estimate(effect.to.si, _tolerance(decision, effect, place))


def _moved(decision: str, move: Move, place: str, before: Answer) -> Answer:
    if isinstance(before, Gap):
        return before
    return Estimate(before.value + move.by.si, {**before.sources, **_tolerance(decision, move, place)})
