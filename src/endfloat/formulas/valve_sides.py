"""More gaps of a valve: beside its pocket, to its neighbour, from parts; and what work does to a gap already read."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import Number, refuse, require
from endfloat.formulas.least_gap import crank_slider

Array = NDArray[np.float64]


class SideGap(NamedTuple):
    """Least gap beside a pocket over the cycle, and whether the valve reaches into the pocket at all."""

    gap: Number
    inside: Number


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


def side_gap(
    *, pocket_radius: Number, valve_radius: Number, offset: Number, lift: Number, valve_angle: Number
) -> Number:
    """Gap between the rim of a valve and the wall of its pocket, at one lift.

    A leaning valve moves sideways over the piston as it opens; a head on worn dowels adds its own offset.

    .. math:: r_p - r_v - |o + L\\sin\\gamma|

    Parameters
    ----------
    pocket_radius : Number
        radius of the pocket, :math:`r_p` [m]
    valve_radius : Number
        radius of the head, :math:`r_v` [m]
    offset : Number
        middle of the closed valve off that of the pocket, positive the way it moves, :math:`o` [m]
    lift : Number
        lift of the valve, :math:`L` [m]
    valve_angle : Number
        angle between valve and cylinder, :math:`\\gamma` [rad]

    Returns
    -------
    result : Number
        gap, negative when they would meet [m]

    Raises
    ------
    OutOfRange
        If ``pocket_radius <= 0``, ``valve_radius <= 0``, ``valve_angle < 0`` or ``valve_angle >= 1.5``.

    Notes
    -----
    Valid for: angles at which the rim is below the edge of the pocket; see `least_side_gap`.
    No published value: an identity of the geometry.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> place = dict(pocket_radius=0.0187, valve_radius=0.017, offset=-0.0002, valve_angle=np.radians(12.0))
    >>> round(float(side_gap(lift=0.003, **place)), 6)
    0.001276
    """
    require("pocket_radius", pocket_radius, "m", above=0, source="derived")
    require("valve_radius", valve_radius, "m", above=0, source="derived")
    require("offset", offset, "m", source="derived")
    require("lift", lift, "m", source="derived")
    _check_angle("valve_angle", valve_angle)
    return pocket_radius - valve_radius - np.abs(offset + lift * np.sin(valve_angle))


def least_side_gap(*, side_gaps: Array, floor_gaps: Array, pocket_depth: Number) -> SideGap:
    """The least gap beside a pocket, over the angles at which the valve is inside it.

    Parameters
    ----------
    side_gaps : Array
        gap beside the pocket, crank angles along the last axis [m]
    floor_gaps : Array
        gap to its floor along the valve at the same angles [m]
    pocket_depth : Number
        depth of the pocket along the valve, where it is deepest; leading axes alone [m]

    Returns
    -------
    gap : Number
        least gap while inside; where the valve never goes in, the gap at the angle at which it comes nearest [m]
    inside : Number
        one when the valve goes in at any angle, else nought [1]

    Raises
    ------
    OutOfRange
        If ``pocket_depth < 0``.

    Notes
    -----
    Assumes: angles close enough that none is missed; 1 degree of the crank is.
    No published value: an identity.

    References
    ----------
    .. [1] derived, the rim is below the edge while its gap to the floor is less than the depth.

    Examples
    --------
    >>> sides, floors = np.array([0.0015, 0.0012, 0.0009]), np.array([0.001, 0.002, 0.004])
    >>> least_side_gap(side_gaps=sides, floor_gaps=floors, pocket_depth=0.003).gap
    0.0012
    """
    require("side_gaps", side_gaps, "m", source="derived")
    require("floor_gaps", floor_gaps, "m", source="derived")
    require("pocket_depth", pocket_depth, "m", at_least=0, source="derived")
    sides, floors = np.broadcast_arrays(side_gaps, floor_gaps)
    inside = floors < np.asarray(pocket_depth)[..., None]
    ever = np.any(inside, axis=-1)
    sides, floors, inside = np.broadcast_arrays(sides, floors, inside)
    nearest = np.take_along_axis(sides, np.argmin(floors, axis=-1)[..., None], axis=-1)[..., 0]
    least = np.min(np.where(inside, sides, np.inf), axis=-1)
    return SideGap(np.where(ever, least, nearest)[()], ever.astype(np.float64)[()])


def valve_to_valve_gap(
    *,
    spacing: Number,
    along: Number,
    rise: Number,
    lift: Number,
    other_lift: Number,
    valve_angle: Number,
    other_angle: Number,
    diameter: Number,
    other_diameter: Number,
) -> Number:
    """Gap between the heads of two valves that lean towards each other, at one crank angle.

    Both heads are flat discs; they lean in planes across the engine and come nearer as they open. Taken at each
    angle of the overlap, with the lifts the two cams have there, it shows how far a cam may be moved.

    Parameters
    ----------
    spacing : Number
        between the middles of the closed heads, across the engine [m]
    along : Number
        between the middles of the closed heads, along the engine; nought when they face each other [m]
    rise : Number
        of the other closed head above this one, along the cylinder [m]
    lift : Number
        lift of this valve [m]
    other_lift : Number
        lift of the other [m]
    valve_angle : Number
        angle between this valve and the cylinder, its stem leaning away from the other [rad]
    other_angle : Number
        angle between the other valve and the cylinder, its stem leaning away from this one [rad]
    diameter : Number
        diameter of this head [m]
    other_diameter : Number
        diameter of the other head [m]

    Returns
    -------
    result : Number
        shortest distance between the heads, nought when they meet [m]

    Raises
    ------
    OutOfRange
        If ``spacing <= 0``, ``diameter <= 0``, ``other_diameter <= 0``, ``valve_angle < 0``,
        ``valve_angle >= 1.5``, ``other_angle < 0`` or ``other_angle >= 1.5``.

    Notes
    -----
    Accuracy: 0.1 um; the shortest way starts at a rim, which is searched all round.
    No published value: brute force over both discs, and shapely in the plane of two facing valves, in the tests.

    References
    ----------
    .. [1] derived, distance from the points of a circle to a disc.

    Examples
    --------
    >>> heads = dict(valve_angle=0.3, other_angle=0.3, diameter=0.034, other_diameter=0.029)
    >>> place = dict(spacing=0.036, along=0.0, rise=0.0)
    >>> round(float(valve_to_valve_gap(lift=0.002, other_lift=0.002, **heads, **place)), 6)
    0.004722
    """
    lengths = (
        ("along", along), ("rise", rise), ("lift", lift), ("other_lift", other_lift),
    )
    for name, value in lengths:
        require(name, value, "m", source="derived")
    for name, value in (("spacing", spacing), ("diameter", diameter), ("other_diameter", other_diameter)):
        require(name, value, "m", above=0, source="derived")
    _check_angle("valve_angle", valve_angle)
    _check_angle("other_angle", other_angle)
    zero = np.zeros(np.broadcast_shapes(*map(np.shape, (spacing, along, rise, lift, other_lift, valve_angle,
                                                        other_angle, diameter, other_diameter))))
    # Across, along, up: the heads move towards each other and down as they open.
    way = np.stack([zero + np.sin(valve_angle), zero, zero - np.cos(valve_angle)])
    other_way = np.stack([zero - np.sin(other_angle), zero, zero - np.cos(other_angle)])
    middle = lift * way
    other = np.stack([zero + spacing, zero + along, zero + rise]) + other_lift * other_way
    here = _rim_to_disc(middle, way, diameter / 2, other, other_way, other_diameter / 2)
    there = _rim_to_disc(other, other_way, other_diameter / 2, middle, way, diameter / 2)
    return np.minimum(here, there)[()]


def _rim_to_disc(middle: Array, way: Array, radius: Number, other: Array, other_way: Array, reach: Number) -> Array:
    """Least distance from the rim of one disc to another disc, by a search round the rim that narrows."""
    side = np.zeros_like(way)
    side[1] = 1.0
    cross = np.cross(way, side, axis=0)

    def distance(angle: Array) -> Array:
        rim = middle[..., None] + np.asarray(radius)[..., None] * (
            np.cos(angle) * side[..., None] + np.sin(angle) * cross[..., None]
        )
        away = rim - other[..., None]
        above = np.sum(away * other_way[..., None], axis=0)
        out = np.sqrt(np.maximum(np.sum(away**2, axis=0) - above**2, 0.0))
        return np.asarray(np.hypot(above, np.maximum(out - np.asarray(reach)[..., None], 0.0)))

    places = 72
    width = 2 * np.pi / places
    offsets = width * np.arange(places)
    at = np.zeros((*way.shape[1:], 1))
    for _ in range(6):
        angles = at + offsets
        found = distance(angles)
        best = np.argmin(found, axis=-1)[..., None]
        at = np.take_along_axis(angles, best, axis=-1)
        offsets = width * np.linspace(-1, 1, 17)
        width /= 8
    return np.asarray(np.take_along_axis(found, best, axis=-1)[..., 0])


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
