"""Work that has come back: what it changed is measured anew, and its decision is no longer open."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.engine.model import Effect, Engine, Move, Option


def changed_by(engine: Engine, option: Option) -> frozenset[tuple[str, str]]:
    """Every characteristic and place that a gauge read before and that the option alters or renews."""
    spots = {
        (name, place)
        for name, described in engine.characteristics.items()
        if described.of in option.renews
        for place in engine.places[described.at].names
    }
    effects: list[Effect | Move] = [*option.sets, *option.moves]
    for effect in effects:
        at = engine.places[engine.characteristics[effect.characteristic].at].names if effect.at == "all" else effect.at
        spots |= {(effect.characteristic, place) for place in at}
    return frozenset(spot for spot in spots if engine.characteristics[spot[0]].given is None)


def as_returned(engine: Engine, returned: Mapping[str, str]) -> Engine:
    """The engine once work is back, by decision and option.

    Such a decision has one option left, which leaves things as they are: what it altered is judged by new readings,
    and only what the book gives for it, such as the size of a new class, still follows from it.
    """
    if not returned:
        return engine
    decisions = dict(engine.decisions)
    for name, key in returned.items():
        option = decisions[name].options[key]

        def given(effect: Effect | Move) -> bool:
            return engine.characteristics[effect.characteristic].given is not None

        back = option.model_copy(
            update={
                "sort": "as is",
                "sets": [effect for effect in option.sets if given(effect)],
                "moves": [move for move in option.moves if given(move)],
                "renews": [],
                "clean_up": None,
            }
        )
        decisions[name] = decisions[name].model_copy(update={"options": {key: back}})
    return engine.model_copy(update={"decisions": decisions})
