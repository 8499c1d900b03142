"""Volumes, ratios and skims: what always holds. The single values are in tests/published."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.formulas import compression, skims

# The invented V8: 86 x 82, chamber 43.3, open area 48 cm2, gasket 87.5 x 1.20, deck 0.30, pockets 1.9.
V8 = {
    "stroke": 0.082,
    "chamber": 43.3e-6,
    "chamber_area": 48e-4,
    "gasket_bore": 0.0875,
    "gasket": 0.0012,
    "deck": 0.0003,
    "pockets": 1.9e-6,
}


@given(st.floats(0, 5e-4), st.floats(1e-5, 5e-4))
def test_more_skim_means_more_compression_and_the_same_squish(skim: float, more: float) -> None:
    less = compression.ratio(bore=0.086, skim=skim, **V8)
    assert compression.ratio(bore=0.086, skim=skim + more, **V8) > less
    assert compression.squish(gasket=0.0012, deck=0.0003) == pytest.approx(0.0015)


def test_both_banks_agree_on_the_drop_of_the_manifold() -> None:
    angles = {"half_angle": math.radians(45), "face_elevation": math.radians(55)}
    assert skims.manifold_drop(skim=0.1, other_skim=0.3, **angles) == pytest.approx(
        skims.manifold_drop(skim=0.3, other_skim=0.1, **angles)
    )
