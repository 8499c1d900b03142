"""End gaps of piston rings against the bore they are gauged in."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def gap_in_bore(*, gap: Number, bore_gauged: Number, bore: Number) -> Number:
    """End gap of a ring in another bore than it was gauged in.

    Use it when rings were gauged before the hone, or at the top of a tapered bore: the smallest place counts, the
    lowest the ring travels to.

    .. math:: g = g_0 + \\pi (D - D_0)

    Parameters
    ----------
    gap : Number
        gap as gauged, :math:`g_0` [m]
    bore_gauged : Number
        diameter where it was gauged, :math:`D_0` [m]
    bore : Number
        diameter asked for, :math:`D` [m]

    Returns
    -------
    result : Number
        gap in the other bore; negative butts, :math:`g` [m]

    Raises
    ------
    OutOfRange
        If ``gap < 0``, ``bore_gauged <= 0`` or ``bore <= 0``.

    Notes
    -----
    Assumes: the ring touches all round in both.

    References
    ----------
    .. [1] army-ring-gap, rule of 0.003 in of gap for 0.001 in of bore.

    Examples
    --------
    >>> round(gap_in_bore(gap=0.0003, bore_gauged=0.086, bore=0.0861) * 1e3, 3)
    0.614
    """
    require("gap", gap, "m", at_least=0, source="army-ring-gap")
    require("bore_gauged", bore_gauged, "m", above=0, source="army-ring-gap")
    require("bore", bore, "m", above=0, source="army-ring-gap")
    return gap + np.pi * (bore - bore_gauged)


def bore_from_gap(*, gap: Number, gap_when_new: Number, bore_when_new: Number) -> Number:
    """Bore that the end gap of a good ring tells of: a ring as a gauge for wear.

    Use it as a check on the bore gauge: a new ring pushed down the worn bore square with a piston.

    .. math:: D = D_0 + (g - g_0) / \\pi

    Parameters
    ----------
    gap : Number
        gap at the place asked for, :math:`g` [m]
    gap_when_new : Number
        gap of the same ring at the known place, :math:`g_0` [m]
    bore_when_new : Number
        diameter at the known place, :math:`D_0` [m]

    Returns
    -------
    result : Number
        mean diameter at the place, :math:`D` [m]

    Raises
    ------
    OutOfRange
        If ``gap < 0``, ``gap_when_new < 0`` or ``bore_when_new <= 0``.

    Notes
    -----
    Valid for: the mean diameter; an oval bore of the same girth has the same gap.
    No published value: the inverse of `gap_in_bore`, which has one; the two are tested against each other.

    References
    ----------
    .. [1] derived, girth of a circle.

    Examples
    --------
    >>> round(bore_from_gap(gap=0.000614, gap_when_new=0.0003, bore_when_new=0.086), 5)
    0.0861
    """
    require("gap", gap, "m", at_least=0, source="derived")
    require("gap_when_new", gap_when_new, "m", at_least=0, source="derived")
    require("bore_when_new", bore_when_new, "m", above=0, source="derived")
    return bore_when_new + (gap - gap_when_new) / np.pi


def leak_area(*, gap: Number, bore: Number, land_diameter: Number) -> Number:
    """Area that gas finds at the end gap: the gap by the radial clearance of the land.

    Use it to see what a wide gap is worth beside the area of a leak test.

    .. math:: A = g\\,(D - D_l) / 2

    Parameters
    ----------
    gap : Number
        end gap, :math:`g` [m]
    bore : Number
        diameter of the bore, :math:`D` [m]
    land_diameter : Number
        diameter of the piston land below the ring, :math:`D_l` [m]

    Returns
    -------
    result : Number
        open area, :math:`A` [m2]

    Raises
    ------
    OutOfRange
        If ``gap < 0`` or ``bore <= 0``; if the land is larger than the bore.

    Notes
    -----
    Assumes: square ends; chamfers and a rocked piston add to it.
    No published value: a rectangle.

    References
    ----------
    .. [1] derived, a rectangle of gap by half the clearance of the land.

    Examples
    --------
    >>> round(leak_area(gap=0.0004, bore=0.086, land_diameter=0.0854) * 1e6, 3)
    0.12
    """
    require("gap", gap, "m", at_least=0, source="derived")
    require("bore", bore, "m", above=0, source="derived")
    require("bore - land_diameter", np.subtract(bore, land_diameter), "m", at_least=0, source="derived")
    return gap * (bore - land_diameter) / 2
