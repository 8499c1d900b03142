"""Clearances between two parts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]


def diametral_clearance(*, hole: Number, shaft: Number) -> Number:
    """Clearance on diameter: hole - shaft; negative is interference.

    Parameters
    ----------
    hole : diameter of the hole [m]
    shaft : diameter of the shaft [m]

    Returns
    -------
    clearance [m]

    Source
    ------
    Definition (ISO 286-1:2010, 3.3.1).

    Examples
    --------
    >>> round(diametral_clearance(hole=0.086, shaft=0.08595), 9)
    5e-05
    """
    return hole - shaft
