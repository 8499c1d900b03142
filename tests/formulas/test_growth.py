"""Growth with temperature, shells, stacks of limits and ring gaps: what always holds."""

import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import fits, growth, piston_rings, shells

kelvins = st.floats(250, 600)
coefficients = st.floats(5e-6, 25e-6)
REFERENCE = 293.15
SHELLED = {
    "housing_least": 0.055,
    "housing_greatest": 0.055019,
    "wall_least": 0.001484,
    "wall_greatest": 0.00149,
    "journal_least": 0.05197,
    "journal_greatest": 0.051986,
}


def grown(size: float, expansion: float, temperature: float) -> Any:
    return growth.size_at_temperature(size=size, expansion=expansion, temperature=temperature, reference=REFERENCE)


@given(st.floats(0.01, 0.3), coefficients, kelvins, coefficients, kelvins)
def test_a_warm_part_measured_warm_comes_back_to_its_size(
    size: float, part: float, part_at: float, gauge: float, gauge_at: float
) -> None:
    # A warm gauge shows less by as much as its scale has grown.
    reading = grown(size, part, part_at) / (grown(1.0, gauge, gauge_at))
    back = growth.size_at_reference(
        reading=reading,
        part_expansion=part,
        part_temperature=part_at,
        gauge_expansion=gauge,
        gauge_temperature=gauge_at,
        reference=REFERENCE,
    )
    assert back == pytest.approx(size, rel=1e-12)


@given(st.floats(0, 2e-4), st.floats(0.02, 0.15), coefficients, kelvins, coefficients, kelvins)
def test_a_hot_clearance_is_the_difference_of_two_grown_sizes(
    play: float, diameter: float, housing: float, housing_at: float, shaft: float, shaft_at: float
) -> None:
    warmth = {
        "diameter": diameter,
        "housing_expansion": housing,
        "housing_temperature": housing_at,
        "shaft_expansion": shaft,
        "shaft_temperature": shaft_at,
        "reference": REFERENCE,
    }
    hot = growth.hot_clearance(clearance=play, **warmth)
    # The nominal stands for both diameters: the clearance itself grows by some parts in a thousand of itself.
    exact = grown(diameter + play, housing, housing_at) - grown(diameter, shaft, shaft_at)
    assert hot == pytest.approx(exact, abs=0.01 * play + 1e-15)
    assert growth.clearance_from_hot(hot_clearance=hot, **warmth) == pytest.approx(play, abs=1e-15)


def test_one_material_at_one_temperature_keeps_its_clearance() -> None:
    hot = growth.hot_clearance(
        clearance=5e-5,
        diameter=0.086,
        housing_expansion=21e-6,
        housing_temperature=np.linspace(250, 500, 6),
        shaft_expansion=21e-6,
        shaft_temperature=np.linspace(250, 500, 6),
        reference=REFERENCE,
    )
    assert hot == pytest.approx(5e-5)


@given(coefficients, coefficients, st.floats(0, 1))
def test_a_held_bore_grows_between_the_two_materials(free: float, held: float, restraint: float) -> None:
    found = growth.restrained_expansion(free_expansion=free, held_expansion=held, restraint=restraint)
    assert min(free, held) - 1e-18 <= found <= max(free, held) + 1e-18


@given(st.floats(1e-4, 6e-4), st.floats(0.05, 0.12), coefficients, kelvins, coefficients, kelvins)
def test_a_ring_gap_is_what_the_girth_of_the_bore_leaves_of_the_ring(
    gap: float, bore: float, ring: float, ring_at: float, wall: float, wall_at: float
) -> None:
    found = growth.hot_ring_gap(
        gap=gap,
        bore=bore,
        ring_expansion=ring,
        ring_temperature=ring_at,
        bore_expansion=wall,
        bore_temperature=wall_at,
        reference=REFERENCE,
    )
    girth = math.pi * grown(bore, wall, wall_at)
    length = grown(math.pi * bore - gap, ring, ring_at)
    assert found == pytest.approx(girth - length, abs=0.01 * gap)


