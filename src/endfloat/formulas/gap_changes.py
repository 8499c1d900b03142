"""A gap from valve to piston: as built from parts, how fast a cam's phase moves it, and what work does to it."""

from __future__ import annotations

import numpy as np

from endfloat.formulas.bounds import Number, refuse, require
from endfloat.formulas.least_gap import crank_slider


def crown_gap_from_parts(
    *, head_depth: Number, gasket: Number, deck: Number, valve_diameter: Number, valve_angle: Number
) -> Number:
    """Gap from a closed valve's lowest rim to a flat crown with the piston at the top, from measured parts.

    .. math:: g_0 = z + t + c - \\tfrac12 d\\sin\\gamma

    Parameters
    ----------
    head_depth : Number
        from the fire face up to the middle of the closed valve's face, along the cylinder, :math:`z` [m]
    gasket : Number
        thickness of the compressed gasket, :math:`t` [m]
    deck : Number
        piston below the deck at the top, positive below, :math:`c` [m]
    valve_diameter : Number
        diameter of the head, :math:`d` [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]

    Returns
    -------
    result : Number
        gap along the cylinder, :math:`g_0` [m]

    Raises
    ------
    OutOfRange
        If ``valve_diameter <= 0``, ``valve_angle < 0`` or ``valve_angle >= 1.5``.

    Notes
    -----
    No published value: an identity of the geometry.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> parts = dict(head_depth=0.006, gasket=0.0012, deck=0.0003, valve_diameter=0.034)
    >>> round(float(crown_gap_from_parts(valve_angle=np.radians(12.0), **parts)), 6)
    0.003966
    """
    for name, value in (("head_depth", head_depth), ("gasket", gasket), ("deck", deck)):
        require(name, value, "m", source="derived")
    require("valve_diameter", valve_diameter, "m", above=0, source="derived")
    _check_angle("valve_angle", valve_angle)
    return head_depth + gasket + deck - valve_diameter / 2 * np.sin(valve_angle)


def gap_rate_at_least(
    *, crank_angle: Number, throw: Number, rod: Number, offset: Number, valve_angle: Number
) -> Number:
    """How fast the least gap to a pocket changes with the phase of the cam, known from the crank alone.

    Where the gap is least, valve and piston move alike along the valve's axis; so the speed of the valve there,
    which is what a late or early cam costs, is that of the piston. A rate read on the engine that differs was not
    taken at the least gap.

    .. math:: \\frac{dg}{d\\theta} = X'(\\theta)\\cos\\gamma

    Parameters
    ----------
    crank_angle : Number
        crank angle after the top at which the gap is least; negative before it [rad]
    throw : Number
        radius of the crank [m]
    rod : Number
        rod between centres [m]
    offset : Number
        of the pin's line from the crank's centre, to the side the crankpin goes down [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]

    Returns
    -------
    result : Number
        change of the gap for a cam later by one radian of the crank: positive after the top [m]

    Raises
    ------
    OutOfRange
        If ``throw <= 0``, ``rod <= 0``, ``valve_angle < 0`` or ``valve_angle >= 1.5``, or the rod is not longer
        than throw and offset together.

    Notes
    -----
    Valid for: a floor parallel to the head and a valve that is open there.
    No published value: the sensitivity of `valve_gaps.least_pocket_gap` must agree, in the tests.

    References
    ----------
    .. [1] derived, the gap is level where it is least.

    Examples
    --------
    >>> place = dict(throw=0.043, rod=0.145, offset=0.0, valve_angle=np.radians(12.0))
    >>> rate = gap_rate_at_least(crank_angle=np.radians(4.9952), **place)
    >>> round(float(rate * np.radians(1.0)), 7)
    8.28e-05
    """
    require("crank_angle", crank_angle, "rad", source="derived")
    require("throw", throw, "m", above=0, source="derived")
    require("rod", rod, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    _check_angle("valve_angle", valve_angle)
    if np.any(short := np.asarray(rod <= throw + np.abs(offset))):
        refuse("rod", rod, short, "m", "more than 1 throw and offset together", source="derived")
    slope, _ = crank_slider(throw, rod, offset).slope_and_bend(crank_angle)
    return (slope * np.cos(valve_angle))[()]


def gap_after_work(
    *,
    gap: Number,
    taken_off: Number,
    sunk: Number,
    valve_angle: Number,
    phase_read: Number,
    phase_after: Number,
    by_centre: Number,
) -> Number:
    """The gap from valve to pocket after the work, from the gap as read before it.

    What was read belongs to the phase the cam had then, long chain and all. The work changes the phase from that
    one to the one it leaves, not from the book's: a new chain on a skimmed head moves the cam the other way than
    the skim alone.

    .. math:: g_2 = g_1 - t\\cos\\gamma + s - k\\,(p_2 - p_1)

    Parameters
    ----------
    gap : Number
        least gap along the valve as read, :math:`g_1` [m]
    taken_off : Number
        off head and deck together, less what a new gasket is thicker, :math:`t` [m]
    sunk : Number
        how much deeper the valve sits, by seat and face, :math:`s` [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]
    phase_read : Number
        phase of the cam when the gap was read, in crank angle, positive early, :math:`p_1` [rad]
    phase_after : Number
        phase of the cam after the work, positive early, :math:`p_2` [rad]
    by_centre : Number
        change of the gap for a cam later by one radian of the crank, :math:`k` [m]

    Returns
    -------
    result : Number
        least gap along the valve after the work, :math:`g_2` [m]

    Raises
    ------
    OutOfRange
        If ``valve_angle < 0`` or ``valve_angle >= 1.5``.

    Notes
    -----
    Valid for: changes of phase of a few degrees; the least gap moves a little as well and comes out lower still.
    Assumes: a floor parallel to the head.

    References
    ----------
    .. [1] derived, first order in the phase.

    Examples
    --------
    >>> late = dict(phase_read=np.radians(-2.44), phase_after=np.radians(-0.52))
    >>> work = dict(taken_off=0.00025, sunk=0.0, valve_angle=np.radians(19.0), **late)
    >>> round(float(gap_after_work(gap=0.00135, by_centre=0.00012 / np.radians(1.0), **work)), 5)
    0.00088
    """
    for name, value in (("gap", gap), ("taken_off", taken_off), ("sunk", sunk), ("by_centre", by_centre)):
        require(name, value, "m", source="derived")
    require("phase_read", phase_read, "rad", source="derived")
    require("phase_after", phase_after, "rad", source="derived")
    _check_angle("valve_angle", valve_angle)
    return gap - taken_off * np.cos(valve_angle) + sunk - by_centre * (phase_after - phase_read)


def _check_angle(name: str, value: Number) -> None:
    require(name, value, "rad", at_least=0, below=1.5, source="derived")
