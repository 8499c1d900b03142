"""Uncertain values against JCGM 100, JCGM 106, published budgets and an independent library."""

import math

import GTC
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.quantities.estimates import (
    ErrorSource,
    Estimate,
    coverage_factor,
    draw,
    probability_within,
    propagate,
)


# JCGM 100:2008, annex H.1 (end gauge), inputs of table H.1 and clause H.1.3, in nm and 1/K.
def h1_inputs() -> dict[str, list[Estimate]]:
    arcsine = 0.5 / math.sqrt(2)
    return {
        "standard": [Estimate(50_000_623.0, {"calibration": ErrorSource(25, 18)})],
        "difference": [
            Estimate(
                215.0,
                {
                    "repeat": ErrorSource(13 / math.sqrt(5), 24),
                    "comparator random": ErrorSource(0.01e3 / 2.5706, 5),
                    "comparator systematic": ErrorSource(0.02e3 / 3, 8),
                },
            )
        ],
        "expansion": [Estimate(11.5e-6, {"expansion": ErrorSource(2e-6 / math.sqrt(3))})],
        "temperature": [Estimate(-0.1, {"bed": ErrorSource(0.2), "cycle": ErrorSource(arcsine)})],
        "expansion_difference": [Estimate(0.0, {"expansion difference": ErrorSource(1e-6 / math.sqrt(3), 50)})],
        "temperature_difference": [Estimate(0.0, {"temperature difference": ErrorSource(0.05 / math.sqrt(3), 2)})],
    }


def end_gauge(standard, difference, expansion, temperature, expansion_difference, temperature_difference):  # type: ignore[no-untyped-def]
    return standard + difference - standard * (expansion_difference * temperature + expansion * temperature_difference)


def test_end_gauge_of_jcgm_100_annex_h1() -> None:
    [result] = propagate(end_gauge, h1_inputs())
    assert result.value == pytest.approx(50_000_838, abs=0.5)
    # Printed: u = 32 nm, nu_eff = 16.7 truncated to 16, k(99 %) = 2.92, U = 93 nm.
    assert round(result.standard_uncertainty) == 32
    assert result.freedom == 16
    assert coverage_factor(0.99, result.freedom) == pytest.approx(2.92, abs=0.005)
    # The printed 93 is the product of the printed 2.92 and 32.
    assert round(coverage_factor(0.99, result.freedom) * round(result.standard_uncertainty)) == 93


def test_end_gauge_agrees_with_an_independent_library() -> None:
    [result] = propagate(end_gauge, h1_inputs())
    columns = {
        name: sum(
            (GTC.ureal(0, abs(source.standard), source.freedom) for source in column[0].sources.values()),
            GTC.ureal(column[0].value, 0),
        )
        for name, column in h1_inputs().items()
    }
    other = end_gauge(**columns)
    assert result.standard_uncertainty == pytest.approx(GTC.uncertainty(other), rel=1e-6)
    assert result.freedom == math.floor(GTC.dof(other))


def test_a_shared_micrometer_cancels_in_a_clearance() -> None:
    # A worked budget: bore 4.51, piston 3.35, micrometer 2.89 in both -> 3.87 um; unrelated -> 5.62 um. The
    # inputs are rounded to 0.01, which moves the root of the difference by up to 0.018.
    rest_bore = math.sqrt(4.51**2 - 2.89**2)
    rest_piston = math.sqrt(3.35**2 - 2.89**2)

    def clearance(bore_mic: str, piston_mic: str) -> float:
        bore = Estimate(83.0, {bore_mic: ErrorSource(2.89), "bore rest": ErrorSource(rest_bore)})
        piston = Estimate(82.97, {piston_mic: ErrorSource(2.89), "piston rest": ErrorSource(rest_piston)})
        [result] = propagate(lambda hole, shaft: hole - shaft, {"hole": [bore], "shaft": [piston]})
        return result.standard_uncertainty

    assert clearance("M1", "M1") == pytest.approx(3.87, abs=0.018)
    assert clearance("M1", "M2") == pytest.approx(5.62, abs=0.005)


# A clearance of 20 to 40 um, u = 3.87 and 5.62 um: two-decimal values from a table of the normal distribution.
@pytest.mark.parametrize(
    ("u", "row"),
    [
        (3.87, {22: 0.70, 25: 0.90, 28: 0.98, 30: 0.99, 33: 0.96, 37: 0.78, 41: 0.40}),
        (5.62, {22: 0.64, 25: 0.81, 28: 0.91, 30: 0.92, 33: 0.88, 37: 0.70, 41: 0.43}),
    ],
)
def test_probability_of_conformity_for_a_measured_clearance(u: float, row: dict[int, float]) -> None:
    for value, expected in row.items():
        found = probability_within(Estimate(value, {"all": ErrorSource(u)}), low=20, high=40)
        assert found == pytest.approx(expected, abs=0.0051)


@given(st.floats(0, 100), st.floats(0.1, 10), st.floats(0.1, 10))
def test_widening_an_input_never_narrows_the_result(value: float, u: float, more: float) -> None:
    def spread(standard: float) -> float:
        estimates = {"hole": [Estimate(value, {"a": ErrorSource(standard)})], "shaft": [Estimate(1.0)]}
        [result] = propagate(lambda hole, shaft: hole - shaft, estimates)
        return result.standard_uncertainty

    assert spread(u + more) > spread(u)


def test_draws_tend_to_the_linear_spread_and_share_their_sources() -> None:
    shared = ErrorSource(2.0)
    inputs = {
        "hole": [Estimate(10.0, {"mic": shared, "a": ErrorSource(1.0, shape="rectangular")})],
        "shaft": [Estimate(9.0, {"mic": shared})],
    }
    drawn = draw(inputs, generator=np.random.default_rng(7), draws=40_000)
    difference = drawn["hole"][:, 0] - drawn["shaft"][:, 0]
    assert difference.mean() == pytest.approx(1.0, abs=0.02)
    assert difference.std() == pytest.approx(1.0, rel=0.02)


def test_a_largest_value_that_two_places_share_is_no_surer_than_either() -> None:
    places = {name: [Estimate(10.0, {name: ErrorSource(2.0)})] for name in ("a", "b")}
    [shared] = propagate(lambda a, b: np.maximum(a, b), places)
    assert shared.standard_uncertainty >= 2.0
    [apart] = propagate(lambda a, b: np.maximum(a, b), {**places, "b": [Estimate(1.0, {"b": ErrorSource(2.0)})]})
    assert apart.standard_uncertainty == pytest.approx(2.0)
    [spread] = propagate(lambda a, b: np.maximum(a, b) - np.minimum(a, b), places)
    assert spread.standard_uncertainty >= 2.0 * math.sqrt(2)
