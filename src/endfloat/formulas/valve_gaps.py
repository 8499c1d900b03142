"""Gap from valve to piston over the whole cycle: where it is least, by how much, and what it depends on."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import Number, refuse, require
from endfloat.formulas.least_gap import Cycle, Least, crank_slider, least_over_cycle
from endfloat.formulas.lift_curve import lift_curve

Array = NDArray[np.float64]


class LeastGap(NamedTuple):
    """The least gap, where it is, and how it changes with what it rests on."""

    gap: Number
    angle: Number
    by_centre: Number
    by_lash: Number
    by_throw: Number
    by_rod: Number
    by_valve_angle: Number


def pocket_gap(*, closed_gap: Number, depth: Number, lift: Number, valve_angle: Number) -> Number:
    """Gap between a valve's head and the floor of its pocket, along the valve, at one crank angle.

    .. math:: g = G_0 + X\\cos\\gamma - L

    Parameters
    ----------
    closed_gap : Number
        gap along the valve with the valve closed and the piston at the top, :math:`G_0` [m]
    depth : Number
        of the piston below its top, :math:`X` [m]
    lift : Number
        lift of the valve, :math:`L` [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]

    Returns
    -------
    result : Number
        gap, negative when they would meet, :math:`g` [m]

    Raises
    ------
    OutOfRange
        If ``valve_angle < 0`` or ``valve_angle >= 1.5``.

    Notes
    -----
    Valid for: a floor parallel to the head.
    Assumes: parts that do not stretch; keep room for the rod, the rocking piston and speed.
    No published value: an identity of the geometry.

    References
    ----------
    .. [1] derived, the piston comes down along the cylinder, the valve along its own axis.

    Examples
    --------
    >>> round(float(pocket_gap(closed_gap=0.003, depth=0.001, lift=0.002, valve_angle=0.0)), 6)
    0.002
    """
    _check_place(closed_gap, depth, lift, valve_angle)
    return closed_gap + depth * np.cos(valve_angle) - lift


def crown_gap(*, closed_gap: Number, depth: Number, lift: Number, valve_angle: Number) -> Number:
    """Gap between the lowest point of a valve's rim and a flat crown, along the cylinder, at one crank angle.

    .. math:: g = g_0 + X - L\\cos\\gamma

    Parameters
    ----------
    closed_gap : Number
        gap along the cylinder with the valve closed and the piston at the top, :math:`g_0` [m]
    depth : Number
        of the piston below its top, :math:`X` [m]
    lift : Number
        lift of the valve, :math:`L` [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]

    Returns
    -------
    result : Number
        gap, negative when they would meet, :math:`g` [m]

    Raises
    ------
    OutOfRange
        If ``valve_angle < 0`` or ``valve_angle >= 1.5``.

    Notes
    -----
    Valid for: a crown square to the cylinder, without pockets.
    No published value: an identity of the geometry.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> round(float(crown_gap(closed_gap=0.003, depth=0.001, lift=0.002, valve_angle=np.pi / 3)), 6)
    0.003
    """
    _check_place(closed_gap, depth, lift, valve_angle)
    return closed_gap + depth - lift * np.cos(valve_angle)


def least_pocket_gap(
    *,
    closed_gap: Number,
    valve_angle: Number,
    throw: Number,
    rod: Number,
    offset: Number,
    centre: Number,
    lash: Number,
    rocker_ratio: Number,
    reach: float,
    table_angle: Array,
    table_lift: Array,
    period: float,
) -> LeastGap:
    """The least gap between a valve and the floor of its pocket over the cycle, its angle and its sensitivities.

    The least gap of an intake lies some 5 to 15 degrees after the top, that of an exhaust as much before it: a test
    with clay shows the gap, not where it is nor how fast a late or early cam eats it. All arguments but the table
    may be arrays; a draw costs about a microsecond.

    Parameters
    ----------
    closed_gap : Number
        gap along the valve with the valve closed and the piston at the top [m]
    valve_angle : Number
        angle between valve and cylinder [rad]
    throw : Number
        radius of the crank [m]
    rod : Number
        rod between centres [m]
    offset : Number
        of the pin's line from the crank's centre, to the side the crankpin goes down [m]
    centre : Number
        crank angle after the top at which the nought of the table stands; negative for an exhaust [rad]
    lash : Number
        clearance at the valve [m]
    rocker_ratio : Number
        valve lift for lobe lift, one for a bucket [1]
    reach : float
        crank angle on either side of the top that is searched [rad]
    table_angle : Array
        angles of the lobe's table, rising, in the engine's sense [rad]
    table_lift : Array
        lift of the lobe at each of them [m]
    period : float
        one turn of the cam on that scale: one full angle of the cam, or two of the crank [rad]

    Returns
    -------
    gap : Number
        least gap, negative when they would meet [m]
    angle : Number
        crank angle after the top at which it is least [rad]
    by_centre : Number
        change of the gap for a cam later by one radian of the crank [m]
    by_lash : Number
        change of the gap with the lash: one, or nought while the valve is closed there [1]
    by_throw : Number
        change with the throw, the closed gap kept [1]
    by_rod : Number
        change with the rod, the closed gap kept [1]
    by_valve_angle : Number
        change for one radian of valve angle, the closed gap kept [m]

    Raises
    ------
    OutOfRange
        If ``valve_angle < 0``, ``valve_angle >= 1.5``, ``throw <= 0``, ``rod <= 0``, ``lash < 0``,
        ``rocker_ratio <= 0``, ``reach <= 0`` or ``reach > 6.2832``; if the rod is not longer than
        throw and offset together; otherwise as `lobes.lift_from_table`.

    Notes
    -----
    Accuracy: the least of the splined table within 1 nm; two dips deeper than 5 degrees apart are told apart.
    Assumes: parts that do not stretch, a floor parallel to the head.
    No published value: scipy's bounded search and a dense grid agree, in the tests.

    References
    ----------
    .. [1] derived, sensitivities at the least gap by the envelope theorem.

    Examples
    --------
    >>> angles = np.radians(np.arange(-140.0, 141.0, 4.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> engine = dict(throw=0.043, rod=0.145, offset=0.0, valve_angle=np.radians(12.0), rocker_ratio=1.0)
    >>> search = dict(reach=np.radians(40.0), period=4 * np.pi, **table)
    >>> found = least_pocket_gap(closed_gap=0.003, centre=np.radians(108.0), lash=0.00025, **engine, **search)
    >>> round(float(found.gap), 6), round(float(np.degrees(found.angle)), 2)
    (0.001831, 5.0)
    """
    cosine = np.cos(valve_angle)
    cycle = _cycle(throw, rod, offset, centre, lash, rocker_ratio, reach, table_angle, table_lift, period)
    _check_place(closed_gap, 0.0, 0.0, valve_angle)
    least = least_over_cycle(cycle, cosine, 1.0)
    return _told(closed_gap, least, cosine, 1.0, -least.depth * np.sin(valve_angle))


def least_crown_gap(
    *,
    closed_gap: Number,
    valve_angle: Number,
    throw: Number,
    rod: Number,
    offset: Number,
    centre: Number,
    lash: Number,
    rocker_ratio: Number,
    reach: float,
    table_angle: Array,
    table_lift: Array,
    period: float,
) -> LeastGap:
    """The least gap between a valve's rim and a flat crown over the cycle, its angle and its sensitivities.

    As `least_pocket_gap`, for a crown without pockets: the gap is taken along the cylinder.

    Parameters
    ----------
    closed_gap : Number
        gap along the cylinder with the valve closed and the piston at the top [m]
    valve_angle : Number
        angle between valve and cylinder [rad]
    throw : Number
        radius of the crank [m]
    rod : Number
        rod between centres [m]
    offset : Number
        of the pin's line from the crank's centre, to the side the crankpin goes down [m]
    centre : Number
        crank angle after the top at which the nought of the table stands; negative for an exhaust [rad]
    lash : Number
        clearance at the valve [m]
    rocker_ratio : Number
        valve lift for lobe lift, one for a bucket [1]
    reach : float
        crank angle on either side of the top that is searched [rad]
    table_angle : Array
        angles of the lobe's table, rising, in the engine's sense [rad]
    table_lift : Array
        lift of the lobe at each of them [m]
    period : float
        one turn of the cam on that scale: one full angle of the cam, or two of the crank [rad]

    Returns
    -------
    gap : Number
        least gap, negative when they would meet [m]
    angle : Number
        crank angle after the top at which it is least [rad]
    by_centre : Number
        change of the gap for a cam later by one radian of the crank [m]
    by_lash : Number
        change of the gap with the lash [1]
    by_throw : Number
        change with the throw, the closed gap kept [1]
    by_rod : Number
        change with the rod, the closed gap kept [1]
    by_valve_angle : Number
        change for one radian of valve angle, the closed gap kept [m]

    Raises
    ------
    OutOfRange
        If ``valve_angle < 0``, ``valve_angle >= 1.5``, ``throw <= 0``, ``rod <= 0``, ``lash < 0``,
        ``rocker_ratio <= 0``, ``reach <= 0`` or ``reach > 6.2832``; otherwise as `least_pocket_gap`.

    Notes
    -----
    No published value: scipy's bounded search agrees, in the tests.

    References
    ----------
    .. [1] derived, sensitivities at the least gap by the envelope theorem.

    Examples
    --------
    >>> angles = np.radians(np.arange(-140.0, 141.0, 4.0))
    >>> table = dict(table_angle=angles, table_lift=0.01 * np.cos(np.pi * angles / angles[-1] / 2) ** 2)
    >>> engine = dict(throw=0.043, rod=0.145, offset=0.0, valve_angle=0.0, rocker_ratio=1.0)
    >>> search = dict(reach=np.radians(40.0), period=4 * np.pi, **table)
    >>> found = least_crown_gap(closed_gap=0.003, centre=np.radians(-108.0), lash=0.0, **engine, **search)
    >>> round(float(found.gap), 5), round(float(np.degrees(found.angle)), 2)
    (0.00159, -4.87)
    """
    cosine = np.cos(valve_angle)
    cycle = _cycle(throw, rod, offset, centre, lash, rocker_ratio, reach, table_angle, table_lift, period)
    _check_place(closed_gap, 0.0, 0.0, valve_angle)
    least = least_over_cycle(cycle, 1.0, cosine)
    return _told(closed_gap, least, 1.0, cosine, least.lift * np.sin(valve_angle))


def _told(closed_gap: Number, least: Least, down: Number, along: Number, by_valve_angle: Number) -> LeastGap:
    gap = closed_gap + least.gap
    fields = (
        least.angle,
        along * least.slope,
        along * least.opened,
        down * least.by_throw,
        down * least.by_rod,
        by_valve_angle,
    )
    return LeastGap(gap, *(np.broadcast_to(each, np.shape(gap))[()] for each in fields))


def _check_crank(throw: Number, rod: Number, offset: Number) -> None:
    require("throw", throw, "m", above=0, source="derived")
    require("rod", rod, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    short = np.asarray(rod <= throw + np.abs(offset))
    if np.any(short):
        refuse("rod", rod, short, "m", "more than 1 throw and offset together", source="derived")


def _check_place(closed_gap: Number, depth: Number, lift: Number, valve_angle: Number) -> None:
    for name, value in (("closed_gap", closed_gap), ("depth", depth), ("lift", lift)):
        require(name, value, "m", source="derived")
    require("valve_angle", valve_angle, "rad", at_least=0, below=1.5, source="derived")


def _cycle(
    throw: Number,
    rod: Number,
    offset: Number,
    centre: Number,
    lash: Number,
    rocker_ratio: Number,
    reach: float,
    table_angle: Array,
    table_lift: Array,
    period: float,
) -> Cycle:
    _check_crank(throw, rod, offset)
    require("centre", centre, "rad", source="derived")
    require("lash", lash, "m", at_least=0, source="derived")
    require("rocker_ratio", rocker_ratio, "1", above=0, source="derived")
    require("reach", reach, "rad", above=0, at_most=6.2832, source="derived")
    curve = lift_curve(table_angle, table_lift, period)
    return Cycle(crank_slider(throw, rod, offset), curve, centre, lash, rocker_ratio, float(reach))
