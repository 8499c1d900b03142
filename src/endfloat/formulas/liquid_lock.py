"""Liquid above a piston: how much locks an engine, and where."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def lock_margin(*, clearance_volume: Number, liquid: Number) -> Number:
    """Liquid that still fits above the piston at its top; negative is locked, and the starter will bend a rod.

    Plugs out and two full turns by hand before the starter.

    .. math:: V = V_0 - V_l

    Parameters
    ----------
    clearance_volume : Number
        volume at top dead centre, :math:`V_0` [m3]
    liquid : Number
        liquid in the cylinder, :math:`V_l` [m3]

    Returns
    -------
    result : Number
        liquid that still fits, :math:`V` [m3]

    Raises
    ------
    OutOfRange
        If ``clearance_volume <= 0`` or ``liquid < 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.
    .. [2] practice, two turns by hand.

    Examples
    --------
    >>> round(lock_margin(clearance_volume=54e-6, liquid=60e-6) * 1e6, 1)
    -6.0
    """
    require("clearance_volume", clearance_volume, "m3", above=0)
    require("liquid", liquid, "m3", at_least=0)
    return clearance_volume - liquid


def ratio_with_liquid(*, swept_volume: Number, clearance_volume: Number, liquid: Number) -> Number:
    """Compression ratio that the gas sees above a liquid; half the chamber full doubles it.

    .. math:: r = \\frac{V_s + V_0 - V_l}{V_0 - V_l}

    Parameters
    ----------
    swept_volume : Number
        volume swept by the piston, :math:`V_s` [m3]
    clearance_volume : Number
        volume at top dead centre, :math:`V_0` [m3]
    liquid : Number
        liquid in the cylinder, :math:`V_l` [m3]

    Returns
    -------
    result : Number
        compression ratio of the gas, :math:`r` [1]

    Raises
    ------
    OutOfRange
        If ``swept_volume <= 0``, ``clearance_volume <= 0`` or ``liquid < 0``, or if the liquid fills the clearance
        volume: then there is no gas and the engine is locked.

    Notes
    -----
    Assumes: a liquid that neither gives way nor runs off.
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(ratio_with_liquid(swept_volume=486e-6, clearance_volume=54e-6, liquid=27e-6), 1)
    19.0
    """
    require("swept_volume", swept_volume, "m3", above=0)
    require("clearance_volume", clearance_volume, "m3", above=0)
    require("liquid", liquid, "m3", at_least=0)
    locked = np.asarray(np.greater_equal(liquid, clearance_volume))
    if np.any(locked):
        most = float(np.ravel(np.broadcast_to(clearance_volume, locked.shape)[locked])[0])
        refuse("liquid", liquid, locked, "m3", f"below {most:g}", source="definition")
    return (swept_volume + clearance_volume - liquid) / (clearance_volume - liquid)


def lock_height(*, bore: Number, clearance_volume: Number, liquid: Number) -> Number:
    """Travel that is left to the top where the piston meets a liquid that does not fit; nought if it fits.

    An engine that stops short of a dead centre by this much may have liquid in it: stop and pull the plugs.

    .. math:: h = \\max\\left(0, \\frac{4 (V_l - V_0)}{\\pi D^2}\\right)

    Parameters
    ----------
    bore : Number
        diameter of the bore, :math:`D` [m]
    clearance_volume : Number
        volume at top dead centre, :math:`V_0` [m3]
    liquid : Number
        liquid in the cylinder, :math:`V_l` [m3]

    Returns
    -------
    result : Number
        travel left to the top, :math:`h` [m]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``clearance_volume <= 0`` or ``liquid < 0``.

    Notes
    -----
    Assumes: valves closed.
    No published value: an identity.

    References
    ----------
    .. [1] derived, volume of a cylinder.

    Examples
    --------
    >>> round(float(lock_height(bore=0.086, clearance_volume=54e-6, liquid=60e-6)), 5)
    0.00103
    """
    require("bore", bore, "m", above=0, source="derived")
    require("clearance_volume", clearance_volume, "m3", above=0, source="derived")
    require("liquid", liquid, "m3", at_least=0, source="derived")
    height: Number = np.maximum(liquid - clearance_volume, 0) / (np.pi / 4 * bore**2)
    return height
