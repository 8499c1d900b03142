"""Press and shrink fits: what always holds. The single values are in tests/published."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from endfloat.errors import OutOfRange
from endfloat.formulas import growth, interference, shrinking

SEAT: dict[str, Any] = {
    "diameter": 0.04,
    "outer_diameter": 0.06,
    "inner_diameter": 0.033,
    "outer_modulus": 72e9,
    "outer_poisson": 0.33,
    "inner_modulus": 130e9,
    "inner_poisson": 0.26,
}
rings = st.fixed_dictionaries(
    {
        "diameter": st.floats(0.02, 0.05),
        "outer_diameter": st.floats(0.051, 0.2),
        "inner_diameter": st.floats(0.0, 0.019),
        "outer_modulus": st.floats(60e9, 220e9),
        "outer_poisson": st.floats(0.2, 0.35),
        "inner_modulus": st.floats(60e9, 220e9),
        "inner_poisson": st.floats(0.2, 0.35),
    }
)


@given(rings, st.floats(1e-6, 1e-4), st.floats(1.1, 5))
def test_pressure_goes_with_the_interference_and_back(fit: dict[str, float], tight: float, times: float) -> None:
    pressure = interference.contact_pressure(interference=tight, **fit)
    assert interference.contact_pressure(interference=tight * times, **fit) == pytest.approx(times * pressure)
    assert interference.interference_for_pressure(pressure=pressure, **fit) == pytest.approx(tight)
    assert interference.contact_pressure(interference=-tight, **fit) == 0


@given(rings, st.floats(1e-5, 1e-4), st.floats(1.01, 2))
def test_a_thicker_or_stiffer_part_is_gripped_harder(fit: dict[str, float], tight: float, times: float) -> None:
    pressure = interference.contact_pressure(interference=tight, **fit)
    for name in ("outer_diameter", "outer_modulus", "inner_modulus"):
        assert interference.contact_pressure(interference=tight, **{**fit, name: times * fit[name]}) > pressure


@given(rings, st.floats(1e6, 1e8))
def test_the_interference_is_what_both_parts_give(fit: dict[str, float], pressure: float) -> None:
    """Hoop strain of each surface by Hooke's law: the hole opens and the shaft closes by the interference together."""
    d = fit["diameter"]
    outer = interference.ring_stress(
        inside_pressure=pressure,
        outside_pressure=0.0,
        inner_diameter=d,
        outer_diameter=fit["outer_diameter"],
        diameter=d,
    )
    inner = interference.ring_stress(
        inside_pressure=0.0,
        outside_pressure=pressure,
        inner_diameter=fit["inner_diameter"],
        outer_diameter=d,
        diameter=d,
    )
    opened = d * (outer.hoop - fit["outer_poisson"] * outer.radial) / fit["outer_modulus"]
    closed = -d * (inner.hoop - fit["inner_poisson"] * inner.radial) / fit["inner_modulus"]
    assert opened + closed == pytest.approx(interference.interference_for_pressure(pressure=pressure, **fit))


@given(st.floats(0.005, 0.019), st.floats(0.02, 0.05), st.floats(1e6, 1e8), st.floats(60e9, 220e9))
def test_bore_and_outside_move_by_the_hoop_strain(bore: float, outside: float, pressure: float, modulus: float) -> None:
    ring = {"inner_diameter": bore, "outer_diameter": outside}
    squeezed = interference.ring_stress(inside_pressure=0.0, outside_pressure=pressure, **ring, diameter=bore)
    closure = interference.bore_closure(pressure=pressure, diameter=outside, inner_diameter=bore, inner_modulus=modulus)
    assert closure == pytest.approx(-bore * squeezed.hoop / modulus)
    blown = interference.ring_stress(inside_pressure=pressure, outside_pressure=0.0, **ring, diameter=outside)
    growing = interference.outside_growth(
        pressure=pressure, diameter=bore, outer_diameter=outside, outer_modulus=modulus
    )
    assert growing == pytest.approx(outside * blown.hoop / modulus)


def test_stresses_solve_the_equilibrium_of_a_ring() -> None:
    """The displacement u of a ring obeys u'' + u'/r - u/r² = 0: solved by a general library."""
    inner, outer, modulus, poisson, inside, outside = 0.02, 0.045, 110e9, 0.3, 40e6, 15e6
    scale = modulus / (1 - poisson**2)

    def slope(r: Any, u: Any) -> Any:
        return np.vstack((u[1], -u[1] / r + u[0] / r**2))

    def ends(a: Any, b: Any) -> Any:
        radial = [scale * (end[1] + poisson * end[0] / r) for end, r in ((a, inner / 2), (b, outer / 2))]
        return np.array([radial[0] + inside, radial[1] + outside]) / 1e6

    radii = np.linspace(inner / 2, outer / 2, 60)
    solved = solve_bvp(slope, ends, radii, np.zeros((2, radii.size)) + 1e-6, tol=1e-8)
    u, du = solved.sol(radii)
    ours = interference.ring_stress(
        inside_pressure=inside,
        outside_pressure=outside,
        inner_diameter=inner,
        outer_diameter=outer,
        diameter=2 * radii,
    )
    assert ours.hoop == pytest.approx(scale * (u / radii + poisson * du), rel=1e-4)
    assert ours.radial == pytest.approx(scale * (du + poisson * u / radii), rel=1e-4)


