"""The parts of the clearance volume, each from what is measured."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange
from endfloat.formulas.bounds import require
from endfloat.formulas.crank import dead_centres

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]


def deck_clearance(
    *, deck_height: Number, throw: Number, rod: Number, offset: Number, compression_height: Number
) -> Number:
    """Piston below the deck at its top dead centre, as built from the parts; negative when it stands proud.

    .. math:: c = H - \\sqrt{(l + r)^2 - e^2} - h

    Parameters
    ----------
    deck_height : Number
        deck face above the crank's centre, :math:`H` [m]
    throw : Number
        centre of the main journal to centre of the crank pin, :math:`r` [m]
    rod : Number
        centre distance of the rod, :math:`l` [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends, :math:`e` [m]
    compression_height : Number
        gudgeon pin's centre to the rim of the crown, :math:`h` [m]

    Returns
    -------
    result : Number
        piston below the deck [m]

    Raises
    ------
    OutOfRange
        If ``deck_height <= 0``, ``throw <= 0``, ``rod <= 0`` or ``compression_height <= 0``, or if the rod is not
        longer than throw and offset together.

    Notes
    -----
    Assumes: no play; measured clearances are the mean of two points in line with the gudgeon pin.
    No published value: a sum of lengths.

    References
    ----------
    .. [1] derived, triangle of crank and rod.

    Examples
    --------
    >>> parts = dict(deck_height=0.2203, throw=0.043, rod=0.145, compression_height=0.032)
    >>> round(float(deck_clearance(**parts, offset=0.0)), 6)
    0.0003
    """
    require("deck_height", deck_height, "m", above=0, source="derived")
    require("compression_height", compression_height, "m", above=0, source="derived")
    return deck_height - dead_centres(throw=throw, rod=rod, offset=offset).top_height - compression_height


def layer_volume(*, area: Number, height: Number) -> Number:
    """Volume of a layer such as the opening of a gasket, or the bore above the piston.

    For a gasket take its real opening and its thickness as tightened. A piston that stands proud has a negative height.

    Parameters
    ----------
    area : Number
        area of the opening [m2]
    height : Number
        thickness of the layer [m]

    Returns
    -------
    result : Number
        volume, negative with the height [m3]

    Raises
    ------
    OutOfRange
        If ``area < 0``.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(layer_volume(area=0.0059447, height=0.0012) * 1e6, 3)
    7.134
    """
    require("area", area, "m2", at_least=0)
    require("height", height, "m")
    return area * height


def disc_area(*, diameter: Number) -> Number:
    """Area of a round opening.

    Parameters
    ----------
    diameter : Number
        diameter [m]

    Returns
    -------
    result : Number
        area [m2]

    Raises
    ------
    OutOfRange
        If ``diameter <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition, circle.

    Examples
    --------
    >>> round(disc_area(diameter=0.087) * 1e4, 3)
    59.447
    """
    require("diameter", diameter, "m", above=0)
    return np.pi / 4 * diameter**2


def crown_volume(*, filled: Number, bore: Number, depth: Number) -> Number:
    """What the crown of a piston holds: dish and pockets less dome, from a burette.

    Set the rim of the crown at a known depth below the deck, seal the gap, cover with a plate and fill.

    Parameters
    ----------
    filled : Number
        volume filled in [m3]
    bore : Number
        diameter of the bore [m]
    depth : Number
        rim of the crown below the deck [m]

    Returns
    -------
    result : Number
        volume of dish and pockets less dome, negative for a dome [m3]

    Raises
    ------
    OutOfRange
        If ``filled <= 0``, ``bore <= 0`` or ``depth < 0``.

    Notes
    -----
    No published value: a difference of two volumes.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(crown_volume(filled=62.09e-6, bore=0.086, depth=0.010) * 1e6, 2)
    4.0
    """
    require("filled", filled, "m3", above=0)
    require("bore", bore, "m", above=0)
    require("depth", depth, "m", at_least=0)
    return filled - np.pi / 4 * bore**2 * depth


def crevice_volume(*, bore: Number, land: Number, height: Number) -> Number:
    """Gap round the top land down to the first ring.

    Say beside a compression ratio whether this is in it.

    Parameters
    ----------
    bore : Number
        diameter of the bore [m]
    land : Number
        diameter of the top land [m]
    height : Number
        crown to the first ring [m]

    Returns
    -------
    result : Number
        volume of the gap [m3]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``land <= 0`` or ``height < 0``, or if the land is larger than the bore.

    References
    ----------
    .. [1] definition, ring between two cylinders.

    Examples
    --------
    >>> round(crevice_volume(bore=0.086, land=0.0854, height=0.007) * 1e6, 2)
    0.57
    """
    require("bore", bore, "m", above=0)
    require("land", land, "m", above=0, at_most=bore)
    require("height", height, "m", at_least=0)
    return np.pi / 4 * (bore - land) * (bore + land) * height


def clearance_volume(
    *, chamber: Number, gasket: Number, deck: Number, crown: Number, crevice: Number, other: Number
) -> Number:
    """Clearance volume from its parts: all that is left above the piston at its top.

    Parameters
    ----------
    chamber : Number
        chamber in the head with valves and plug fitted [m3]
    gasket : Number
        opening of the gasket, as tightened [m3]
    deck : Number
        bore above the rim of the crown, negative when the piston stands proud [m3]
    crown : Number
        dish and pockets less dome [m3]
    crevice : Number
        gap round the top land, or nought when it is not counted [m3]
    other : Number
        whatever else belongs to it, such as the thread of another plug [m3]

    Returns
    -------
    result : Number
        clearance volume [m3]

    Raises
    ------
    OutOfRange
        If ``chamber < 0``, ``gasket < 0`` or ``crevice < 0``, or if nothing is left in sum.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> parts = dict(chamber=48e-6, gasket=7.134e-6, deck=1.743e-6, crown=4e-6, crevice=0.0, other=0.0)
    >>> round(clearance_volume(**parts) * 1e6, 3)
    60.877
    """
    require("chamber", chamber, "m3", at_least=0)
    require("gasket", gasket, "m3", at_least=0)
    require("crevice", crevice, "m3", at_least=0)
    for name, part in (("deck", deck), ("crown", crown), ("other", other)):
        require(name, part, "m3")
    rest = gasket + deck + crown + crevice + other
    require("chamber", chamber, "m3", above=np.negative(rest))
    return chamber + rest


def outline_area(*, along: Array, across: Array) -> Array:
    """Area of a traced outline, such as the open area of a chamber at the fire face.

    Points go round once, either way; the last joins the first. Do not take it from the length of the outline: a
    circle holds more than any other shape of the same outline, so a heart-shaped chamber would come out too large.

    .. math:: A = \\tfrac12 \\left| \\sum (x_i y_{i+1} - x_{i+1} y_i) \\right|

    Parameters
    ----------
    along : Array
        positions of the points along the face, round the outline, along the last axis, :math:`x` [m]
    across : Array
        positions of the points across the face, :math:`y` [m]

    Returns
    -------
    result : Array
        area inside the outline [m2]

    Raises
    ------
    OutOfRange
        If there are fewer than 3 points.

    Notes
    -----
    Assumes: an outline that does not cross itself.
    Accuracy: corners cut a round outline short: with n points on a circle by 6.6/n^2 of its area.
    No published value: checked against a library of plane geometry.

    References
    ----------
    .. [1] derived, area of a polygon by its corners.

    Examples
    --------
    >>> oblong = dict(along=np.array([0, 0.08, 0.08, 0]), across=np.array([0, 0, 0.06, 0.06]))
    >>> round(float(outline_area(**oblong)), 6)
    0.0048
    """
    require("along", along, "m", source="derived")
    require("across", across, "m", source="derived")
    count = np.atleast_1d(along).shape[-1]
    if count < 3 or np.atleast_1d(across).shape[-1] != count:
        raise OutOfRange(name="points", value=count, expected="3 points or more, as many across", source="derived")
    # Taken from the first point, so that a far-off zero of the trace costs no digits.
    x, y = along - along[..., :1], across - across[..., :1]
    crossed = np.sum(x * np.roll(y, -1, axis=-1) - np.roll(x, -1, axis=-1) * y, axis=-1)
    return np.asarray(np.abs(crossed) / 2)


def area_by_filling(*, added: Number, rise: Number) -> Number:
    """Open area of a chamber from a volume filled in near the brim and the rise of its level.

    With walls that slope it is the mean area over that rise: choose a rise about as deep as the skim.

    Parameters
    ----------
    added : Number
        volume filled in [m3]
    rise : Number
        rise of the level [m]

    Returns
    -------
    result : Number
        mean open area over the rise [m2]

    Raises
    ------
    OutOfRange
        If ``added <= 0`` or ``rise <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(area_by_filling(added=4.8e-6, rise=0.001) * 1e4, 3)
    48.0
    """
    require("added", added, "m3", above=0)
    require("rise", rise, "m", above=0)
    return added / rise
