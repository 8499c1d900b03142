"""Three-angle seats: edges, contact width, what each cutter moves, and the least cut that gives a wanted seat.

Angles are taken from the plane square to the valve: top cutter, seat, throat, each steeper than the one before.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from endfloat.formulas.bounds import Number, refuse, require


class SeatEdges(NamedTuple):
    """A seat between its edges."""

    outer_diameter: Number
    inner_diameter: Number
    width: Number


class SeatFeeds(NamedTuple):
    """How far each cutter is fed along the valve, and what the valve sinks by it."""

    seat: Number
    top: Number
    throat: Number


def contact_width(*, outer_diameter: Number, inner_diameter: Number, seat_angle: Number) -> Number:
    """Width of a seat along its face, from the diameters of its edges.

    .. math:: w = \\frac{D_o - D_i}{2\\cos\\alpha}

    Parameters
    ----------
    outer_diameter : Number
        outer edge of the seat, :math:`D_o` [m]
    inner_diameter : Number
        inner edge of the seat, :math:`D_i` [m]
    seat_angle : Number
        angle of the seat, :math:`\\alpha` [rad]

    Returns
    -------
    result : Number
        width along the face, :math:`w` [m]

    Raises
    ------
    OutOfRange
        If ``outer_diameter <= 0``, ``inner_diameter <= 0``, ``seat_angle <= 0`` or ``seat_angle >= 1.57``, or the
        inner edge is not inside the outer.

    Notes
    -----
    No published value: the cone between two circles, by shapely in the tests.

    References
    ----------
    .. [1] derived, slope of a cone.

    Examples
    --------
    >>> seat = dict(outer_diameter=0.0330, inner_diameter=0.0310)
    >>> round(float(contact_width(seat_angle=np.radians(45.0), **seat)), 6)
    0.001414
    """
    _check_edges(outer_diameter, inner_diameter)
    require("seat_angle", seat_angle, "rad", above=0, below=1.57, source="derived")
    return ((outer_diameter - inner_diameter) / (2 * np.cos(seat_angle)))[()]


def edges_from_cones(
    *,
    top_angle: Number,
    seat_angle: Number,
    throat_angle: Number,
    top_diameter: Number,
    seat_diameter: Number,
    throat_diameter: Number,
) -> SeatEdges:
    """Edges and width of a seat from its three cones, each given by its diameter in one and the same plane.

    Parameters
    ----------
    top_angle : Number
        angle of the top cutter [rad]
    seat_angle : Number
        angle of the seat [rad]
    throat_angle : Number
        angle of the throat cutter [rad]
    top_diameter : Number
        diameter of the top cone in a plane square to the valve [m]
    seat_diameter : Number
        diameter of the seat cone in that plane [m]
    throat_diameter : Number
        diameter of the throat cone in that plane [m]

    Returns
    -------
    outer_diameter : Number
        edge between seat and top cone [m]
    inner_diameter : Number
        edge between seat and throat cone [m]
    width : Number
        width of the seat along its face [m]

    Raises
    ------
    OutOfRange
        If ``top_angle < 0``, ``throat_angle >= 1.57``, ``top_diameter <= 0``, ``seat_diameter <= 0`` or
        ``throat_diameter <= 0``; if an angle is not steeper than the one before, or no seat is left.

    Notes
    -----
    No published value: three half-planes cut by shapely, in the tests.

    References
    ----------
    .. [1] derived, lines that cross.

    Examples
    --------
    >>> angles = dict(zip(("top_angle", "seat_angle", "throat_angle"), np.radians([30.0, 45.0, 60.0])))
    >>> cones = dict(top_diameter=0.031268, seat_diameter=0.032, throat_diameter=0.031577)
    >>> [round(float(each), 5) for each in edges_from_cones(**angles, **cones)]
    [0.033, 0.031, 0.00141]
    """
    low, middle, steep = _slopes(top_angle, seat_angle, throat_angle)
    named = (("top_diameter", top_diameter), ("seat_diameter", seat_diameter), ("throat_diameter", throat_diameter))
    for name, value in named:
        require(name, value, "m", above=0, source="derived")
    outer = (middle * seat_diameter - low * top_diameter) / (middle - low)
    inner = (steep * throat_diameter - middle * seat_diameter) / (steep - middle)
    return _edges(outer, inner, seat_angle)


def seat_after_cuts(
    *,
    top_angle: Number,
    seat_angle: Number,
    throat_angle: Number,
    outer_diameter: Number,
    inner_diameter: Number,
    top_feed: Number,
    seat_feed: Number,
    throat_feed: Number,
) -> SeatEdges:
    """Edges and width of a seat after each cutter has been fed further, from the seat as it is.

    The seat cutter widens the seat both ways; the top cutter brings its outer edge in, the throat cutter its inner
    edge out. Feeds are along the valve, as the dial of a seat machine shows them.

    .. math:: \\Delta D_o = \\frac{2(f_s - f_t)}{m_s - m_t},\\quad \\Delta D_i = \\frac{2(f_b - f_s)}{m_b - m_s}

    Parameters
    ----------
    top_angle : Number
        angle of the top cutter, slope :math:`m_t` [rad]
    seat_angle : Number
        angle of the seat, slope :math:`m_s` [rad]
    throat_angle : Number
        angle of the throat cutter, slope :math:`m_b` [rad]
    outer_diameter : Number
        outer edge of the seat before [m]
    inner_diameter : Number
        inner edge of the seat before [m]
    top_feed : Number
        feed of the top cutter past its present cone, :math:`f_t` [m]
    seat_feed : Number
        feed of the seat cutter, :math:`f_s` [m]
    throat_feed : Number
        feed of the throat cutter, :math:`f_b` [m]

    Returns
    -------
    outer_diameter : Number
        outer edge after [m]
    inner_diameter : Number
        inner edge after [m]
    width : Number
        width of the seat along its face [m]

    Raises
    ------
    OutOfRange
        If ``top_angle < 0``, ``throat_angle >= 1.57``, ``outer_diameter <= 0``, ``inner_diameter <= 0``,
        ``top_feed < 0``, ``seat_feed < 0`` or ``throat_feed < 0``; if an angle is not steeper than the one before,
        the inner edge is not inside the outer, or no seat is left.

    Notes
    -----
    Assumes: cutters that have already touched all round, true to the guide.

    References
    ----------
    .. [1] derived, lines that cross.

    Examples
    --------
    >>> angles = dict(zip(("top_angle", "seat_angle", "throat_angle"), np.radians([30.0, 45.0, 60.0])))
    >>> feeds = dict(top_feed=0.0, seat_feed=0.0001, throat_feed=0.0)
    >>> found = seat_after_cuts(outer_diameter=0.033, inner_diameter=0.031, **angles, **feeds)
    >>> [round(float(each) * 1e3, 4) for each in found]
    [33.4732, 30.7268, 1.942]
    """
    low, middle, steep = _slopes(top_angle, seat_angle, throat_angle)
    _check_edges(outer_diameter, inner_diameter)
    for name, value in (("top_feed", top_feed), ("seat_feed", seat_feed), ("throat_feed", throat_feed)):
        require(name, value, "m", at_least=0, source="derived")
    outer = outer_diameter + 2 * (seat_feed - top_feed) / (middle - low)
    inner = inner_diameter + 2 * (throat_feed - seat_feed) / (steep - middle)
    return _edges(outer, inner, seat_angle)


def cuts_for_seat(
    *,
    top_angle: Number,
    seat_angle: Number,
    throat_angle: Number,
    outer_diameter: Number,
    inner_diameter: Number,
    wanted_outer: Number,
    wanted_inner: Number,
    least_seat_feed: Number,
) -> SeatFeeds:
    """The least seat cut, and the top and throat cuts with it, that bring a seat to wanted edges.

    The valve sinks by the feed of the seat cutter alone, so that is made as small as the clean-up and the edges
    allow; top and throat are then cut to place and narrow the seat.

    Parameters
    ----------
    top_angle : Number
        angle of the top cutter [rad]
    seat_angle : Number
        angle of the seat [rad]
    throat_angle : Number
        angle of the throat cutter [rad]
    outer_diameter : Number
        outer edge of the seat as it is [m]
    inner_diameter : Number
        inner edge of the seat as it is [m]
    wanted_outer : Number
        outer edge wanted [m]
    wanted_inner : Number
        inner edge wanted [m]
    least_seat_feed : Number
        feed at which the seat is clean all round [m]

    Returns
    -------
    seat : Number
        feed of the seat cutter: the valve sinks by it [m]
    top : Number
        feed of the top cutter [m]
    throat : Number
        feed of the throat cutter [m]

    Raises
    ------
    OutOfRange
        If ``top_angle < 0``, ``throat_angle >= 1.57``, ``outer_diameter <= 0``, ``inner_diameter <= 0``,
        ``wanted_outer <= 0``, ``wanted_inner <= 0`` or ``least_seat_feed < 0``; if an angle is not steeper than
        the one before, or an inner edge is not inside its outer.

    Notes
    -----
    No published value: the way back of `seat_after_cuts`; a linear programme finds no smaller cut, in the tests.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> angles = dict(zip(("top_angle", "seat_angle", "throat_angle"), np.radians([30.0, 45.0, 60.0])))
    >>> seat = dict(outer_diameter=0.0330, inner_diameter=0.0312, wanted_outer=0.0328, wanted_inner=0.0310)
    >>> [round(float(each) * 1e3, 4) for each in cuts_for_seat(least_seat_feed=0.00005, **seat, **angles)]
    [0.0732, 0.1155, 0.0]
    """
    low, middle, steep = _slopes(top_angle, seat_angle, throat_angle)
    _check_edges(outer_diameter, inner_diameter)
    _check_edges(wanted_outer, wanted_inner, "wanted_outer", "wanted_inner")
    require("least_seat_feed", least_seat_feed, "m", at_least=0, source="derived")
    out = (wanted_outer - outer_diameter) / 2 * (middle - low)
    into = (inner_diameter - wanted_inner) / 2 * (steep - middle)
    seat = np.maximum(np.maximum(least_seat_feed, out), into)
    return SeatFeeds(*(np.broadcast_to(each, np.shape(seat))[()] for each in (seat, seat - out, seat - into)))


def first_contact(*, outer_diameter: Number, inner_diameter: Number, seat_angle: Number, face_angle: Number) -> Number:
    """Diameter on which a valve first touches its seat when their angles differ a little on purpose.

    A flatter face touches the outer edge, a steeper one the inner; the valve sinks and seals from there. Of equal
    angles the middle of the seat is told.

    Parameters
    ----------
    outer_diameter : Number
        outer edge of the seat [m]
    inner_diameter : Number
        inner edge of the seat [m]
    seat_angle : Number
        angle of the seat [rad]
    face_angle : Number
        angle of the valve's face [rad]

    Returns
    -------
    result : Number
        diameter of the first contact [m]

    Raises
    ------
    OutOfRange
        If ``outer_diameter <= 0``, ``inner_diameter <= 0``, ``seat_angle <= 0``, ``seat_angle >= 1.57``,
        ``face_angle <= 0`` or ``face_angle >= 1.57``, or the inner edge is not inside the outer.

    Notes
    -----
    Valid for: a face that reaches over both edges of the seat.
    No published value: an identity of two cones.

    References
    ----------
    .. [1] derived.

    Examples
    --------
    >>> seat = dict(outer_diameter=0.0330, inner_diameter=0.0310, seat_angle=np.radians(45.0))
    >>> float(first_contact(face_angle=np.radians(44.0), **seat))
    0.033
    """
    _check_edges(outer_diameter, inner_diameter)
    require("seat_angle", seat_angle, "rad", above=0, below=1.57, source="derived")
    require("face_angle", face_angle, "rad", above=0, below=1.57, source="derived")
    side = np.sign(seat_angle - np.asarray(face_angle))
    return ((outer_diameter + inner_diameter) / 2 + side * (outer_diameter - inner_diameter) / 2)[()]


def _slopes(top_angle: Number, seat_angle: Number, throat_angle: Number) -> tuple[Number, Number, Number]:
    require("top_angle", top_angle, "rad", at_least=0, source="derived")
    require("seat_angle", seat_angle, "rad", source="derived")
    require("throat_angle", throat_angle, "rad", below=1.57, source="derived")
    pairs = (("seat_angle", seat_angle, top_angle), ("throat_angle", throat_angle, seat_angle))
    for name, angle, before in pairs:
        if np.any(flat := np.asarray(angle <= before)):
            refuse(name, angle, flat, "rad", "an angle steeper by more than 0 than the cutter before", source="derived")
    return np.tan(top_angle), np.tan(seat_angle), np.tan(throat_angle)


def _check_edges(outer: Number, inner: Number, name: str = "outer_diameter", other: str = "inner_diameter") -> None:
    require(name, outer, "m", above=0, source="derived")
    require(other, inner, "m", above=0, source="derived")
    if np.any(crossed := np.asarray(inner >= outer)):
        refuse(other, inner, crossed, "m", "less than 1 outer diameter", source="derived")


def _edges(outer: Number, inner: Number, seat_angle: Number) -> SeatEdges:
    width = (outer - inner) / (2 * np.cos(seat_angle))
    if np.any(gone := np.asarray(width <= 0)):
        refuse("width", width, gone, "m", "a seat wider than 0 between its edges", source="derived")
    return SeatEdges(outer, inner, width)