@given(st.floats(1e-4, 6e-4), st.floats(0.05, 0.12), st.floats(-1e-5, 2e-4))
def test_a_gap_grows_by_pi_for_each_bit_of_bore_and_tells_the_bore(gap: float, bore: float, more: float) -> None:
    wider = piston_rings.gap_in_bore(gap=gap, bore_gauged=bore, bore=bore + more)
    assert wider - gap == pytest.approx(math.pi * more, abs=1e-12)
    back = piston_rings.bore_from_gap(gap=wider, gap_when_new=gap, bore_when_new=bore)
    assert back == pytest.approx(bore + more)


def test_a_leak_area_is_nought_without_gap_or_without_clearance() -> None:
    area = piston_rings.leak_area(
        gap=np.array([0.0, 4e-4, 4e-4]), bore=0.086, land_diameter=np.array([0.085, 0.086, 0.0854])
    )
    assert np.asarray(area) == pytest.approx([0, 0, 1.2e-7])
    with pytest.raises(OutOfRange):
        piston_rings.leak_area(gap=4e-4, bore=0.086, land_diameter=0.087)


def test_extremes_are_those_of_all_corners() -> None:
    found = shells.clearance_extremes(**SHELLED)
    corners = [
        h - 2 * w - j
        for h, w, j in itertools.product(
            *([SHELLED[f"{n}_least"], SHELLED[f"{n}_greatest"]] for n in ("housing", "wall", "journal"))
        )
    ]
    assert (found.least, found.greatest) == pytest.approx((min(corners), max(corners)))
    assert found.least < found.likely_least < found.likely_greatest < found.greatest


def test_the_likely_range_holds_nearly_all_of_what_is_drawn() -> None:
    random = np.random.default_rng(3)
    count = 200_000

    def drawn(name: str) -> Any:
        return random.uniform(SHELLED[f"{name}_least"], SHELLED[f"{name}_greatest"], count)

    clearance = drawn("housing") - drawn("wall") - drawn("wall") - drawn("journal")
    found = shells.clearance_extremes(**SHELLED)
    inside = np.mean((clearance >= found.likely_least) & (clearance <= found.likely_greatest))
    # Root of squares of full widths is 1.73 standard deviations of even spreads: 90 % and more, never all.
    assert 0.9 < inside < 0.95


@given(st.floats(0.04, 0.08), st.floats(0.001, 0.003), st.floats(0, 2e-4))
def test_walls_and_journals_for_a_clearance_give_it_back(housing: float, wall: float, play: float) -> None:
    journal = shells.journal_for_clearance(housing=housing, wall=wall, clearance=play)
    assert fits.shell_clearance(housing=housing, wall=wall, journal=journal) == pytest.approx(play, abs=1e-15)
    back = shells.wall_for_clearance(housing=housing, journal=journal, clearance=play)
    assert back == pytest.approx(wall)
    halves = {"upper_wall": wall + 5e-6, "lower_wall": wall - 5e-6}
    unlike = shells.clearance_of_unlike_halves(housing=housing, journal=journal, **halves)
    assert unlike == pytest.approx(play, abs=1e-15)


@given(st.floats(0.001, 0.003), st.sampled_from([0.00025, 0.0005, 0.00075]))
def test_an_undersize_shell_keeps_the_clearance_of_the_ground_journal(wall: float, step: float) -> None:
    thicker = shells.wall_for_undersize(wall=wall, undersize=step)
    before = fits.shell_clearance(housing=0.055, wall=wall, journal=0.05)
    assert fits.shell_clearance(housing=0.055, wall=thicker, journal=0.05 - step) == pytest.approx(before, abs=1e-15)


def test_limits_the_wrong_way_round_are_refused_with_the_place() -> None:
    with pytest.raises(OutOfRange) as caught:
        fits.clearance_extremes(
            hole_least=np.array([0.05, 0.0501]), hole_greatest=0.05002, shaft_least=0.0499, shaft_greatest=0.04995
        )
    assert caught.value.bad.tolist() == [False, True]
    with pytest.raises(OutOfRange):
        shells.clearance_extremes(**{**SHELLED, "journal_least": 0.052})
