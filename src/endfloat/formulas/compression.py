"""Volumes of a cylinder, and what a skim, a bore or a gasket does to the compression ratio.

A head skim changes the chamber and the ratio; it does not change the squish of a pad that is flush with the fire face,
the swept volume, or any gap inside a head that holds both cam and valves. A deck skim changes squish and ratio.
"""

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

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``stroke <= 0``, ``chamber < 0``, ``chamber_area < 0``, ``gasket_bore <= 0`` or
        ``gasket < 0``, or if no clearance volume is left.

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
    require("chamber", chamber, "m3", at_least=0)
    require("chamber_area", chamber_area, "m2", at_least=0)
    require("gasket_bore", gasket_bore, "m", above=0)
    require("gasket", gasket, "m", at_least=0)
    for name, value, unit in (("skim", skim, "m"), ("deck", deck, "m"), ("pockets", pockets, "m3")):
        require(name, value, unit)
    quarter = np.pi / 4
    clearance = chamber - chamber_area * skim + quarter * gasket_bore**2 * gasket + quarter * bore**2 * deck + pockets
    require("chamber", chamber, "m3", above=chamber - clearance)
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
        squish gap, negative when the piston would strike [m]

    Raises
    ------
    OutOfRange
        If ``gasket < 0``.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(squish(gasket=0.0012, deck=0.0003), 6)
    0.0015
    """
    require("gasket", gasket, "m", at_least=0)
    require("deck", deck, "m")
    return gasket + deck


def displacement(*, bore: Number, stroke: Number, cylinders: Number) -> Number:
    """Swept volume of all cylinders together.

    Parameters
    ----------
    bore : Number
        diameter of the bores, the mean when they differ [m]
    stroke : Number
        stroke of the pistons [m]
    cylinders : Number
        number of cylinders [1]

    Returns
    -------
    result : Number
        displacement [m3]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``stroke <= 0`` or ``cylinders < 1``.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(displacement(bore=0.086, stroke=0.082, cylinders=8.0) * 1e6)
    3811
    """
    require("cylinders", cylinders, "1", at_least=1)
    return cylinders * swept_volume(bore=bore, stroke=stroke)


def ratio_of_volumes(*, swept: Number, clearance: Number) -> Number:
    """Compression ratio from a clearance volume that was measured or added up.

    Parameters
    ----------
    swept : Number
        swept volume [m3]
    clearance : Number
        clearance volume [m3]

    Returns
    -------
    result : Number
        compression ratio [1]

    Raises
    ------
    OutOfRange
        If ``swept <= 0`` or ``clearance <= 0``.

    References
    ----------
    .. [1] definition, (swept + clearance) / clearance.

    Examples
    --------
    >>> round(ratio_of_volumes(swept=476.3e-6, clearance=54.16e-6), 3)
    9.794
    """
    require("swept", swept, "m3", above=0)
    require("clearance", clearance, "m3", above=0)
    return (swept + clearance) / clearance


def clearance_for_ratio(*, swept: Number, ratio: Number) -> Number:
    """Clearance volume that gives a wanted compression ratio.

    Parameters
    ----------
    swept : Number
        swept volume [m3]
    ratio : Number
        wanted compression ratio [1]

    Returns
    -------
    result : Number
        clearance volume [m3]

    Raises
    ------
    OutOfRange
        If ``swept <= 0`` or ``ratio <= 1``.

    References
    ----------
    .. [1] definition, the ratio solved for the clearance.

    Examples
    --------
    >>> round(clearance_for_ratio(swept=499.557e-6, ratio=9.5) * 1e6, 2)
    58.77
    """
    require("swept", swept, "m3", above=0)
    require("ratio", ratio, "1", above=1)
    return swept / (ratio - 1)


def cut_for_ratio(*, swept: Number, clearance: Number, area: Number, ratio: Number) -> Number:
    """Metal to take off for a wanted compression ratio: from a head by its open area, from a deck by its bore's.

    Only the area that is open at the cut counts: the bore's area taken for a chamber's promises too much.

    Parameters
    ----------
    swept : Number
        swept volume [m3]
    clearance : Number
        clearance volume as it is [m3]
    area : Number
        open area of the chamber at the fire face, or area of the bore [m2]
    ratio : Number
        wanted compression ratio [1]

    Returns
    -------
    result : Number
        cut; negative when the ratio is already higher, and then a thicker gasket or spacer is needed [m]

    Raises
    ------
    OutOfRange
        If ``swept <= 0``, ``clearance <= 0``, ``area <= 0`` or ``ratio <= 1``.

    Notes
    -----
    Assumes: walls upright over the height of the cut.
    No published value: the way back from the ratio.

    References
    ----------
    .. [1] definition, the ratio solved for the cut.

    Examples
    --------
    >>> volumes = dict(swept=499.557e-6, clearance=60.876e-6)
    >>> round(cut_for_ratio(**volumes, area=0.0045, ratio=9.3293), 6)
    0.0002
    """
    require("clearance", clearance, "m3", above=0)
    require("area", area, "m2", above=0)
    return (clearance - clearance_for_ratio(swept=swept, ratio=ratio)) / area


def ratio_change(*, swept: Number, clearance: Number, more: Number) -> Number:
    """What an error or a change of the clearance volume does to the compression ratio.

    Parameters
    ----------
    swept : Number
        swept volume [m3]
    clearance : Number
        clearance volume [m3]
    more : Number
        what is added to it, negative when taken away [m3]

    Returns
    -------
    result : Number
        change of the ratio, negative when it falls [1]

    Raises
    ------
    OutOfRange
        If ``swept <= 0`` or ``clearance <= 0``, or if more is taken away than there is.

    References
    ----------
    .. [1] definition, difference of two ratios.

    Examples
    --------
    >>> round(ratio_change(swept=499.557e-6, clearance=60.876e-6, more=1e-6), 3)
    -0.133
    """
    require("swept", swept, "m3", above=0)
    require("clearance", clearance, "m3", above=0)
    require("more", more, "m3", above=np.negative(clearance))
    return swept / (clearance + more) - swept / clearance
