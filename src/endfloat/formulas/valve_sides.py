"""Gaps of a valve beside its pocket and to its neighbour."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import Number, require

Array = NDArray[np.float64]


class SideGap(NamedTuple):
    """Least gap beside a pocket over the cycle, and whether the valve reaches into the pocket at all."""

    gap: Number
    inside: Number


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
    0.004782
    """
    lengths = (
        ("along", along),
        ("rise", rise),
        ("lift", lift),
        ("other_lift", other_lift),
    )
    for name, value in lengths:
        require(name, value, "m", source="derived")
    for name, value in (("spacing", spacing), ("diameter", diameter), ("other_diameter", other_diameter)):
        require(name, value, "m", above=0, source="derived")
    _check_angle("valve_angle", valve_angle)
    _check_angle("other_angle", other_angle)
    zero = np.zeros(
        np.broadcast_shapes(
            *map(np.shape, (spacing, along, rise, lift, other_lift, valve_angle, other_angle, diameter, other_diameter))
        )
    )
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


def _check_angle(name: str, value: Number) -> None:
    require(name, value, "rad", at_least=0, below=1.5, source="derived")
