"""What a compression test can be expected to show, and what its readings tell.

The level depends on filling, heat loss and cranking speed, which nobody knows to better than a tenth or two. The
comparison of cylinders under one tester is the result.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require
from endfloat.formulas.crank import dead_centres, piston_drop

Number = float | NDArray[np.float64]
Array = NDArray[np.float64]
SEA_LEVEL_PRESSURE, SEA_LEVEL_TEMPERATURE, LAPSE = 101325.0, 288.15, 0.0065
EXPONENT = 9.80665 / (287.05287 * LAPSE)


def trapped_volume(
    *, bore: Number, throw: Number, rod: Number, offset: Number, closing: Number, clearance: Number
) -> Number:
    """Volume above the piston when the intake valve has closed.

    .. math:: V = V_c + \\tfrac{\\pi}{4} B^2 \\, x(\\beta + \\alpha)

    Parameters
    ----------
    bore : Number
        diameter of the bore, :math:`B` [m]
    throw : Number
        centre of the main journal to centre of the crank pin [m]
    rod : Number
        centre distance of the rod [m]
    offset : Number
        pin line from the crank's centre, positive where the crank pin descends [m]
    closing : Number
        crank angle after the true bottom at which the valve meets its seat, :math:`\\alpha` [rad]
    clearance : Number
        clearance volume, :math:`V_c` [m3]

    Returns
    -------
    result : Number
        volume trapped [m3]

    Raises
    ------
    OutOfRange
        If ``bore <= 0``, ``throw <= 0``, ``rod <= 0`` or ``clearance <= 0``, or if the rod is not longer than throw
        and offset together, or the valve closes past the next top.

    Notes
    -----
    Valid for: closing at the seat, not at a checking height; lash, hot or cold, moves it.

    References
    ----------
    .. [1] derived, clearance volume and the piston's drop.

    Examples
    --------
    >>> crank = dict(bore=0.086, throw=0.043, rod=0.145, offset=0.0)
    >>> round(float(trapped_volume(**crank, closing=np.radians(50), clearance=60.876e-6)) * 1e6, 1)
    493.2
    """
    require("bore", bore, "m", above=0, source="derived")
    require("clearance", clearance, "m3", above=0, source="derived")
    ends = dead_centres(throw=throw, rod=rod, offset=offset)
    stroke_angle = ends.bottom - ends.top
    require("closing", closing, "rad", at_least=-stroke_angle, at_most=2 * np.pi - stroke_angle, source="derived")
    drop = piston_drop(throw=throw, rod=rod, offset=offset, angle=stroke_angle + closing)
    return clearance + np.pi / 4 * bore**2 * drop


def effective_ratio(*, trapped: Number, clearance: Number, tester: Number) -> Number:
    """Compression ratio from the closing of the intake valve on, with a tester's dead space joined to the chamber.

    .. math:: (V + V_t) / (V_c + V_t)

    Parameters
    ----------
    trapped : Number
        volume above the piston when the intake valve has closed, :math:`V` [m3]
    clearance : Number
        clearance volume, :math:`V_c` [m3]
    tester : Number
        space of the tester up to its check valve, nought without one fitted, :math:`V_t` [m3]

    Returns
    -------
    result : Number
        effective compression ratio [1]

    Raises
    ------
    OutOfRange
        If ``trapped <= 0``, ``clearance <= 0`` or ``tester < 0``.

    Notes
    -----
    Assumes: the tester's space breathes with the cylinder, so that it starts at the pressure of the intake.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(effective_ratio(trapped=493.2e-6, clearance=60.876e-6, tester=0.0), 2)
    8.1
    """
    require("trapped", trapped, "m3", above=0)
    require("clearance", clearance, "m3", above=0)
    require("tester", tester, "m3", at_least=0)
    return (trapped + tester) / (clearance + tester)


def cranking_pressure(*, ratio: Number, ambient: Number, filling: Number, exponent: Number) -> Number:
    """Gauge pressure that a compression test can be expected to reach.

    .. math:: p = p_0 (\\eta \\, r^m - 1)

    Parameters
    ----------
    ratio : Number
        effective compression ratio from the closing of the intake valve, :math:`r` [1]
    ambient : Number
        pressure of the air outside, :math:`p_0` [Pa]
    filling : Number
        pressure in the cylinder at the closing over that outside, 0.9 to 1 with the throttle open, :math:`\\eta` [1]
    exponent : Number
        polytropic exponent, 1.2 to 1.3 when cranked, :math:`m` [1]

    Returns
    -------
    result : Number
        gauge pressure [Pa]

    Raises
    ------
    OutOfRange
        If ``ratio < 1``, ``ambient <= 0``, ``filling <= 0`` or ``exponent < 1``.

    Notes
    -----
    Valid for: comparing cylinders, or before and after; it is no limit and passes no engine.
    Accuracy: 0.05 of the exponent is a tenth of the result; leaks and cranking speed move it as much again.

    References
    ----------
    .. [1] definition, polytropic compression.
    .. [2] memory, range of the exponent.

    Examples
    --------
    >>> expected = cranking_pressure(ratio=8.1, ambient=101325.0, filling=1.0, exponent=1.3)
    >>> round(expected * 1e-5, 1)
    14.4
    """
    require("ratio", ratio, "1", at_least=1)
    require("ambient", ambient, "Pa", above=0)
    require("filling", filling, "1", above=0)
    require("exponent", exponent, "1", at_least=1)
    return ambient * (filling * ratio**exponent - 1)


def ambient_pressure(*, altitude: Number) -> Number:
    """Pressure of the standard atmosphere at an altitude.

    A barometer's station reading is better where there is one: weather moves it by three in a hundred.

    Parameters
    ----------
    altitude : Number
        height above the sea [m]

    Returns
    -------
    result : Number
        pressure of the air [Pa]

    Raises
    ------
    OutOfRange
        If ``altitude < -2000`` or ``altitude > 11000``.

    Notes
    -----
    Differs from source: taken at the height above the sea, not the geopotential height, 2e-4 at 1000 m.

    References
    ----------
    .. [1] iso-2533, pressure in the layer whose temperature falls by 6.5 K a kilometre.

    Examples
    --------
    >>> round(ambient_pressure(altitude=1500.0))
    84556
    """
    require("altitude", altitude, "m", at_least=-2000, at_most=11000, source="iso-2533")
    return SEA_LEVEL_PRESSURE * (1 - LAPSE * altitude / SEA_LEVEL_TEMPERATURE) ** EXPONENT


def reading_elsewhere(*, reading: Number, ambient: Number, there: Number) -> Number:
    """Gauge reading of the same cylinder under another air pressure, to compare a test on a hill with a book's.

    .. math:: p' = p \\, p_0' / p_0

    Parameters
    ----------
    reading : Number
        gauge pressure as read, :math:`p` [Pa]
    ambient : Number
        pressure of the air where it was read, :math:`p_0` [Pa]
    there : Number
        pressure of the air elsewhere, :math:`p_0'` [Pa]

    Returns
    -------
    result : Number
        gauge pressure elsewhere [Pa]

    Raises
    ------
    OutOfRange
        If ``reading < 0``, ``ambient <= 0`` or ``there <= 0``.

    References
    ----------
    .. [1] derived, the polytropic pressure goes with that of the air.

    Examples
    --------
    >>> round(reading_elsewhere(reading=12e5, ambient=101325.0, there=84556.0) * 1e-5, 2)
    10.01
    """
    require("reading", reading, "Pa", at_least=0, source="derived")
    require("ambient", ambient, "Pa", above=0, source="derived")
    require("there", there, "Pa", above=0, source="derived")
    return reading * there / ambient


def lowest_to_highest(*, readings: Array) -> Array:
    """Lowest reading of an engine as a share of its highest, the form in which books limit the spread.

    Parameters
    ----------
    readings : Array
        gauge pressure of each cylinder, along the last axis [Pa]

    Returns
    -------
    result : Array
        lowest over highest [1]

    Raises
    ------
    OutOfRange
        If ``readings < 0``, or if the highest is nought.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.

    Examples
    --------
    >>> round(float(lowest_to_highest(readings=np.array([12.0e5, 11.4e5, 9.3e5, 11.9e5]))), 3)
    0.775
    """
    require("readings", readings, "Pa", at_least=0)
    highest = np.max(readings, axis=-1)
    dead = np.asarray(highest <= 0)
    if np.any(dead):
        refuse("readings", highest, dead, "Pa", "above 0", source="definition")
    return np.asarray(np.min(readings, axis=-1) / highest)


def ratio_from_curve(
    *, early: Number, late: Number, early_travel: Number, late_travel: Number, exponent: Number
) -> Number:
    """Compression ratio from two pressures on the way up, as a cylinder-pressure trace or an indicator card shows them.

    .. math:: k = (p_2 / p_1)^{1/m}, \\quad r = 1 + \\frac{k - 1}{(1 - x_1) - k (1 - x_2)}

    Parameters
    ----------
    early : Number
        pressure at the first point, absolute, :math:`p_1` [Pa]
    late : Number
        pressure at the second point, absolute, :math:`p_2` [Pa]
    early_travel : Number
        share of the stroke done at the first point, :math:`x_1` [1]
    late_travel : Number
        share of the stroke done at the second point, :math:`x_2` [1]
    exponent : Number
        polytropic exponent of the compression, :math:`m` [1]

    Returns
    -------
    result : Number
        compression ratio [1]

    Raises
    ------
    OutOfRange
        If ``early <= 0``, ``late <= 0``, ``early_travel < 0``, ``late_travel > 1`` or ``exponent < 1``, or if the
        pressure does not rise or rises more than any ratio gives.

    References
    ----------
    .. [1] definition, polytropic compression between the two points.

    Examples
    --------
    >>> points = dict(early=1.4e5, late=3.6e5, early_travel=0.25, late_travel=0.75)
    >>> round(ratio_from_curve(**points, exponent=1.3), 2)
    5.58
    """
    require("early", early, "Pa", above=0)
    require("early_travel", early_travel, "1", at_least=0)
    require("late_travel", late_travel, "1", at_most=1)
    require("exponent", exponent, "1", at_least=1)
    # Without any clearance the rise would be that of the volumes swept; a ratio without end comes near it.
    endless = early * ((1 - early_travel) / np.maximum(1 - late_travel, 1e-9)) ** exponent
    require("late", late, "Pa", above=early, below=endless * (1 - 1e-9))
    shrunk = np.asarray(late / early) ** (1 / exponent)
    left = (1 - early_travel) - shrunk * (1 - late_travel)
    ratio: Number = 1 + (shrunk - 1) / left
    return ratio
