"""What holds for every formula of bolts and threads: arrays equal loops, and the mask tells the bad ones."""

import math
from typing import Any

import numpy as np
import pytest

from conventions.test_code import example_arguments
from endfloat.cards import CARDS, WORD, Bound, Card
from endfloat.errors import OutOfRange

ROOMS = {
    "threads",
    "bolts",
    "stiffness",
    "clamped_parts",
    "bearing_faces",
    "tightening",
    "nut_factors",
    "friction",
    "scatter",
    "wrenches",
    "clamp",
    "stripping",
}
OURS = [card for key, card in CARDS.items() if key.partition(".")[0] in ROOMS]


def scalars(card: Card) -> dict[str, float]:
    """The arguments of the example that are single numbers."""
    words = {symbol.name for symbol in card.arguments if symbol.unit == WORD}
    given = example_arguments(card)
    return {
        name: float(value)  # type: ignore[arg-type]
        for name, value in given.items()
        if name not in words and np.ndim(value) == 0  # type: ignore[arg-type]
    }


def results(card: Card, arguments: dict[str, Any]) -> list[Any]:
    found = card.function(**arguments)
    return [each for each in found if not isinstance(each, str)] if isinstance(found, tuple) else [found]


VARIED = [card for card in OURS if scalars(card)]


def test_there_are_formulas_to_try() -> None:
    assert len(VARIED) > 35


@pytest.mark.parametrize("card", VARIED, ids=lambda card: card.key)
def test_an_array_gives_what_a_loop_gives(card: Card) -> None:
    given, numbers = example_arguments(card), scalars(card)
    bent = {name: np.array([value, value * 1.001, value * 1.002]) for name, value in numbers.items()}
    at_once = results(card, {**given, **bent})
    for k in range(3):
        alone = results(card, {**given, **{name: float(column[k]) for name, column in bent.items()}})
        for together, single in zip(at_once, alone, strict=True):
            assert math.isfinite(float(single))
            assert float(np.broadcast_to(together, (3,))[k]) == pytest.approx(float(single), rel=1e-12)


MASKED = [(card, bound) for card in VARIED for bound in card.bounds if bound.name in scalars(card)]


@pytest.mark.parametrize(("card", "bound"), MASKED, ids=[f"{card.key}: {bound}" for card, bound in MASKED])
def test_the_mask_tells_which_of_an_array_is_bad(card: Card, bound: Bound) -> None:
    given = example_arguments(card)
    beyond = {"<": -1e-6, "<=": 0.0, ">": 1e-6, ">=": 0.0}[bound.relation] * max(1.0, abs(bound.number))
    good = scalars(card)[bound.name]
    with pytest.raises(OutOfRange) as caught:
        card.function(**{**given, bound.name: np.array([good, bound.number + beyond, good])})
    assert list(caught.value.bad) == [False, True, False]
