"""Leak-down, blow-by and liquid: what always holds, and a fluids library as second opinion."""

import math
from typing import Any

import fluids
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import blow_by, leak_tests, liquid_lock

AIR = {"temperature": 290.0, "heat_ratio": 1.4, "gas_constant": 287.05}
PSI = 6894.757
SEA_LEVEL = {"barometer": 101325.0, "heat_ratio": 1.4}
SMALL, LARGE = math.pi / 4 * 0.001016**2, math.pi / 4 * 0.001524**2
EIGHTY = {"supply": 80 * PSI, **SEA_LEVEL}

PRESSURES = st.floats(1.01e5, 2e6)
SHARES = st.floats(0, 1)


def by_library(upstream: float, downstream: float, heat_ratio: float) -> float:
    """Flow per area through a nozzle in a very wide pipe, held at the critical pressure below it."""
    behind = max(downstream, fluids.P_critical_flow(upstream, heat_ratio))
    density = upstream / 287.05 / 290
    widening = fluids.nozzle_expansibility(D=1e6, Do=1e-3, P1=upstream, P2=behind, k=heat_ratio)
    return float(widening * math.sqrt(2 * density * (upstream - behind)))


@given(PRESSURES, st.floats(0, 0.999), st.sampled_from([1.3, 1.4, 1.667]))
def test_flow_agrees_with_a_fluids_library_choked_or_not(upstream: float, share: float, heat_ratio: float) -> None:
    ours = leak_tests.orifice_flow(
        area=1e-6,
        discharge=0.9,
        upstream=upstream,
        downstream=share * upstream,
        **AIR | {"heat_ratio": heat_ratio},
    )
    assert ours == pytest.approx(0.9e-6 * by_library(upstream, share * upstream, heat_ratio), rel=1e-6)


