"""Compression readings: what always holds."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.formulas import compression_tests, cranking


@given(st.floats(2, 20), st.floats(1.1, 1.5))
def test_the_exponent_is_read_back_from_the_reading(ratio: float, exponent: float) -> None:
    reading = cranking.cranking_pressure(ratio=ratio, ambient=101325.0, filling=1.0, exponent=exponent)
    found = compression_tests.exponent_of_reading(reading=reading, barometer=101325.0, ratio=ratio)
    assert found == pytest.approx(exponent)


@given(st.lists(st.floats(1e5, 2e6), min_size=1, max_size=8))
def test_the_best_cylinder_has_the_share_one(readings: list[float]) -> None:
    shares: Any = compression_tests.shares_of_best(readings=np.array([readings, readings[::-1]]))
    assert np.max(shares, axis=-1).tolist() == [1.0, 1.0]
    assert shares[0].tolist() == shares[1][::-1].tolist()
    assert shares[0] * max(readings) == pytest.approx(readings)


def test_oil_that_changes_nothing_gains_nothing() -> None:
    assert compression_tests.oil_gain(dry=9e5, wet=9e5) == 0
    assert compression_tests.oil_gain(dry=9e5, wet=18e5) == pytest.approx(1)
