"""Oil pressure against clearance: bearings as leaks side by side."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def groove_flow(
    *,
    feed_pressure: Number,
    diameter: Number,
    clearance: Number,
    eccentricity: Number,
    land: Number,
    viscosity: Number,
) -> Number:
    """Oil that pressure drives out of a bearing with a groove all round, by both sides.

    Use it for the share of a bearing in the whole flow; a groove in one shell only gives about half.

    .. math:: Q = \\frac{\\pi p\\, r c^3}{3 \\mu l'} (1 + 1.5\\,\\varepsilon^2)

    Parameters
    ----------
    feed_pressure : Number
        pressure in the groove above ambient, :math:`p` [Pa]
    diameter : Number
        diameter of the journal, twice :math:`r` [m]
    clearance : Number
        oil clearance on diameter, twice :math:`c` [m]
    eccentricity : Number
        share of the clearance that the journal is off centre, :math:`\\varepsilon` [1]
    land : Number
        width of each of the two lands, :math:`l'` [m]
    viscosity : Number
        dynamic viscosity, :math:`\\mu` [Pa s]

    Returns
    -------
    result : Number
        flow by both sides, :math:`Q` [m3/s]

    Raises
    ------
    OutOfRange
        If ``feed_pressure < 0``, ``diameter <= 0``, ``clearance <= 0``, ``eccentricity < 0``, ``eccentricity > 1``,
        ``land <= 0`` or ``viscosity <= 0``.

    Notes
    -----
    Assumes: laminar flow straight to the sides, nothing for the turning.
    No published value: re-derived by integrating the cube of the gap; tested against that integral.

    References
    ----------
    .. [1] shigley, equation 12-22, pressure-fed bearings.

    Examples
    --------
    >>> bearing = dict(diameter=0.05, clearance=0.00005, eccentricity=0.0, land=0.009, viscosity=0.008)
    >>> round(groove_flow(feed_pressure=3e5, **bearing) * 60e3, 3)
    0.102
    """
    require("feed_pressure", feed_pressure, "Pa", at_least=0, source="shigley")
    require("diameter", diameter, "m", above=0, source="shigley")
    require("clearance", clearance, "m", above=0, source="shigley")
    require("eccentricity", eccentricity, "1", at_least=0, at_most=1, source="shigley")
    require("land", land, "m", above=0, source="shigley")
    require("viscosity", viscosity, "Pa s", above=0, source="shigley")
    cube = diameter / 2 * (clearance / 2) ** 3
    return np.pi * feed_pressure * cube * (1 + 1.5 * np.square(eccentricity)) / (3 * viscosity * land)


def pressure_ratio(*, clearance_ratio: Number, share: Number) -> Number:
    """Oil pressure after bearings have opened, as a ratio of the pressure before.

    Use it to see what all main bearings near their high limit cost at hot idle, though each is within limits; or what a
    set of new shells will bring back. Give what share of the oil goes through the bearings in question.

    .. math:: \\frac{p}{p_0} = \\frac{1}{f x^3 + 1 - f}

    Parameters
    ----------
    clearance_ratio : Number
        clearance now over clearance before, :math:`x` [1]
    share : Number
        share of the flow that went through these bearings, 0 to 1, :math:`f` [1]

    Returns
    -------
    result : Number
        pressure now over pressure before [1]

    Raises
    ------
    OutOfRange
        If ``clearance_ratio <= 0``, ``share < 0`` or ``share > 1``.

    Notes
    -----
    Valid for: hot idle, below the opening of the relief valve; above it clearance eats the reserve, not the pressure.
    Assumes: a pump that delivers the same, laminar leaks, the same oil and temperature.
    Accuracy: a ratio to a known pressure; the pressure from geometry alone is worth nothing.

    References
    ----------
    .. [1] derived, leaks side by side that go by the cube of the clearance.

    Examples
    --------
    >>> round(pressure_ratio(clearance_ratio=1.25, share=0.7), 2)
    0.6
    """
    require("clearance_ratio", clearance_ratio, "1", above=0, source="derived")
    require("share", share, "1", at_least=0, at_most=1, source="derived")
    return 1 / (share * clearance_ratio**3 + 1 - share)


def pressure_of_bearings(
    *,
    reference_pressure: Number,
    reference_clearance: NDArray[np.float64],
    clearance: NDArray[np.float64],
    weight: NDArray[np.float64],
    share: Number,
    viscosity_ratio: Number,
) -> Number:
    """Oil pressure with every bearing at its own clearance, from one known pressure of the same engine.

    Use it with the measured clearances of all mains and big ends: one loose bearing counts little, all together much.
    A thinner or hotter oil acts through its viscosity on all leaks alike.

    .. math:: \\frac{p}{p_0} = \\frac{\\mu / \\mu_0}{f\\,\\frac{\\sum w_i (C_i / C_{i0})^3}{\\sum w_i} + 1 - f}

    Parameters
    ----------
    reference_pressure : Number
        known pressure, above ambient, :math:`p_0` [Pa]
    reference_clearance : Array
        clearances on diameter at the known pressure, bearings along the last axis, :math:`C_{i0}` [m]
    clearance : Array
        clearances on diameter now, :math:`C_i` [m]
    weight : Array
        how much oil each bearing took at the known pressure, in any measure; ones if alike, :math:`w_i` [1]
    share : Number
        share of all oil that went through these bearings, 0 to 1, :math:`f` [1]
    viscosity_ratio : Number
        viscosity now over that at the known pressure, :math:`\\mu / \\mu_0` [1]

    Returns
    -------
    result : Number
        pressure now, above ambient, :math:`p` [Pa]

    Raises
    ------
    OutOfRange
        If ``reference_pressure < 0``, ``reference_clearance <= 0``, ``clearance <= 0``, ``weight <= 0``,
        ``share < 0``, ``share > 1`` or ``viscosity_ratio <= 0``.

    Notes
    -----
    Valid for: hot idle, below the opening of the relief valve.
    Assumes: a pump that delivers the same, laminar leaks.
    No published value: `pressure_ratio` with a weighted mean of the cubes; equal bearings are tested against it.

    References
    ----------
    .. [1] derived, leaks side by side that go by the cube of the clearance.

    Examples
    --------
    >>> before, now = np.array([40e-6, 40e-6, 40e-6]), np.array([40e-6, 40e-6, 60e-6])
    >>> engine = dict(reference_pressure=2e5, share=0.7, viscosity_ratio=1.0, weight=np.ones(3))
    >>> round(float(pressure_of_bearings(reference_clearance=before, clearance=now, **engine)) / 1e5, 2)
    1.29
    """
    require("reference_pressure", reference_pressure, "Pa", at_least=0, source="derived")
    require("reference_clearance", reference_clearance, "m", above=0, source="derived")
    require("clearance", clearance, "m", above=0, source="derived")
    require("weight", weight, "1", above=0, source="derived")
    require("share", share, "1", at_least=0, at_most=1, source="derived")
    require("viscosity_ratio", viscosity_ratio, "1", above=0, source="derived")
    opened, weights = np.broadcast_arrays((np.asarray(clearance) / reference_clearance) ** 3, weight)
    mean: Number = np.sum(weights * opened, axis=-1) / np.sum(weights, axis=-1)
    return reference_pressure * viscosity_ratio / (share * mean + 1 - share)


def share_from_pressures(*, clearance_ratio: Number, pressure_ratio: Number) -> Number:
    """Share of the oil that goes through bearings, from a pressure before and after they were renewed.

    Use it on an engine of the same type that was measured both ways; the share then serves the next one.

    .. math:: f = \\frac{p_0 / p - 1}{x^3 - 1}

    Parameters
    ----------
    clearance_ratio : Number
        clearance now over clearance before, not 1, :math:`x` [1]
    pressure_ratio : Number
        pressure now over pressure before, :math:`p / p_0` [1]

    Returns
    -------
    result : Number
        share of the flow through these bearings, :math:`f` [1]

    Raises
    ------
    OutOfRange
        If ``clearance_ratio <= 0`` or ``pressure_ratio <= 0``; if the answer is not a share between 0 and 1.

    Notes
    -----
    Valid for: hot idle, below the opening of the relief valve.
    No published value: the inverse of `pressure_ratio`; the two are tested against each other.

    References
    ----------
    .. [1] derived, leaks side by side that go by the cube of the clearance.

    Examples
    --------
    >>> round(share_from_pressures(clearance_ratio=1.5, pressure_ratio=0.4), 2)
    0.63
    """
    require("clearance_ratio", clearance_ratio, "1", above=0, source="derived")
    require("pressure_ratio", pressure_ratio, "1", above=0, source="derived")
    opened = np.asarray(clearance_ratio, dtype=np.float64) ** 3 - 1
    share = np.where(opened == 0, -1.0, (1 / np.asarray(pressure_ratio) - 1) / np.where(opened == 0, 1.0, opened))
    require("share", share, "1", at_least=0, at_most=1, source="derived")
    return share + 0.0
