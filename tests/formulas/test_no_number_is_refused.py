"""What is not a number never passes through fits, growth, oil and bearings, whichever argument it comes in."""

from typing import Any

import numpy as np
import pytest

from conventions.test_code import example_arguments
from endfloat.cards import CARDS, WORD
from endfloat.errors import OutOfRange

ROOMS = {
    "bearing_heat",
    "bearing_theory",
    "bearings",
    "growth",
    "interference",
    "oil",
    "oil_at_work",
    "oil_grades",
    "oil_pressure",
    "piston_rings",
    "shells",
    "shrinking",
    "tolerances",
}
KEYS = [
    (key, symbol.name)
    for key, card in CARDS.items()
    for symbol in card.arguments
    if key.partition(".")[0] in ROOMS and symbol.unit != WORD
]


@pytest.mark.parametrize(("key", "name"), KEYS)
def test_one_bad_element_is_told_by_its_place(key: str, name: str) -> None:
    arguments: dict[str, Any] = example_arguments(CARDS[key])
    last = np.asarray(arguments[name], dtype=np.float64)
    # Two draws of the example, the second of them without this number.
    drawn = np.stack([last, np.full_like(last, np.nan)])
    with pytest.raises(OutOfRange) as caught:
        CARDS[key].function(**{**arguments, name: drawn})
    mask = np.asarray(caught.value.bad)
    assert mask.shape[0] == 2
    assert not mask[0].any()
    assert mask[1].all()


@pytest.mark.parametrize(("key", "name"), KEYS)
def test_two_draws_give_what_each_gives_alone(key: str, name: str) -> None:
    arguments: dict[str, Any] = example_arguments(CARDS[key])
    given = np.asarray(arguments[name], dtype=np.float64)
    alone = np.asarray(CARDS[key].function(**arguments), dtype=np.float64)
    assert np.isfinite(alone).all()
    twice = CARDS[key].function(**{**arguments, name: np.stack([given, given])})
    parts = zip(twice, np.atleast_1d(alone), strict=True) if isinstance(twice, tuple) else [(twice, alone)]
    for many, one in parts:
        # A result that does not hang on this argument has no second draw.
        assert np.shape(many) in ((2, *np.shape(one)), np.shape(one))
        assert np.asarray(many) == pytest.approx(np.broadcast_to(one, np.shape(many)), rel=1e-12)
