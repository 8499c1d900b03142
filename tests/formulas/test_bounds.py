"""Bounds: what is refused is told with the bound that holds where the first bad element is."""

import numpy as np
import pytest

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import require


def test_a_bound_may_differ_from_place_to_place() -> None:
    drops, strokes = np.array([0.02, 0.09, 0.10]), np.array([0.08, 0.09, 0.05])
    require("drop", drops[:2], "m", at_least=0, at_most=strokes[:2])
    with pytest.raises(OutOfRange) as caught:
        require("drop", drops, "m", at_least=0, at_most=strokes)
    assert caught.value.value == 0.10
    assert caught.value.expected == "at least 0 and at most 0.05"
    assert list(caught.value.bad) == [False, False, True]


def test_one_value_against_many_bounds_is_told_by_the_mask_of_all() -> None:
    with pytest.raises(OutOfRange) as caught:
        require("rod", 0.1, "m", above=np.array([[0.05], [0.15]]))
    assert (caught.value.value, caught.value.expected) == (0.1, "above 0.15")
    assert caught.value.bad.tolist() == [[False], [True]]


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_what_is_no_number_lies_within_no_bounds(bad: float) -> None:
    with pytest.raises(OutOfRange, match="a finite number"):
        require("angle", np.array([0.1, bad]), "rad")
