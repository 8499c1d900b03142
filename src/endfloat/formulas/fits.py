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


def shell_clearance(*, housing: Number, wall: Number, journal: Number) -> Number:
    """Oil clearance of a shelled bearing: housing less two shell walls less journal.

    A step of undersize is on the diameter; each shell grows by half of it.

    Parameters
    ----------
    housing : diameter of the housing, cap torqued, without shells [m]
    wall : wall thickness of one shell at its crown [m]
    journal : diameter of the journal [m]

    Returns
    -------
    oil clearance on diameter [m]

    Source
    ------
    Definition (ISO 286-1:2010, 3.3.1, with the shells as part of the hole).

    Examples
    --------
    >>> round(shell_clearance(housing=0.055, wall=0.001486, journal=0.051983), 9)
    4.5e-05
    """
    return housing - 2 * wall - journal


def wear_of_hole(*, size: Number, size_when_new: Number) -> Number:
    """How much larger a hole is than the new size of its class.

    Parameters
    ----------
    size : largest diameter [m]
    size_when_new : diameter of the class when new [m]

    Returns
    -------
    wear on diameter [m]

    Source
    ------
    Definition.

    Examples
    --------
    >>> round(wear_of_hole(size=0.0861, size_when_new=0.086), 9)
    0.0001
    """
    return size - size_when_new


def wear_of_shaft(*, size: Number, size_when_new: Number) -> Number:
    """How much smaller a shaft is than the new size of its class.

    Parameters
    ----------
    size : smallest diameter [m]
    size_when_new : diameter of the class when new [m]

    Returns
    -------
    wear on diameter [m]

    Source
    ------
    Definition.

    Examples
    --------
    >>> round(wear_of_shaft(size=0.05197, size_when_new=0.052), 9)
    3e-05
    """
    return size_when_new - size
