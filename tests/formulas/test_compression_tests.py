"""Compression readings: what always holds."""

from typing import Any

import fluids
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from endfloat.errors import OutOfRange
from endfloat.formulas import compression_tests


@given(st.floats(-500, 11000))
def test_the_standard_atmosphere_agrees_with_the_library(altitude: float) -> None:
    # The library takes heights above the ground, we take them as geopotential: 0.2 % of 11 km.
    geometric = altitude / (1 - altitude / 6356766)
    ours = compression_tests.standard_pressure(altitude=altitude)
    assert ours == pytest.approx(fluids.ATMOSPHERE_1976(geometric).P, rel=1e-5)


@given(st.floats(1e5, 2e6), st.floats(7e4, 1.1e5), st.floats(7e4, 1.1e5))
def test_a_reading_brought_there_and_back_is_the_same(reading: float, here: float, there: float) -> None:
    away = compression_tests.compression_at_other_pressure(reading=reading, barometer=here, reference=there)
    back = compression_tests.compression_at_other_pressure(reading=away, barometer=there, reference=here)
    assert back == pytest.approx(reading)


VOLUMES: dict[str, Any] = {"closing_volume": 450e-6, "clearance_volume": 60e-6}
CRANKED: dict[str, Any] = {"hose_volume": 0.0, "filling": 1.0, "exponent": 1.3, "barometer": 101325.0}


@pytest.mark.parametrize("temperature", [253.0, 313.0])
def test_cranking_pressure_is_that_of_a_gas_that_loses_heat_whatever_the_weather(temperature: float) -> None:
    """First law of an ideal gas whose loss of heat makes the exponent 1.3: the warmth of the air drops out."""
    gas, capacity = 287.05, 717.6
    amount = 101325 * 450e-6 / gas / temperature
    kept = (gas / capacity + 1 - 1.3) / (gas / capacity)

    def slope(volume: float, state: Any) -> Any:
        pressure = amount * gas * state[0] / volume
        return [(-pressure + kept * pressure) / (amount * capacity)]

    end = solve_ivp(slope, (450e-6, 60e-6), [temperature], rtol=1e-9).y[0, -1]
    wanted = amount * gas * end / 60e-6 - 101325
    assert compression_tests.cranking_pressure(**VOLUMES, **CRANKED) == pytest.approx(wanted, rel=1e-6)


def test_a_reading_on_a_hill_brought_to_sea_level_is_the_sea_level_reading() -> None:
    hill = float(compression_tests.standard_pressure(altitude=1500.0))
    there = compression_tests.cranking_pressure(**VOLUMES, **CRANKED | {"barometer": hill})
    here = compression_tests.cranking_pressure(**VOLUMES, **CRANKED)
    brought = compression_tests.compression_at_other_pressure(reading=there, barometer=hill, reference=101325.0)
    assert brought == pytest.approx(here)
    assert there / here == pytest.approx(0.834, abs=0.001)


@given(st.floats(0, 20e-6), st.floats(1e-7, 20e-6))
def test_a_longer_hose_reads_less(hose: float, more: float) -> None:
    readings: Any = compression_tests.cranking_pressure(
        **VOLUMES, **CRANKED | {"hose_volume": np.array([hose, hose + more])}
    )
    assert readings[1] < readings[0]


@given(st.floats(2, 20), st.floats(1.1, 1.5))
def test_the_exponent_is_read_back_from_the_reading(ratio: float, exponent: float) -> None:
    reading = compression_tests.cranking_pressure(
        closing_volume=ratio * 1e-4, clearance_volume=1e-4, **CRANKED | {"exponent": exponent}
    )
    found = compression_tests.exponent_of_reading(reading=reading, barometer=101325.0, ratio=ratio)
    assert found == pytest.approx(exponent)


@given(st.floats(3, 20), st.floats(0, 0.6), st.floats(0.05, 0.35), st.floats(1.1, 1.5))
def test_two_pressures_give_the_ratio_that_made_them(ratio: float, early: float, more: float, exponent: float) -> None:
    late = early + more
    pressures = [(1 + (1 - share) * (ratio - 1)) ** -exponent for share in (early, late)]
    found = compression_tests.ratio_of_two_pressures(
        early_pressure=pressures[0],
        late_pressure=pressures[1],
        early_share=early,
        late_share=late,
        exponent=exponent,
    )
    assert found == pytest.approx(ratio, rel=1e-6)


def test_pressures_that_no_volume_explains_are_refused() -> None:
    shares = {"early_share": 0.25, "late_share": 0.75, "exponent": 1.3}
    with pytest.raises(OutOfRange) as caught:
        compression_tests.ratio_of_two_pressures(early_pressure=1e5, late_pressure=np.array([2e5, 5e5]), **shares)
    assert caught.value.bad.tolist() == [False, True]
    most = float(caught.value.expected.removeprefix("below "))
    assert most == pytest.approx(1e5 * 3**1.3, rel=1e-5)
    with pytest.raises(OutOfRange):
        compression_tests.ratio_of_two_pressures(early_pressure=1e5, late_pressure=0.9e5, **shares)
    with pytest.raises(OutOfRange):
        compression_tests.cranking_pressure(closing_volume=5e-5, clearance_volume=6e-5, **CRANKED)


@given(st.lists(st.floats(1e5, 2e6), min_size=1, max_size=8))
def test_the_best_cylinder_has_the_share_one(readings: list[float]) -> None:
    shares: Any = compression_tests.shares_of_best(readings=np.array([readings, readings[::-1]]))
    assert np.max(shares, axis=-1).tolist() == [1.0, 1.0]
    assert shares[0].tolist() == shares[1][::-1].tolist()
    assert shares[0] * max(readings) == pytest.approx(readings)


def test_oil_that_changes_nothing_gains_nothing() -> None:
    assert compression_tests.oil_gain(dry=9e5, wet=9e5) == 0
    assert compression_tests.oil_gain(dry=9e5, wet=18e5) == pytest.approx(1)
