"""Uncertain values: shared sources, probabilities, draws. The published values are in tests/published."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.quantities.estimates import (
    ErrorSource,
    Estimate,
    correlation,
    draw,
    probability_within,
    propagate,
)


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


# Spread of one drawn source of each shape, and the furthest that a draw may lie, in its standard.
@pytest.mark.parametrize(
    ("source", "spread", "furthest"),
    [
        (ErrorSource(2.0), 1.0, math.inf),
        (ErrorSource(2.0, shape="rectangular"), 1.0, math.sqrt(3)),
        (ErrorSource(2.0, shape="arcsine"), 1.0, math.sqrt(2)),
        (ErrorSource(2.0, shape="trapezoid", inexact=0.5), 1.0, 1.5 / math.sqrt(1 / 3 + 0.25 / 9)),
        (ErrorSource(2.0, 18, "student"), math.sqrt(18 / 16), math.inf),
    ],
)
def test_each_shape_is_drawn_with_its_spread_and_within_its_bounds(
    source: ErrorSource, spread: float, furthest: float
) -> None:
    drawn = draw({"x": [Estimate(5.0, {"a": source})]}, generator=np.random.default_rng(3), draws=40_000)["x"][:, 0]
    assert drawn.mean() == pytest.approx(5.0, abs=0.05)
    assert drawn.std() == pytest.approx(2.0 * spread, rel=0.02)
    assert np.abs(drawn - 5.0).max() <= 2.0 * furthest * (1 + 1e-12)


@pytest.mark.parametrize("source", [ErrorSource(1.0, 2, "student"), ErrorSource(1.0, shape="bell")])
def test_a_shape_without_a_finite_spread_or_a_name_is_refused(source: ErrorSource) -> None:
    with pytest.raises(OutOfRange):
        draw({"x": [Estimate(0.0, {"a": source})]}, generator=np.random.default_rng(3), draws=10)


def test_estimates_without_a_shared_source_are_uncorrelated_and_an_exact_one_is_too() -> None:
    own, other = Estimate(1.0, {"a": ErrorSource(1.0)}), Estimate(1.0, {"b": ErrorSource(1.0)})
    assert correlation(own, other) == 0
    assert correlation(own, Estimate(1.0)) == 0
    assert correlation(own, Estimate(2.0, {"a": ErrorSource(-3.0)})) == -1
