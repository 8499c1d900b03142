"""Bearing shells: what walls and stacks of limits do to the oil clearance."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


class ShellPlay(NamedTuple):
    """The two ends of an oil clearance, and the usual spread around the middle."""

    least: Number
    greatest: Number
    likely_least: Number
    likely_greatest: Number


def clearance_extremes(
    *,
    housing_least: Number,
    housing_greatest: Number,
    wall_least: Number,
    wall_greatest: Number,
    journal_least: Number,
    journal_greatest: Number,
) -> ShellPlay:
    """Tightest and loosest oil clearance from the limits of housing, shell wall and journal.

    Use it before ordering: limits that each hold may stack up to a clearance that does not. The likely ends add the
    three spreads as roots of squares, both walls as parts of their own; one engine with many bearings will come close
    to them, seldom beyond.

    .. math:: c_{min} = H_{min} - 2 w_{max} - d_{max}, \\qquad c_{max} = H_{max} - 2 w_{min} - d_{min}

    .. math:: c_{likely} = \\bar c \\pm \\tfrac12 \\sqrt{T_H^2 + 2 T_w^2 + T_d^2}

    Parameters
    ----------
    housing_least : Number
        smallest housing, cap torqued, without shells, :math:`H_{min}` [m]
    housing_greatest : Number
        largest housing, :math:`H_{max}` [m]
    wall_least : Number
        thinnest wall of one shell at its crown, :math:`w_{min}` [m]
    wall_greatest : Number
        thickest wall of one shell, :math:`w_{max}` [m]
    journal_least : Number
        smallest journal, :math:`d_{min}` [m]
    journal_greatest : Number
        largest journal, :math:`d_{max}` [m]

    Returns
    -------
    least : Number
        tightest oil clearance on diameter [m]
    greatest : Number
        loosest oil clearance on diameter [m]
    likely_least : Number
        lower end of the likely range [m]
    likely_greatest : Number
        upper end of the likely range [m]

    Raises
    ------
    OutOfRange
        If ``wall_least <= 0``; if a smallest size is larger than the largest.

    Notes
    -----
    Assumes: for the likely range, sizes spread evenly about the middle of their limits and independent of each other.
    No published value: sums of limits; tested against brute force over all corners and against draws.

    References
    ----------
    .. [1] iso-286-1, 3.4, with the shells as part of the hole.
    .. [2] practice, root sum of squares of a stack.

    Examples
    --------
    >>> housing = dict(housing_least=0.055, housing_greatest=0.055019)
    >>> others = dict(wall_least=0.001484, wall_greatest=0.00149, journal_least=0.05197, journal_greatest=0.051986)
    >>> [round(c * 1e6, 1) for c in clearance_extremes(**housing, **others)]
    [34.0, 81.0, 44.4, 70.6]
    """
    require("wall_least", wall_least, "m", above=0, source="iso-286-1")
    spreads = (
        _spread("housing", housing_least, housing_greatest),
        _spread("wall", wall_least, wall_greatest),
        _spread("journal", journal_least, journal_greatest),
    )
    least = housing_least - 2 * wall_greatest - journal_greatest
    greatest = housing_greatest - 2 * wall_least - journal_least
    half = np.sqrt(spreads[0] ** 2 + 2 * spreads[1] ** 2 + spreads[2] ** 2) / 2
    middle = (least + greatest) / 2
    return ShellPlay(least, greatest, middle - half, middle + half)


def clearance_of_unlike_halves(*, housing: Number, upper_wall: Number, lower_wall: Number, journal: Number) -> Number:
    """Oil clearance with two halves of different wall, as when two grades are mixed to hit the middle.

    Use it where a book allows a half of the next grade; the thick half goes where the book says.

    .. math:: c = H - w_u - w_l - d

    Parameters
    ----------
    housing : Number
        diameter of the housing, cap torqued, without shells, :math:`H` [m]
    upper_wall : Number
        wall of the upper half at its crown, :math:`w_u` [m]
    lower_wall : Number
        wall of the lower half at its crown, :math:`w_l` [m]
    journal : Number
        diameter of the journal, :math:`d` [m]

    Returns
    -------
    result : Number
        oil clearance on diameter [m]

    Raises
    ------
    OutOfRange
        If ``upper_wall <= 0`` or ``lower_wall <= 0``.

    Notes
    -----
    Valid for: the direction of the crowns; across them the walls are thinner by design.
    No published value: a difference of sizes; equal walls give `fits.shell_clearance`.

    References
    ----------
    .. [1] iso-286-1, 3.3.1, with the shells as part of the hole.

    Examples
    --------
    >>> halves = dict(upper_wall=0.001486, lower_wall=0.001489)
    >>> round(clearance_of_unlike_halves(housing=0.055, journal=0.051983, **halves), 9)
    4.2e-05
    """
    require("housing", housing, "m", source="iso-286-1")
    require("journal", journal, "m", source="iso-286-1")
    require("upper_wall", upper_wall, "m", above=0, source="iso-286-1")
    require("lower_wall", lower_wall, "m", above=0, source="iso-286-1")
    return housing - upper_wall - lower_wall - journal


def wall_for_undersize(*, wall: Number, undersize: Number) -> Number:
    """Wall of a shell for a journal ground undersize: each half grows by half of the step.

    Use it to check new shells against the box: a step of 0.25 mm on the journal is 0.125 mm a shell.

    .. math:: w = w_0 + u / 2

    Parameters
    ----------
    wall : Number
        wall of the standard shell, :math:`w_0` [m]
    undersize : Number
        step of undersize on the diameter of the journal, :math:`u` [m]

    Returns
    -------
    result : Number
        wall of the undersize shell, :math:`w` [m]

    Raises
    ------
    OutOfRange
        If ``wall <= 0`` or ``undersize < 0``.

    References
    ----------
    .. [1] tm-5-4320, p. 467, walls of standard and undersize shells.

    Examples
    --------
    >>> round(wall_for_undersize(wall=0.0031623, undersize=0.000254), 7)
    0.0032893
    """
    require("wall", wall, "m", above=0, source="tm-5-4320")
    require("undersize", undersize, "m", at_least=0, source="tm-5-4320")
    return wall + undersize / 2


def wall_for_clearance(*, housing: Number, journal: Number, clearance: Number) -> Number:
    """Wall of one shell that gives a wanted oil clearance.

    Use it to choose a grade or an undersize from a shelf of shells by measured wall.

    .. math:: w = (H - d - c) / 2

    Parameters
    ----------
    housing : Number
        diameter of the housing, cap torqued, without shells, :math:`H` [m]
    journal : Number
        diameter of the journal, :math:`d` [m]
    clearance : Number
        wanted oil clearance on diameter, :math:`c` [m]

    Returns
    -------
    result : Number
        wall of one shell, :math:`w` [m]

    Raises
    ------
    OutOfRange
        If ``clearance < 0``.

    Notes
    -----
    No published value: the inverse of `fits.shell_clearance`; the two are tested against each other.

    References
    ----------
    .. [1] iso-286-1, 3.3.1, with the shells as part of the hole.

    Examples
    --------
    >>> round(wall_for_clearance(housing=0.055, journal=0.051983, clearance=0.000045), 9)
    0.001486
    """
    require("housing", housing, "m", source="iso-286-1")
    require("journal", journal, "m", source="iso-286-1")
    require("clearance", clearance, "m", at_least=0, source="iso-286-1")
    return (housing - journal - clearance) / 2


def journal_for_clearance(*, housing: Number, wall: Number, clearance: Number) -> Number:
    """Journal to grind for a wanted oil clearance with the shells in hand.

    Use it to order a grind: measure the housings with caps torqued and the walls of the shells that are here.

    .. math:: d = H - 2 w - c

    Parameters
    ----------
    housing : Number
        diameter of the housing, cap torqued, without shells, :math:`H` [m]
    wall : Number
        wall of one shell at its crown, :math:`w` [m]
    clearance : Number
        wanted oil clearance on diameter, :math:`c` [m]

    Returns
    -------
    result : Number
        diameter of the journal, :math:`d` [m]

    Raises
    ------
    OutOfRange
        If ``wall <= 0`` or ``clearance < 0``.

    Notes
    -----
    No published value: the inverse of `fits.shell_clearance`; the two are tested against each other.

    References
    ----------
    .. [1] iso-286-1, 3.3.1, with the shells as part of the hole.

    Examples
    --------
    >>> round(journal_for_clearance(housing=0.055, wall=0.001486, clearance=0.000045), 9)
    0.051983
    """
    require("housing", housing, "m", source="iso-286-1")
    require("wall", wall, "m", above=0, source="iso-286-1")
    require("clearance", clearance, "m", at_least=0, source="iso-286-1")
    return housing - 2 * wall - clearance


def _spread(name: str, least: Number, greatest: Number) -> Number:
    """Width of two limits; refuse them the wrong way round."""
    spread: Number = np.subtract(greatest, least)
    require(f"{name}_greatest - {name}_least", spread, "m", at_least=0, source="iso-286-1")
    return spread
