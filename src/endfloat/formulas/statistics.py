"""Values of several places taken together."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Array = NDArray[np.float64]
Number = float | NDArray[np.float64]


def range_of(*, values: Array) -> Array:
    """Largest less smallest of the values of all places; the result has the kind of the values.

    Parameters
    ----------
    values : Array
        one value a place along the last axis [1]

    Returns
    -------
    result : Array
        largest less smallest [1]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, range.

    Examples
    --------
    >>> round(float(range_of(values=np.array([9.79, 9.92, 10.04]))), 9)
    0.25
    """
    return np.asarray(np.max(values, axis=-1) - np.min(values, axis=-1), dtype=np.float64)


def noise_of_range(*, standard: Number, count: Number) -> Number:
    r"""Range that readings of one and the same size stay below 95 times in 100, by their scatter alone.

    A smaller range says nothing of the part: the gauge shows as much on a perfect one.

    .. math:: R = q_{0.95}(n, \infty)\, s

    Parameters
    ----------
    standard : Number
        standard deviation of one reading, :math:`s` [m]
    count : Number
        number of readings, :math:`n` [1]

    Returns
    -------
    range : Number
        range that noise alone reaches, :math:`R` [m]

    Raises
    ------
    OutOfRange
        If ``standard < 0`` or ``count < 2``.

    Notes
    -----
    Valid for: normal scatter of known size, readings that share no other error.

    References
    ----------
    .. [1] studentized-range, percentage points at 5 % for infinite degrees of freedom.

    Examples
    --------
    >>> round(float(noise_of_range(standard=0.000001, count=6)), 8)
    4.03e-06
    """
    require("standard", standard, "m", at_least=0, source="studentized-range")
    require("count", count, "1", at_least=2, source="studentized-range")
    return np.asarray(np.vectorize(_point)(count) * standard)


@cache
def _point(count: float) -> float:
    """The percentage point, which takes a millisecond to work out."""
    # This part of scipy takes a second to load, and few commands ask for it.
    from scipy.stats import studentized_range

    return float(studentized_range.ppf(0.95, count, np.inf))
