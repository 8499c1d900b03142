"""The face under a head or a nut: where it rubs, and how hard it presses."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]


def mean_diameter(*, face: Number, hole: Number) -> Number:
    r"""Mean diameter of the ring on which the head (or the nut) turns: the mean of its two edges.

    Measure the face that turns: the washer face or flange outside, the hole or its chamfer inside. A washer that
    turns with the head moves the ring to its own underside.

    .. math:: D_{Km} = \frac{d_W + d_h}{2}

    Parameters
    ----------
    face : Number
        outer diameter of the bearing face, :math:`d_W` [m]
    hole : Number
        diameter of the hole, with its chamfer, :math:`d_h` [m]

    Returns
    -------
    result : Number
        mean diameter, :math:`D_{Km}` [m]

    Raises
    ------
    OutOfRange
        If ``hole <= 0`` or ``face <= 0``, or if the face is not wider than the hole.

    Notes
    -----
    Accuracy: one to three per cent below the ring of even pressure.

    References
    ----------
    .. [1] vdi-2230, mean diameter of the bearing face.

    Examples
    --------
    >>> round(mean_diameter(face=0.01463, hole=0.011), 6)
    0.012815
    """
    _check_face(face, hole, "vdi-2230")
    return (face + hole) / 2


def even_pressure_diameter(*, face: Number, hole: Number) -> Number:
    r"""Diameter at which friction acts when the face presses evenly: a little outside the mean of its edges.

    For flange bolts and wide washers, where the mean of the edges is too small.

    .. math:: D_{Km} = \frac{2}{3}\,\frac{d_W^3 - d_h^3}{d_W^2 - d_h^2}

    Parameters
    ----------
    face : Number
        outer diameter of the bearing face, :math:`d_W` [m]
    hole : Number
        diameter of the hole, with its chamfer, :math:`d_h` [m]

    Returns
    -------
    result : Number
        diameter of friction, :math:`D_{Km}` [m]

    Raises
    ------
    OutOfRange
        If ``hole <= 0`` or ``face <= 0``, or if the face is not wider than the hole.

    Notes
    -----
    Assumes: even pressure; the paper found it the nearest of the simple radii in every case it tried.
    No published value: the paper's figures were not at hand; checked by integration over the ring.

    References
    ----------
    .. [1] gong-2016, radius of uniform pressure.

    Examples
    --------
    >>> round(even_pressure_diameter(face=0.020, hole=0.010), 6)
    0.015556
    """
    _check_face(face, hole, "gong-2016")
    face, hole = np.asarray(face), np.asarray(hole)
    # (a^3 - b^3)/(a^2 - b^2) without the difference of nearly equal numbers.
    return 2 / 3 * (face**2 + face * hole + hole**2) / (face + hole)


def pressure(*, load: Number, face: Number, hole: Number) -> Number:
    r"""Pressure under a head, a nut or a washer.

    Compare with what the part bears before it creeps: aluminium heads ask for a washer where steel does not. A
    chamfer at the hole takes area away; give its diameter as the hole.

    .. math:: p = \frac{4 F}{\pi (d_W^2 - d_h^2)}

    Parameters
    ----------
    load : Number
        greatest load of the bolt, with its share of the working load, :math:`F` [N]
    face : Number
        outer diameter of the bearing face, :math:`d_W` [m]
    hole : Number
        diameter of the hole, with its chamfer, :math:`d_h` [m]

    Returns
    -------
    result : Number
        mean pressure, :math:`p` [Pa]

    Raises
    ------
    OutOfRange
        If ``load < 0``, ``hole <= 0`` or ``face <= 0``, or if the face is not wider than the hole.

    Notes
    -----
    Assumes: even pressure; at the edge of the hole it is higher.
    No published value: load over area.

    References
    ----------
    .. [1] vdi-2230, surface pressure.

    Examples
    --------
    >>> round(pressure(load=30e3, face=0.01463, hole=0.011) / 1e6)
    411
    """
    require("load", load, "N", at_least=0, source="vdi-2230")
    _check_face(face, hole, "vdi-2230")
    result: Number = 4 / np.pi * load / (np.asarray(face) ** 2 - np.asarray(hole) ** 2)
    return result


def _check_face(face: Number, hole: Number, source: str) -> None:
    require("hole", hole, "m", above=0, source=source)
    require("face", face, "m", above=0, source=source)
    narrow = np.asarray(np.asarray(face) <= hole)
    if narrow.any():
        refuse("face", face, narrow, "m", "more than 1 diameter of the hole", source=source)
