"""Volumes, ratios and skims."""

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


def test_swept_volume_of_a_square_engine() -> None:
    assert compression.swept_volume(bore=0.086, stroke=0.086) * 1e6 == pytest.approx(499.6, abs=0.05)


@pytest.mark.parametrize(
    ("bore", "skim", "printed"), [(0.086, 0, 9.79), (0.08625, 0.00025, 10.04), (0.08625, 0.0001, 9.92)]
)
def test_the_ratios_that_the_skims_of_the_v8_give(bore: float, skim: float, printed: float) -> None:
    assert compression.ratio(bore=bore, skim=skim, **V8) == pytest.approx(printed, abs=0.005)


def test_the_manifold_of_a_90_degree_v_comes_down_further_than_the_heads() -> None:
    angles = {"half_angle": math.radians(45), "face_elevation": math.radians(40)}
    assert skims.intake_face_cut(skim=0.25, other_skim=0.25, **angles) == pytest.approx(0.231, abs=0.0005)
    assert skims.manifold_drop(skim=0.25, other_skim=0.25, **angles) == pytest.approx(0.325, abs=0.0005)


# Factors for a face square to the deck (elevation = half angle): 90 and 60 degree engines, by geometry.
@pytest.mark.parametrize(("bank", "cut", "drop"), [(90, 1.000, 1.414), (60, 0.577, 1.155), (72, 0.727, 1.236)])
def test_factors_for_a_square_intake_face(bank: float, cut: float, drop: float) -> None:
    half = math.radians(bank / 2)
    assert skims.intake_face_cut(skim=1.0, other_skim=1.0, half_angle=half, face_elevation=half) == pytest.approx(
        cut, abs=0.0005
    )
    assert skims.manifold_drop(skim=1.0, other_skim=1.0, half_angle=half, face_elevation=half) == pytest.approx(
        drop, abs=0.0005
    )


@given(st.floats(0, 5e-4), st.floats(1e-5, 5e-4))
def test_more_skim_means_more_compression_and_the_same_squish(skim: float, more: float) -> None:
    less = compression.ratio(bore=0.086, skim=skim, **V8)
    assert compression.ratio(bore=0.086, skim=skim + more, **V8) > less
    assert compression.squish(gasket=0.0012, deck=0.0003) == pytest.approx(0.0015)


def test_unequal_skims_shift_the_manifold_and_both_banks_agree_on_its_drop() -> None:
    # Worked by hand from the geometry: 90 degrees, face 10 degrees off square, 0.3 and 0.1 removed.
    angles = {"half_angle": math.radians(45), "face_elevation": math.radians(55)}
    assert skims.intake_face_cut(skim=0.3, other_skim=0.1, **angles) == pytest.approx(0.160, abs=0.0005)
    assert skims.intake_face_cut(skim=0.1, other_skim=0.3, **angles) == pytest.approx(0.333, abs=0.0005)
    assert skims.manifold_drop(skim=0.3, other_skim=0.1, **angles) == pytest.approx(0.343, abs=0.0005)
    assert skims.manifold_drop(skim=0.1, other_skim=0.3, **angles) == pytest.approx(
        skims.manifold_drop(skim=0.3, other_skim=0.1, **angles)
    )
