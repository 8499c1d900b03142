"""Values of several places taken together."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


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
