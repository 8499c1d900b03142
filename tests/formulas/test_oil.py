"""Oil: viscosity, index, grades and pressure. The single values are in tests/published."""

import itertools
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from endfloat.errors import OutOfRange
from endfloat.formulas import oil, oil_at_work, oil_grades, oil_pressure

MULTIGRADE = {
    "first_temperature": 313.15,
    "first_viscosity": 63e-6,
    "second_temperature": 373.15,
    "second_viscosity": 10.8e-6,
}
warmth = st.floats(273.15, 420.0)


def test_the_line_goes_through_both_points_that_made_it() -> None:
    found = oil.kinematic_viscosity(temperature=np.array([313.15, 373.15]), **MULTIGRADE)
    assert found == pytest.approx([63e-6, 10.8e-6])


@given(warmth, st.floats(0.5, 20))
def test_oil_thins_as_it_warms(temperature: float, warmer: float) -> None:
    thick = oil.kinematic_viscosity(temperature=temperature, **MULTIGRADE)
    assert oil.kinematic_viscosity(temperature=temperature + warmer, **MULTIGRADE) < thick


@given(warmth)
def test_temperature_and_viscosity_are_inverse(temperature: float) -> None:
    viscosity = oil.kinematic_viscosity(temperature=temperature, **MULTIGRADE)
    assert oil.temperature_of_viscosity(viscosity=viscosity, **MULTIGRADE) == pytest.approx(temperature)


def test_either_point_may_come_first() -> None:
    turned = {
        "first_temperature": 373.15,
        "first_viscosity": 10.8e-6,
        "second_temperature": 313.15,
        "second_viscosity": 63e-6,
    }
    assert oil.chart_line(**turned) == pytest.approx(oil.chart_line(**MULTIGRADE))


def test_where_the_oil_would_be_too_thin_is_told_by_place() -> None:
    with pytest.raises(OutOfRange) as caught:
        oil.kinematic_viscosity(temperature=np.array([350.0, 600.0]), **MULTIGRADE)
    assert (caught.value.name, caught.value.bad.tolist()) == ("temperature", [False, True])
    with pytest.raises(OutOfRange):
        oil.chart_line(**{**MULTIGRADE, "second_temperature": 313.15})
    with pytest.raises(OutOfRange):
        oil.temperature_of_viscosity(viscosity=20e-6, **{**MULTIGRADE, "second_viscosity": 63e-6})


@given(st.floats(2.0, 90))
def test_the_two_oils_of_the_basis_have_index_nought_and_a_hundred(warm: float) -> None:
    basis = oil.index_basis(viscosity_100=warm * 1e-6)
    assert oil.viscosity_index(viscosity_40=basis.poor, viscosity_100=warm * 1e-6) == pytest.approx(0, abs=1e-8)
    assert oil.viscosity_index(viscosity_40=basis.good, viscosity_100=warm * 1e-6) == pytest.approx(100)
    above = oil.viscosity_index(viscosity_40=basis.good * 0.99999, viscosity_100=warm * 1e-6)
    assert above == pytest.approx(100, abs=0.02)


@given(st.floats(4, 40), st.floats(1.5, 20), st.floats(1.01, 1.5))
def test_an_oil_that_is_thicker_cold_has_a_lower_index(warm: float, times: float, more: float) -> None:
    low = oil.viscosity_index(viscosity_40=warm * times * more * 1e-6, viscosity_100=warm * 1e-6)
    assert low < oil.viscosity_index(viscosity_40=warm * times * 1e-6, viscosity_100=warm * 1e-6)


def test_rows_of_the_index_meet_within_a_part_in_five_hundred() -> None:
    joints = np.array([3.8, 4.4, 5.0, 6.4, 7.0, 7.7, 9.0, 12, 15, 18, 22, 28, 40, 55, 70]) * 1e-6
    below, above = (oil.index_basis(viscosity_100=joints * factor) for factor in (1 - 1e-9, 1 + 1e-9))
    assert above.poor == pytest.approx(below.poor, rel=2e-3)
    assert above.good == pytest.approx(below.good, rel=2e-3)


def test_an_oil_thicker_warm_than_cold_is_refused() -> None:
    with pytest.raises(OutOfRange) as caught:
        oil.viscosity_index(viscosity_40=np.array([60e-6, 8e-6]), viscosity_100=np.array([10e-6, 9e-6]))
    assert caught.value.bad.tolist() == [False, True]


def test_hot_grades_from_twenty_up_meet_without_gap_or_overlap() -> None:
    grades = [oil_grades.hot_limits(grade=each) for each in ("30", "40", "50", "60")]
    assert [one.below for one in grades[:-1]] == [other.least for other in grades[1:]]
    thin = [oil_grades.hot_limits(grade=each) for each in ("8", "12", "16", "20")]
    assert all(one.below > other.least for one, other in itertools.pairwise(thin))


def test_an_oil_meets_one_grade_above_twenty_and_may_meet_two_below() -> None:
    def met(viscosity: float) -> list[str]:
        names = ("8", "12", "16", "20", "30", "40", "50", "60")
        return [
            name for name in names if oil_grades.meets_hot_grade(grade=name, viscosity_100=viscosity, high_shear=4e-3)
        ]

    assert met(10.8e-6) == ["30"]
    assert met(7.0e-6) == ["12", "16", "20"]
    assert met(9.3e-6) == ["30"]
    assert met(27e-6) == []


def test_high_shear_can_cost_the_grade() -> None:
    ten: dict[str, Any] = {"viscosity_100": 14e-6, "high_shear": np.array([3.4e-3, 3.6e-3, 3.8e-3])}
    assert np.asarray(oil_grades.meets_hot_grade(grade="10W-40", **ten)).tolist() == [0, 1, 1]
    assert np.asarray(oil_grades.meets_hot_grade(grade="15W-40", **ten)).tolist() == [0, 0, 1]
    assert np.asarray(oil_grades.meets_hot_grade(grade="40", **ten)).tolist() == [0, 0, 1]