def test_an_iron_seat_in_light_alloy_loses_its_grip_when_hot() -> None:
    warm = {"outer_expansion": 23e-6, "inner_expansion": 11e-6, "reference": 293.15}
    pressures = []
    for temperature in (293.15, 393.15, 473.15, 523.15):
        left = shrinking.interference_at_temperature(
            interference=1e-4, diameter=0.04, outer_temperature=temperature, inner_temperature=temperature, **warm
        )
        pressures.append(float(interference.contact_pressure(interference=left, **SEAT)))
    assert pressures[0] > pressures[1] > pressures[2] > 0
    assert pressures[3] == 0


@given(st.floats(0, 1e-4), st.floats(0, 1e-4), st.floats(0.01, 0.4), st.floats(8e-6, 25e-6))
def test_the_heating_that_is_told_just_opens_the_wanted_clearance(
    tight: float, play: float, diameter: float, expansion: float
) -> None:
    rise = shrinking.heating_to_assemble(interference=tight, clearance=play, diameter=diameter, expansion=expansion)
    left = shrinking.interference_at_temperature(
        interference=tight,
        diameter=diameter,
        outer_expansion=expansion,
        outer_temperature=293.15 + rise,
        inner_expansion=11e-6,
        inner_temperature=293.15,
        reference=293.15,
    )
    assert left == pytest.approx(-play, abs=1e-15)


@given(st.floats(0, 1e-4), st.floats(0, 150), st.floats(5e-6, 12e-6))
def test_chilling_and_heating_share_the_work(tight: float, chilling: float, inner: float) -> None:
    fit = {"interference": tight, "clearance": 3e-5, "diameter": 0.04}
    alone = shrinking.heating_to_assemble(**fit, expansion=23e-6)
    both = shrinking.heating_beside_chilling(**fit, outer_expansion=23e-6, inner_expansion=inner, chilling=chilling)
    assert both == pytest.approx(max(0.0, alone - inner * chilling / 23e-6), abs=1e-9)


@given(st.floats(0, 1e8), st.floats(0.01, 0.3), st.floats(0.01, 0.1), st.floats(0.05, 0.3))
def test_torque_is_force_by_half_the_diameter(pressure: float, diameter: float, length: float, mu: float) -> None:
    contact = {"pressure": pressure, "diameter": diameter, "length": length, "friction": mu}
    force = shrinking.press_force(**contact)
    assert force == pytest.approx(mu * pressure * math.pi * diameter * length)
    assert shrinking.holding_torque(**contact) == pytest.approx(force * diameter / 2)


def test_smoothing_takes_from_the_fit_and_never_more_than_all() -> None:
    rough: dict[str, Any] = {"outer_roughness": np.array([0.0, 6e-6, 60e-6]), "inner_roughness": 4e-6}
    left = shrinking.interference_after_smoothing(interference=4e-5, **rough)
    assert np.round(np.asarray(left) * 1e6, 6).tolist() == [36.8, 32.0, 0.0]


def test_a_ring_no_larger_than_its_bore_is_refused_element_by_element() -> None:
    with pytest.raises(OutOfRange) as caught:
        interference.contact_pressure(interference=1e-5, **{**SEAT, "outer_diameter": np.array([0.06, 0.04, 0.03])})
    assert (caught.value.name, caught.value.bad.tolist()) == ("outer_diameter", [False, True, True])
    with pytest.raises(OutOfRange) as caught:
        interference.ring_stress(
            inside_pressure=1e6,
            outside_pressure=0.0,
            inner_diameter=0.02,
            outer_diameter=0.05,
            diameter=np.array([0.01, 0.03, 0.06]),
        )
    assert caught.value.bad.tolist() == [True, False, True]


def test_draws_equal_one_draw_at_a_time() -> None:
    drawn = np.random.default_rng(1).normal(1e-4, 1e-5, (5, 3))
    many = np.asarray(interference.contact_pressure(interference=drawn, **SEAT))
    assert many.shape == (5, 3)
    assert many[4, 2] == interference.contact_pressure(interference=float(drawn[4, 2]), **SEAT)
    assert np.isfinite(many).all()


def test_a_ring_gear_grows_as_free_parts_grow() -> None:
    grown = growth.size_at_temperature(size=0.3, expansion=11.5e-6, temperature=493.15, reference=293.15) - 0.3
    rise = shrinking.heating_to_assemble(interference=grown, clearance=0.0, diameter=0.3, expansion=11.5e-6)
    assert rise == pytest.approx(200)
