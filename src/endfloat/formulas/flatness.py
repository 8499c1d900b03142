"""Flatness of a face from heights at points: the least zone between two parallel planes."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange

Array = NDArray[np.float64]


def minimum_zone(*, heights: Array, along: Array, across: Array) -> Array:
    """Width of the narrowest zone between two parallel planes that holds all points.

    A linear programme: least t with |z - a - b x - c y| <= t/2 at every point. Heights are taken square to the
    face as levelled, which for 0.1 mm of tilt over 100 mm differs by less than one part in a million.

    Parameters
    ----------
    heights : Array
        heights of the points, points along the last axis [m]
    along : Array
        positions of the points along the face [m]
    across : Array
        positions of the points across the face [m]

    Returns
    -------
    result : Array
        flatness, minimum zone [m]

    References
    ----------
    .. [1] iso-12781-1, minimum zone reference plane; default of ISO 1101.

    Examples
    --------
    >>> along, across = np.array([0, 0.1, 0, 0.1]), np.array([0, 0, 0.1, 0.1])
    >>> twisted = np.array([0, 40e-6, 40e-6, 0])
    >>> round(float(minimum_zone(heights=twisted, along=along, across=across)), 9)
    4e-05
    """
    rows = heights.reshape(-1, heights.shape[-1])
    found = np.array([_zone_and_weights(along, across, row)[0] for row in rows])
    return found.reshape(heights.shape[:-1])


def zone_weights(*, heights: Array, along: Array, across: Array) -> Array:
    """How the zone of `minimum_zone` changes with the height of each point; the weights add to nought.

    They are the marginal values of the linear programme: the few points that hold the zone.

    Parameters
    ----------
    heights : Array
        heights of the points of one face [m]
    along : Array
        positions of the points along the face [m]
    across : Array
        positions of the points across the face [m]

    Returns
    -------
    result : Array
        change of the flatness with each height [1]

    Notes
    -----
    No published value: checked against differences.

    References
    ----------
    .. [1] derived, sensitivity of a linear programme to its right-hand side (envelope theorem).

    Examples
    --------
    >>> along, across = np.array([0, 0.1, 0, 0.1]), np.array([0, 0, 0.1, 0.1])
    >>> twisted = np.array([0, 40e-6, 40e-6, 0])
    >>> [round(float(weight), 3) for weight in zone_weights(heights=twisted, along=along, across=across)]
    [-0.5, 0.5, 0.5, -0.5]
    """
    return _zone_and_weights(along, across, heights)[1]


def _zone_and_weights(along: Array, across: Array, heights: Array) -> tuple[float, Array]:
    # This part of scipy takes a while to load, and few commands ask for it.
    from scipy.optimize import linprog

    points = np.column_stack([np.ones_like(along), along, across])
    if len(along) < 4 or np.linalg.matrix_rank(points) < 3:
        raise OutOfRange(name="points", value=len(along), expected="at least 4 points, not all on one line")
    # Scaled to the range of the heights: the solver's tolerance is absolute.
    scale = float(np.ptp(heights)) or 1.0
    level = (heights - heights.mean()) / scale
    plane = points / np.abs(points).max(axis=0)
    half = np.full((len(level), 1), -0.5)
    rows = np.vstack([np.hstack([-plane, half]), np.hstack([plane, half])])
    bounds = [(None, None)] * 3 + [(0, None)]
    solved = linprog([0, 0, 0, 1], A_ub=rows, b_ub=np.concatenate([-level, level]), bounds=bounds, method="highs")
    above, below = np.split(solved.ineqlin.marginals, 2)
    return float(solved.x[3]) * scale, np.asarray(below - above)
