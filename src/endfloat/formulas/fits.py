"""Clearances between two parts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]


def diametral_clearance(*, hole: Number, shaft: Number) -> Number:
    """Clearance on diameter: hole - shaft; negative is interference.

    Parameters
    ----------
    hole : Number
        diameter of the hole [m]
    shaft : Number
        diameter of the shaft [m]

    Returns
    -------
    result : Number
        clearance [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] iso-286-1, 3.3.1.

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
    housing : Number
        diameter of the housing, cap torqued, without shells [m]
    wall : Number
        wall thickness of one shell at its crown [m]
    journal : Number
        diameter of the journal [m]

    Returns
    -------
    result : Number
        oil clearance on diameter [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] iso-286-1, 3.3.1, with the shells as part of the hole.

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
    size : Number
        largest diameter [m]
    size_when_new : Number
        diameter of the class when new [m]

    Returns
    -------
    result : Number
        wear on diameter [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

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
    size : Number
        smallest diameter [m]
    size_when_new : Number
        diameter of the class when new [m]

    Returns
    -------
    result : Number
        wear on diameter [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(wear_of_shaft(size=0.05197, size_when_new=0.052), 9)
    3e-05
    """
    return size_when_new - size
