"""From several readings of one feature to the size or form that a limit speaks of."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def largest(*, readings: Array) -> Array:
    """Largest two-point size over the last axis.

    Parameters
    ----------
    readings : Array
        local diameters, stations and axes along the last axis [m]

    Returns
    -------
    result : Array
        size [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] iso-14405-1, two-point size, maximum.

    Examples
    --------
    >>> float(largest(readings=np.array([0.08605, 0.08601, 0.08603])))
    0.08605
    """
    return np.asarray(np.max(readings, axis=-1), dtype=np.float64)


def smallest(*, readings: Array) -> Array:
    """Smallest two-point size over the last axis.

    Parameters
    ----------
    readings : Array
        local diameters, stations and axes along the last axis [m]

    Returns
    -------
    result : Array
        size [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] iso-14405-1, two-point size, minimum.

    Examples
    --------
    >>> float(smallest(readings=np.array([0.08605, 0.08601, 0.08603])))
    0.08601
    """
    return np.asarray(np.min(readings, axis=-1), dtype=np.float64)


def mean(*, readings: Array) -> Array:
    """Mean two-point size over the last axis.

    Parameters
    ----------
    readings : Array
        local diameters, stations and axes along the last axis [m]

    Returns
    -------
    result : Array
        size [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] iso-14405-1, two-point size, mean.

    Examples
    --------
    >>> round(float(mean(readings=np.array([0.08605, 0.08601, 0.08603]))), 9)
    0.08603
    """
    return np.asarray(np.mean(readings, axis=-1), dtype=np.float64)


def spread(*, readings: Array) -> Array:
    """Largest less smallest over the last axis.

    Parameters
    ----------
    readings : Array
        readings of one feature along the last axis [m]

    Returns
    -------
    result : Array
        largest less smallest [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, range.

    Examples
    --------
    >>> round(float(spread(readings=np.array([0.08605, 0.08601, 0.08603]))), 9)
    4e-05
    """
    return np.asarray(np.max(readings, axis=-1) - np.min(readings, axis=-1), dtype=np.float64)
