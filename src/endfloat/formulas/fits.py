"""Clearances between two parts."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


class Extremes(NamedTuple):
    """The two ends that parts within their limits can reach."""

    least: Number
    greatest: Number


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


def clearance_extremes(
    *, hole_least: Number, hole_greatest: Number, shaft_least: Number, shaft_greatest: Number
) -> Extremes:
    """Tightest and loosest clearance on diameter that two sets of limits or readings allow.

    Use it with the limits of a drawing, or with the smallest and largest reading of each part: the floor comes from
    the smallest hole with the largest shaft, the ceiling from the largest hole with the smallest shaft. Means hide it.

    .. math:: c_{min} = D_{min} - d_{max}, \\qquad c_{max} = D_{max} - d_{min}

    Parameters
    ----------
    hole_least : Number
        smallest diameter of the hole, :math:`D_{min}` [m]
    hole_greatest : Number
        largest diameter of the hole, :math:`D_{max}` [m]
    shaft_least : Number
        smallest diameter of the shaft, :math:`d_{min}` [m]
    shaft_greatest : Number
        largest diameter of the shaft, :math:`d_{max}` [m]

    Returns
    -------
    least : Number
        tightest clearance; negative is interference [m]
    greatest : Number
        loosest clearance [m]

    Raises
    ------
    OutOfRange
        If a smallest size is larger than the largest.

    References
    ----------
    .. [1] iso-286-1, 3.4.

    Examples
    --------
    >>> limits = dict(hole_least=0.05, hole_greatest=0.050025, shaft_least=0.049975, shaft_greatest=0.049991)
    >>> [round(c, 9) for c in clearance_extremes(**limits)]
    [9e-06, 5e-05]
    """
    _ordered("hole", hole_least, hole_greatest)
    _ordered("shaft", shaft_least, shaft_greatest)
    return Extremes(hole_least - shaft_greatest, hole_greatest - shaft_least)


def _ordered(name: str, least: Number, greatest: Number) -> None:
    """Refuse limits that are the wrong way round."""
    require(f"{name}_greatest - {name}_least", np.subtract(greatest, least), "m", at_least=0, source="iso-286-1")
