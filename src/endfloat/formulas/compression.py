"""Volumes of a cylinder and what a skim or a bore does to the compression ratio."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def swept_volume(*, bore: Number, stroke: Number) -> Number:
    """Volume swept by the piston: pi/4 bore^2 stroke.

    Parameters
    ----------
    bore : Number
        diameter of the bore [m]
    stroke : Number
        stroke of the piston [m]

    Returns
    -------
    result : Number
        swept volume [m3]

    Raises
    ------
    OutOfRange
        If ``bore <= 0`` or ``stroke <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, cylinder.

    Examples
    --------
    >>> round(swept_volume(bore=0.086, stroke=0.086) * 1e6, 1)
    499.6
    """
    require("bore", bore, "m", above=0)
    require("stroke", stroke, "m", above=0)
    return np.pi / 4 * bore**2 * stroke


def ratio(
    *,
    bore: Number,
    stroke: Number,
    chamber: Number,
    chamber_area: Number,
    skim: Number,
    gasket_bore: Number,
    gasket: Number,
    deck: Number,
    pockets: Number,
) -> Number:
    """Compression ratio from its parts; the skim takes chamber_area * skim from the chamber.

    The deck volume is that of the bore over the deck clearance. Walls of the chamber are taken as
    upright over the height of the skim. No ring-land crevice is counted.

    Parameters
    ----------
    bore : Number
        diameter of the bore [m]
    stroke : Number
        stroke of the piston [m]
    chamber : Number
        volume of the chamber before the skim [m3]
    chamber_area : Number
        open area of the chamber at the fire face [m2]
    skim : Number
        metal removed from the fire face [m]
    gasket_bore : Number
        diameter of the fire ring of the gasket [m]
    gasket : Number
        thickness of the compressed gasket [m]
    deck : Number
        piston below the deck at top dead centre, positive below [m]
    pockets : Number
        volume of dish and pockets less dome [m3]

    Returns
    -------
    result : Number
        compression ratio [1]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, (swept + clearance) / clearance.

    Examples
    --------
    >>> parts = dict(bore=0.086, stroke=0.086, chamber=48e-6, chamber_area=45e-4, gasket_bore=0.087)
    >>> round(ratio(**parts, skim=0.0002, gasket=0.0012, deck=0.0003, pockets=4e-6), 3)
    9.329
    """
    swept = swept_volume(bore=bore, stroke=stroke)
    quarter = np.pi / 4
    clearance = chamber - chamber_area * skim + quarter * gasket_bore**2 * gasket + quarter * bore**2 * deck + pockets
    return (swept + clearance) / clearance


def squish(*, gasket: Number, deck: Number) -> Number:
    """Squish gap of a pad that is flush with the fire face; a head skim does not change it.

    Parameters
    ----------
    gasket : Number
        thickness of the compressed gasket [m]
    deck : Number
        piston below the deck at top dead centre, positive below [m]

    Returns
    -------
    result : Number
        squish gap [m]

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(squish(gasket=0.0012, deck=0.0003), 6)
    0.0015
    """
    return gasket + deck
