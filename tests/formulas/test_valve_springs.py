"""Valve springs: ways there and back, and the surge from the mass of the wire."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigvalsh_tridiagonal
from scipy.optimize import brentq

from endfloat.errors import OutOfRange
from endfloat.formulas import spring_wire, valve_springs

SPRING = {"wire": 0.004, "coil_diameter": 0.026, "active_coils": 5.0, "shear_modulus": 80e9}
BARE = {"wire": 0.004, "coil_diameter": 0.026}
loads = st.floats(1, 2000)
heights = st.floats(0.02, 0.045)


def test_a_rate_comes_from_the_twist_of_the_wire() -> None:
    """The wire as a straight bar in torsion: work of the load equals the energy of the twist."""
    length = np.pi * SPRING["coil_diameter"] * SPRING["active_coils"]
    polar = np.pi * SPRING["wire"] ** 4 / 32
    load = 300.0
    twist = load * SPRING["coil_diameter"] / 2 * length / (SPRING["shear_modulus"] * polar)
    pressed = twist * SPRING["coil_diameter"] / 2
    assert valve_springs.deflection(rate=valve_springs.rate(**SPRING), load=load) == pytest.approx(pressed)


@given(st.floats(2, 12), st.floats(0.003, 0.006))
def test_coils_and_rate_lead_back_to_each_other(coils: float, wire: float) -> None:
    given_ = {**SPRING, "wire": wire}
    rate = valve_springs.rate(**{**given_, "active_coils": coils})
    del given_["active_coils"]
    assert valve_springs.active_coils(rate=rate, **given_) == pytest.approx(coils)


@given(heights, heights, st.floats(1e4, 1e5))
def test_two_loads_tell_the_rate_and_two_rates_never_differ(one: float, two: float, rate: float) -> None:
    if abs(one - two) < 1e-4:
        return
    first, second = (valve_springs.load_at(rate=rate, free_length=0.05, height=h) for h in (one, two))
    found = valve_springs.rate_from_loads(load=first, height=one, other_load=second, other_height=two)
    assert found == pytest.approx(rate)


@given(loads, st.floats(1e4, 1e5))
def test_a_load_presses_to_the_height_that_gives_it_back(load: float, rate: float) -> None:
    free = 0.3
    height = free - valve_springs.deflection(rate=rate, load=load)
    assert valve_springs.load_at(rate=rate, free_length=free, height=height) == pytest.approx(load)


def test_a_table_gives_its_readings_back_and_lies_above_a_stiffening_spring() -> None:
    at = np.linspace(0.024, 0.046, 8)

    def true(height: np.ndarray | float) -> np.ndarray:
        return 25_000 * (0.047 - np.asarray(height)) + 4e8 * (0.047 - np.asarray(height)) ** 3

    table = {"table_height": at, "table_load": true(at)}
    assert valve_springs.load_from_table(height=at, **table) == pytest.approx(true(at))
    between = (at[1:] + at[:-1]) / 2
    found = np.asarray(valve_springs.load_from_table(height=between, **table))
    assert np.all(found >= true(between))
    # A chord misses a curve by at most the square of its length times the curvature over eight.
    curvature = 6 * 4e8 * (0.047 - at[0])
    assert np.max(found - true(between)) <= (at[1] - at[0]) ** 2 * curvature / 8


@pytest.mark.parametrize("height", [0.020, 0.050])
def test_a_height_beside_the_table_is_refused(height: float) -> None:
    table = {"table_height": np.array([0.025, 0.035]), "table_load": np.array([600.0, 300.0])}
    with pytest.raises(OutOfRange) as caught:
        valve_springs.load_from_table(height=np.array([0.03, height]), **table)
    assert list(caught.value.bad) == [False, True]


def test_a_table_that_is_not_one_is_refused() -> None:
    with pytest.raises(OutOfRange):
        valve_springs.load_from_table(height=0.03, table_height=np.array([0.03]), table_load=np.array([1.0]))
    with pytest.raises(OutOfRange):
        valve_springs.load_from_table(
            height=0.03, table_height=np.array([0.02, 0.04]), table_load=np.array([300.0, 600.0])
        )


@given(st.floats(0.03, 0.04), st.floats(0, 0.012), st.floats(0.02, 0.028))
def test_a_margin_is_gone_at_the_lift_that_binds(height: float, lift: float, bind: float) -> None:
    margin = valve_springs.bind_margin(installed_height=height, lift=lift, bind_length=bind)
    more = lift + margin
    if more >= 0:
        assert valve_springs.bind_margin(installed_height=height, lift=more, bind_length=bind) == pytest.approx(0)


@given(st.floats(0.03, 0.04), st.floats(0.03, 0.04))
def test_a_shim_brings_the_height_to_the_book(height: float, wanted: float) -> None:
    assert height - valve_springs.shim_for_height(height=height, wanted_height=wanted) == pytest.approx(wanted)


@given(loads)
def test_stress_and_load_lead_back_to_each_other(load: float) -> None:
    stress = spring_wire.shear_stress(load=load, **BARE)
    assert spring_wire.load_for_stress(stress=stress, **BARE) == pytest.approx(load)
    index = BARE["coil_diameter"] / BARE["wire"]
    assert spring_wire.wire_for_load(load=load, index=index, stress=stress) == pytest.approx(BARE["wire"])


def test_a_wire_thinner_than_allowed_is_overstressed() -> None:
    wire = float(spring_wire.wire_for_load(load=600.0, index=6.5, stress=700e6))
    assert spring_wire.shear_stress(load=600.0, wire=0.99 * wire, coil_diameter=6.5 * 0.99 * wire) > 700e6


def test_a_wide_coil_is_stressed_like_a_straight_bar() -> None:
    indices = np.array([3.0, 5.0, 8.0, 20.0, 1e6])
    factors = np.asarray(spring_wire.wahl_factor(index=indices))
    assert np.all(np.diff(factors) < 0)
    assert factors[-1] == pytest.approx(1, abs=1e-5)


def test_surge_is_that_of_a_chain_of_masses_between_two_plates() -> None:
    density, count = 7850.0, 400
    rate = float(valve_springs.rate(**SPRING))
    wire_length = np.pi * SPRING["coil_diameter"] * SPRING["active_coils"]
    mass = density * np.pi / 4 * SPRING["wire"] ** 2 * wire_length / count
    stiff = rate * count
    squares = eigvalsh_tridiagonal(
        np.full(count - 1, 2 * stiff / mass), np.full(count - 2, -stiff / mass), select="i", select_range=(0, 0)
    )
    assert spring_wire.surge(density=density, **SPRING) == pytest.approx(np.sqrt(squares[0]), rel=1e-4)


def test_surge_in_the_units_of_the_standard_has_its_constant() -> None:
    """3560 d/(n D2) root(G/rho) in mm, N/mm2 and kg/dm3, recalled; the exact constant is 3558.8."""
    hertz = float(spring_wire.surge(density=7850.0, **SPRING)) / (2 * np.pi)
    recalled = 3560 * 4 / (5 * 26**2) * np.sqrt(80_000 / 7.85)
    assert hertz == pytest.approx(recalled, rel=1e-3)


@given(st.floats(1000, 5000), st.floats(50, 800))
def test_a_harmonic_falls_as_the_engine_speeds_up(surge: float, speed: float) -> None:
    slow, fast = (spring_wire.surge_harmonic(surge=surge, crank_speed=s) for s in (speed, 2 * speed))
    assert slow == pytest.approx(2 * fast)


@given(loads, st.floats(0.03, 0.3), st.floats(-0.05, -0.002))
def test_at_the_speed_of_float_the_spring_just_gives_the_deceleration(load: float, mass: float, second: float) -> None:
    speed = spring_wire.float_speed(load=load, mass=mass, second=second)
    assert mass * second * (speed / 2) ** 2 == pytest.approx(-load)


@given(st.floats(4, 12))
def test_a_solid_spring_is_its_coils_side_by_side(coils: float) -> None:
    ground = spring_wire.solid_length(wire=0.004, total_coils=coils, unground_ends=0.0)
    rough = spring_wire.solid_length(wire=0.004, total_coils=coils, unground_ends=1.5)
    assert ground / coils == pytest.approx(0.004)
    assert rough - ground == pytest.approx(0.006)


def test_the_least_gaps_of_a_valve_spring_leave_it_short_of_solid() -> None:
    gaps = spring_wire.least_coil_gaps(**BARE, active_coils=5.0)
    solid = spring_wire.solid_length(wire=0.004, total_coils=7.0, unground_ends=0.0)
    shortest = brentq(
        lambda h: valve_springs.bind_margin(installed_height=h, lift=0.0, bind_length=solid) - gaps, 0.02, 0.06
    )
    assert shortest == pytest.approx(solid + gaps)


def test_bad_elements_are_told() -> None:
    with pytest.raises(OutOfRange) as caught:
        valve_springs.rate(**{**SPRING, "wire": np.array([0.004, np.nan, 0.0])})
    assert list(caught.value.bad) == [False, True, True]