def test_winter_grades_ask_for_more_at_every_step() -> None:
    names = ("0W", "5W", "10W", "15W", "20W", "25W")
    limits = [oil_grades.winter_limits(grade=name) for name in names]
    for one, other in itertools.pairwise(limits):
        assert other.cranking >= one.cranking
        assert other.cranking_temperature == pytest.approx(one.cranking_temperature + 5)
        assert other.pumping_temperature == pytest.approx(other.cranking_temperature - 5)
        assert other.least >= one.least
    good = {"viscosity_100": 10.8e-6, "cranking": 6.5, "pumping": 30.0}
    assert [bool(oil_grades.meets_winter_grade(grade=name, **good)) for name in names] == [False, *[True] * 5]


@pytest.mark.parametrize("grade", ["70", "10W", "5W-", "-40", "W-40", "3W-30", "", "10w-40"])
def test_a_hot_grade_that_does_not_exist_is_refused_by_name(grade: str) -> None:
    with pytest.raises(OutOfRange) as caught:
        oil_grades.hot_limits(grade=grade)
    assert (caught.value.value, caught.value.unit) == (grade, "word")


def test_thicker_single_grades_are_thicker_at_every_temperature() -> None:
    temperatures = np.linspace(283.15, 403.15, 7)
    grades = [
        oil_at_work.monograde_viscosity(grade=name, temperature=temperatures)
        for name in ("10", "20", "30", "40", "50", "60")
    ]
    assert all(np.all(np.asarray(more) > less) for less, more in itertools.pairwise(grades))
    with pytest.raises(OutOfRange):
        oil_at_work.monograde_viscosity(grade="15", temperature=350.0)


@given(st.floats(1e-3, 0.1), st.floats(1e-3, 5e-3), st.floats(1, 2))
def test_shear_thins_by_the_share_of_the_data_sheet(viscosity: float, high: float, times: float) -> None:
    found = oil_at_work.sheared_viscosity(viscosity=viscosity, high_shear=high, low_shear=high * times)
    assert found == pytest.approx(viscosity / times)


@given(st.floats(0, 0.95), st.floats(2e-5, 2e-4))
def test_groove_flow_is_the_integral_of_the_cube_of_the_gap(eccentricity: float, clearance: float) -> None:
    pressure, radius, land, viscosity = 3e5, 0.025, 0.008, 0.009

    def by_angle(angle: float) -> float:
        gap = clearance / 2 * (1 + eccentricity * np.cos(angle))
        return float(2 * pressure * gap**3 / (12 * viscosity * land) * radius)

    whole, _ = quad(by_angle, 0, 2 * np.pi)
    found = oil_pressure.groove_flow(
        feed_pressure=pressure,
        diameter=2 * radius,
        clearance=clearance,
        eccentricity=eccentricity,
        land=land,
        viscosity=viscosity,
    )
    assert found == pytest.approx(whole, rel=1e-9)


@given(st.floats(0.5, 2.5), st.floats(0, 1))
def test_pressure_is_what_lets_all_the_oil_out(opened: float, share: float) -> None:
    """A pump of one unit against two leaks side by side: solved for the pressure by a general library."""
    pressure = brentq(lambda p: share * opened**3 * p + (1 - share) * p - 1, 1e-6, 1e3)
    assert oil_pressure.pressure_ratio(clearance_ratio=opened, share=share) == pytest.approx(pressure)


@given(st.floats(1.05, 2.5), st.floats(0.05, 0.95))
def test_a_share_is_found_back_from_two_pressures(opened: float, share: float) -> None:
    ratio = oil_pressure.pressure_ratio(clearance_ratio=opened, share=share)
    assert oil_pressure.share_from_pressures(clearance_ratio=opened, pressure_ratio=ratio) == pytest.approx(share)


def test_no_share_follows_from_an_unchanged_clearance_or_a_pressure_that_rose() -> None:
    with pytest.raises(OutOfRange) as caught:
        oil_pressure.share_from_pressures(
            clearance_ratio=np.array([1.0, 1.3, 1.3]), pressure_ratio=np.array([0.9, 1.2, 0.8])
        )
    assert caught.value.bad.tolist() == [True, True, False]


@given(st.floats(1.0, 2.0), st.floats(0, 1), st.floats(0.3, 2))
def test_bearings_that_open_alike_count_as_one(opened: float, share: float, thinner: float) -> None:
    before = np.array([40e-6, 50e-6, 45e-6])
    found = oil_pressure.pressure_of_bearings(
        reference_pressure=2e5,
        reference_clearance=before,
        clearance=before * opened,
        weight=np.array([1.0, 2.0, 0.5]),
        share=share,
        viscosity_ratio=thinner,
    )
    expected: Any = oil_pressure.pressure_ratio(clearance_ratio=opened, share=share)
    assert found == pytest.approx(2e5 * thinner * expected)


def test_draws_of_clearances_lie_along_the_leading_axes() -> None:
    before = np.array([40e-6, 50e-6, 45e-6])
    drawn = before * np.random.default_rng(2).uniform(1, 1.5, (7, 3))
    engine: dict[str, Any] = {"reference_pressure": 2e5, "weight": np.ones(3), "share": 0.7, "viscosity_ratio": 1.0}
    many = np.asarray(oil_pressure.pressure_of_bearings(reference_clearance=before, clearance=drawn, **engine))
    single = oil_pressure.pressure_of_bearings(reference_clearance=before, clearance=drawn[5], **engine)
    assert many.shape == (7,)
    assert many[5] == single
    assert np.all(many < 2e5)