@given(PRESSURES, SHARES, SHARES)
def test_flow_falls_with_the_pressure_behind_and_not_below_the_critical_one(
    upstream: float, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    flows: Any = leak_tests.orifice_flow(
        area=1e-6, discharge=1.0, upstream=upstream, downstream=upstream * np.array([low, high]), **AIR
    )
    assert flows[0] >= flows[1]
    if high < 0.5282:
        assert flows[0] == flows[1]
        assert fluids.is_critical_flow(upstream, high * upstream, 1.4)


def test_no_pressure_drop_means_no_flow_and_flow_scales_with_area() -> None:
    hole = {"discharge": 1.0, "upstream": 3e5, **AIR}
    assert leak_tests.orifice_flow(area=1e-6, downstream=3e5, **hole) == 0
    flows: Any = leak_tests.orifice_flow(area=np.array([1e-6, 2e-6]), downstream=1e5, **hole)
    assert flows[1] == pytest.approx(2 * flows[0])


READINGS = (78, 76, 75, 72, 70, 65, 60, 50, 40)
RATIOS = (0.303, 0.433, 0.487, 0.625, 0.707, 0.890, 1.059, 1.384, 1.722)


def test_readings_of_eighty_psi_in_areas_of_the_orifice() -> None:
    areas: Any = leak_tests.leak_area(orifice_area=SMALL, reading=np.array(READINGS) * PSI, **EIGHTY) / SMALL
    assert areas.tolist() == pytest.approx(RATIOS, abs=6e-4)


@given(st.floats(0.1, 0.999), st.floats(7e4, 1.05e5), st.floats(3e5, 9e5))
def test_orifice_and_leak_pass_the_same_air_by_the_library(share: float, barometer: float, supply: float) -> None:
    area = leak_tests.leak_area(
        orifice_area=SMALL, supply=supply, reading=share * supply, barometer=barometer, heat_ratio=1.4
    )
    between = share * supply + barometer
    comes = SMALL * by_library(supply + barometer, between, 1.4)
    assert area * by_library(between, barometer, 1.4) == pytest.approx(comes, rel=1e-5)


def test_the_leak_of_60_through_the_small_orifice_reads_75_through_the_large_one() -> None:
    leak = leak_tests.leak_area(orifice_area=SMALL, reading=60 * PSI, **EIGHTY)
    reads = leak_tests.leak_reading(orifice_area=LARGE, leak_area=leak, **EIGHTY) / PSI
    assert reads == pytest.approx(75.3, abs=0.05)
    at_hundred = leak_tests.leak_reading(orifice_area=SMALL, leak_area=leak, **EIGHTY | {"supply": 100 * PSI})
    assert at_hundred / PSI == pytest.approx(75.8, abs=0.05)
    on_a_hill = leak_tests.leak_reading(
        orifice_area=SMALL,
        leak_area=leak,
        **EIGHTY | {"barometer": 84307.0},
    )
    assert on_a_hill / PSI == pytest.approx(60.5, abs=0.05)


@given(st.floats(0.02, 0.999), st.floats(7e4, 1.05e5), st.floats(1e5, 9e5), st.floats(1e-8, 1e-5))
def test_area_and_reading_undo_each_other(share: float, barometer: float, supply: float, orifice: float) -> None:
    air = {"supply": supply, "barometer": barometer, "heat_ratio": 1.4, "orifice_area": orifice}
    area = leak_tests.leak_area(reading=share * supply, **air)
    assert leak_tests.leak_reading(leak_area=area, **air) == pytest.approx(share * supply, rel=1e-6)


@given(st.floats(0.05, 0.99), st.floats(0.05, 0.99))
def test_a_lower_reading_means_a_larger_leak(one: float, other: float) -> None:
    assume(abs(one - other) > 1e-9)
    low, high = sorted((one, other))
    areas: Any = leak_tests.leak_area(orifice_area=SMALL, reading=np.array([high, low]) * 80 * PSI, **EIGHTY)
    assert areas[0] < areas[1]


def test_the_ends_of_a_reading_are_no_leak_and_an_open_hole() -> None:
    assert leak_tests.leak_area(orifice_area=SMALL, reading=80 * PSI, **EIGHTY) == 0
    reads: Any = leak_tests.leak_reading(orifice_area=SMALL, leak_area=np.array([0.0, 1e6]), **EIGHTY)
    assert reads[0] == pytest.approx(80 * PSI)
    assert 0 <= reads[1] < 1e-6


@given(st.floats(0.1, 0.99), st.floats(0.1, 0.99), st.floats(0.6, 1))
def test_a_master_hole_drops_the_testers_orifice_and_its_coefficient(
    reading: float, master: float, coefficient: float
) -> None:
    tester = coefficient * SMALL
    leak = leak_tests.leak_area(orifice_area=tester, reading=reading * 80 * PSI, **EIGHTY)
    hole = leak_tests.leak_area(orifice_area=tester, reading=master * 80 * PSI, **EIGHTY)
    found = leak_tests.leak_area_by_master(
        master_area=hole, master_reading=master * 80 * PSI, reading=reading * 80 * PSI, **EIGHTY
    )
    assert found == pytest.approx(leak)


def test_bad_readings_are_told_by_their_mask() -> None:
    with pytest.raises(OutOfRange) as caught:
        leak_tests.leak_area(orifice_area=SMALL, reading=np.array([60, 81, math.nan]) * PSI, **EIGHTY)
    assert caught.value.bad.tolist() == [False, False, True]
    with pytest.raises(OutOfRange) as above:
        leak_tests.leak_area(orifice_area=SMALL, reading=np.array([60, 81, 79]) * PSI, **EIGHTY)
    assert above.value.bad.tolist() == [False, True, False]
    with pytest.raises(OutOfRange):
        leak_tests.leak_area(orifice_area=SMALL, reading=1e-9, **EIGHTY)
    with pytest.raises(OutOfRange):
        leak_tests.leak_area_by_master(master_area=1e-6, master_reading=80 * PSI, reading=60 * PSI, **EIGHTY)
    with pytest.raises(OutOfRange):
        leak_tests.orifice_flow(area=1e-6, discharge=1.0, upstream=1e5, downstream=1.1e5, **AIR)
    with pytest.raises(OutOfRange):
        leak_tests.leak_loss(supply=80.0, reading=81.0)


def test_leak_areas_of_arrays_equal_a_loop() -> None:
    readings = np.array([[40.0, 60.0], [70.0, 79.0]]) * PSI
    every: Any = leak_tests.leak_area(orifice_area=np.array([SMALL, LARGE]), reading=readings, **EIGHTY)
    again = leak_tests.leak_reading(orifice_area=np.array([SMALL, LARGE]), leak_area=every, **EIGHTY)
    for row, column in np.ndindex(2, 2):
        orifice = (SMALL, LARGE)[column]
        one = leak_tests.leak_area(orifice_area=orifice, reading=float(readings[row, column]), **EIGHTY)
        assert every[row, column] == pytest.approx(one, rel=1e-12)
    assert again == pytest.approx(readings)


@given(st.floats(0, 0.99), st.floats(5, 20))
def test_liquid_raises_the_ratio_until_it_locks(share: float, ratio: float) -> None:
    swept, clearance = (ratio - 1) * 1e-4, 1e-4
    found = liquid_lock.ratio_with_liquid(swept_volume=swept, clearance_volume=clearance, liquid=share * clearance)
    assert found >= ratio * (1 - 1e-12)
    # Filling the chamber with liquid is the same as a smaller chamber.
    smaller = clearance * (1 - share)
    assert found == pytest.approx((swept + smaller) / smaller)


def test_half_a_chamber_of_liquid_doubles_the_ratio_and_trebles_the_pressure() -> None:
    ratio = liquid_lock.ratio_with_liquid(swept_volume=9e-4, clearance_volume=1e-4, liquid=0.5e-4)
    assert ratio == pytest.approx(19)
    assert ratio**1.3 == pytest.approx(46, rel=0.005)


@given(st.floats(0.05, 0.15), st.floats(1e-5, 1e-4), st.floats(0, 3e-4))
def test_the_piston_meets_liquid_where_the_space_above_it_is_as_large(
    bore: float, clearance: float, liquid: float
) -> None:
    height = liquid_lock.lock_height(bore=bore, clearance_volume=clearance, liquid=liquid)
    margin = liquid_lock.lock_margin(clearance_volume=clearance, liquid=liquid)
    assert (height > 0) == (margin < 0)
    if margin < 0:
        assert clearance + math.pi / 4 * bore**2 * height == pytest.approx(liquid)
        with pytest.raises(OutOfRange):
            liquid_lock.ratio_with_liquid(swept_volume=1e-3, clearance_volume=clearance, liquid=liquid)


def test_a_leak_of_60_lets_half_a_hundred_litres_a_minute_escape() -> None:
    flow = leak_tests.orifice_flow(
        area=SMALL, discharge=1.0, upstream=80 * PSI + 101325, downstream=60 * PSI + 101325, **AIR
    )
    free = blow_by.volume_flow(mass_flow=flow, pressure=101325.0, temperature=288.15, gas_constant=287.05)
    assert free * 60e3 == pytest.approx(52, abs=1)


def test_the_gas_past_a_ring_gap_is_that_through_a_slot() -> None:
    slot = {"discharge": 0.86, "upstream": 1.6e6, "downstream": 1e5, **AIR}
    wanted: Any = leak_tests.orifice_flow(area=np.array([0.0, 3e-4 * 2.5e-4]), **slot)
    ring = {"bore": 0.086, "land": 0.0855, "discharge": 0.86, "above": 1.6e6, "below": 1e5, **AIR}
    found: Any = blow_by.past_ring_gap(gap=np.array([0.0, 3e-4]), **ring)
    assert found.tolist() == pytest.approx(wanted.tolist())
    with pytest.raises(OutOfRange) as caught:
        blow_by.past_ring_gap(gap=3e-4, **ring | {"land": np.array([0.0855, 0.0861])})
    assert caught.value.bad.tolist() == [False, True]


@given(st.floats(1e-4, 1e-3), st.floats(1.05, 3))
def test_a_wider_gap_lets_as_much_more_gas_past(gap: float, more: float) -> None:
    ring = {"bore": 0.086, "land": 0.0855, "discharge": 0.86, "above": 1.6e6, "below": 1e5, **AIR}
    assert blow_by.past_ring_gap(gap=gap * more, **ring) == pytest.approx(more * blow_by.past_ring_gap(gap=gap, **ring))
