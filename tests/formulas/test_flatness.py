"""Flatness against brute force over candidate planes. The provable cases are in tests/published."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas.flatness import minimum_zone

ALONG, ACROSS = (grid.ravel() for grid in np.meshgrid(np.linspace(0, 400, 5), np.linspace(0, 150, 3)))


def zone(heights: np.ndarray) -> float:
    return float(minimum_zone(heights=heights, along=ALONG, across=ACROSS))


def brute_force(heights: np.ndarray) -> float:
    """Least zone over every plane through three points and every pair of parallel planes through two and two."""
    points = np.column_stack([ALONG, ACROSS])
    slopes = []
    for i, j, k in itertools.combinations(range(len(heights)), 3):
        matrix = np.array([points[j] - points[i], points[k] - points[i]])
        if abs(np.linalg.det(matrix)) > 1e-9:
            slopes.append(np.linalg.solve(matrix, [heights[j] - heights[i], heights[k] - heights[i]]))
    for (i, j), (k, m) in itertools.combinations(itertools.combinations(range(len(heights)), 2), 2):
        matrix = np.array([points[j] - points[i], points[m] - points[k]])
        if abs(np.linalg.det(matrix)) > 1e-9:
            slopes.append(np.linalg.solve(matrix, [heights[j] - heights[i], heights[m] - heights[k]]))
    return min(float(np.ptp(heights - points @ slope)) for slope in slopes)


@given(st.integers(0, 1000))
def test_no_candidate_plane_is_narrower(seed: int) -> None:
    heights = np.random.default_rng(seed).normal(0, 0.01, len(ALONG))
    assert zone(heights) == pytest.approx(brute_force(heights), rel=1e-6)


@given(st.integers(0, 1000), st.floats(-1e-3, 1e-3), st.floats(-1e-3, 1e-3))
def test_tilting_the_face_changes_nothing(seed: int, slope: float, other: float) -> None:
    heights = np.random.default_rng(seed).normal(0, 0.01, len(ALONG))
    assert zone(heights + slope * ALONG + other * ACROSS) == pytest.approx(zone(heights), rel=1e-6, abs=1e-9)


def test_points_on_one_line_have_no_flatness() -> None:
    with pytest.raises(OutOfRange):
        minimum_zone(heights=np.zeros(5), along=np.arange(5.0), across=np.zeros(5))
