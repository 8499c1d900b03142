"""A chain or belt round any number of wheels, guides and a tensioner: runs, wraps, links, marks and slack.

Wheels are listed in the order in which the loop meets them, along the last axis. `turning` is +1 where the loop goes
anticlockwise round a wheel and -1 where it goes clockwise: a roller on the back has the other sign than the wheels.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Array = NDArray[np.float64]
Number = float | Array
TURN = 2 * np.pi


class Loop(NamedTuple):
    """A taut loop: along the last axis the wheels, and the runs from each wheel to the next."""

    span: Array
    direction: Array
    wrap: Array
    arrival: Array
    departure: Array
    length: Array


def loop(*, x: Array, y: Array, radius: Array, turning: Array) -> Loop:
    """Free runs, tangents and wraps of a taut chain or belt round any number of wheels.

    Use it for a drawing of the drive, and for everything that follows from it. A guide is a wheel of its own radius.

    .. math:: k = s_j R_j - s_i R_i, \\quad l = \\sqrt{D^2 - k^2}, \\quad \\beta = \\angle(P_j - P_i) - \\arcsin(k / D)

    Parameters
    ----------
    x : Array
        centres of the wheels to the right [m]
    y : Array
        centres of the wheels upwards [m]
    radius : Array
        radii of the pitch line round the wheels, :math:`R` [m]
    turning : Array
        +1 where the loop goes anticlockwise round the wheel, -1 where clockwise, :math:`s` [1]

    Returns
    -------
    span : Array
        free run from each wheel to the next, :math:`l` [m]
    direction : Array
        direction of that run, anticlockwise from the right, :math:`\\beta` [rad]
    wrap : Array
        angle over which the loop touches each wheel [rad]
    arrival : Array
        direction from the centre of each wheel to where the loop arrives [rad]
    departure : Array
        direction from the centre of each wheel to where the loop leaves [rad]
    length : Array
        length of the pitch line, arcs on the circles [m]

    Raises
    ------
    OutOfRange
        If ``radius <= 0``, if a turning is neither +1 nor -1, if two wheels in turn leave no room for their tangent,
        or if a wheel is not touched from its side.

    Notes
    -----
    No published value: checked against the hull of circles and against tangents found by search.
    Valid for: loops that do not cross themselves, listed either way round.

    References
    ----------
    .. [1] derived, common tangents of circles.

    Examples
    --------
    >>> mid = loop(x=np.array([0.0, 75, -75]) / 1e3, y=np.array([0.0, 420, 420]) / 1e3,
    ...     radius=np.array([31.954, 63.731, 63.731]) / 1e3, turning=np.ones(3))
    >>> np.round(mid.span, 6)
    array([0.425459, 0.15    , 0.425459])
    """
    require("x", x, "m", source="derived")
    require("y", y, "m", source="derived")
    require("radius", radius, "m", above=0, source="derived")
    _one_way_or_other(turning)
    x, y, radius, turning = np.broadcast_arrays(x, y, radius, turning)
    distance, offset, centres = _pairs(x, y, radius, turning)
    tight = distance <= np.abs(offset)
    if np.any(tight):
        refuse("radius", radius, tight, "m", "wheels in turn that leave room for their tangent", source="derived")
    span, direction, wrap = _runs(distance, offset, centres, turning)
    _touched(span, radius, turning, wrap)
    quarter = turning * np.pi / 2
    length = np.sum(span, axis=-1) + np.sum(radius * wrap, axis=-1)
    return Loop(span, direction, wrap, _before(direction) - quarter, direction - quarter, length)


def loop_pitches(*, x: Array, y: Array, radius: Array, turning: Array, teeth: Array, pitch: Number) -> Number:
    """Links that a taut loop holds, straight runs counted in pitches and arcs in teeth.

    Use it for the links a drive needs, and for the slack that a skim or a longer chain leaves. The arcs of the pitch
    circles over-state a chain by up to half a percent of the arcs, as links are chords.

    .. math:: n = \\frac{1}{p} \\sum l_i + \\frac{1}{2 \\pi} \\sum \\theta_i z_i

    Parameters
    ----------
    x : Array
        centres of the wheels to the right [m]
    y : Array
        centres of the wheels upwards [m]
    radius : Array
        radii of the pitch line round the wheels [m]
    turning : Array
        +1 where the loop goes anticlockwise round the wheel, -1 where clockwise [1]
    teeth : Array
        teeth of the wheels, for a plain guide or roller those in its place, :math:`z` [1]
    pitch : Number
        pitch of the chain or belt as it is now, :math:`p` [m]

    Returns
    -------
    result : Number
        pitches of the loop, :math:`n` [1]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``teeth <= 0`` or ``radius <= 0``, or if the loop cannot be laid.

    Notes
    -----
    No published value: for two wheels it is the closed form.

    References
    ----------
    .. [1] derived, tangents of circles and chords on them.

    Examples
    --------
    >>> wheels = dict(x=np.array([0.0, 0.5]), y=np.zeros(2), radius=np.array([42.6064, 127.3856]) / 1e3)
    >>> round(float(loop_pitches(**wheels, turning=np.ones(2), teeth=np.array([21.0, 63.0]), pitch=0.0127)), 3)
    121.878
    """
    require("teeth", teeth, "1", above=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    laid = loop(x=x, y=y, radius=radius, turning=turning)
    return _pitches(laid, teeth, pitch)


def mark_angles(
    *,
    x: Array,
    y: Array,
    radius: Array,
    turning: Array,
    teeth: Array,
    pitch: Number,
    mark: Number,
    links: Array,
) -> Array:
    """Where the marks of all wheels stand, from the mark of the first wheel and the links counted between marks.

    Use it for the book's drive and for the drive as it is: the difference is the phase of each wheel. List the crank
    first and go along the tight side, against the running direction, with the tensioner last: the slack run from the
    last wheel back to the first is not used. A worn chain is given its own pitch and its own radii.

    .. math:: \\varphi_k = \\alpha_k + \\frac{2 \\pi s_k}{z_k} (M_k - n_k)

    Parameters
    ----------
    x : Array
        centres of the wheels to the right [m]
    y : Array
        centres of the wheels upwards [m]
    radius : Array
        radii of the pitch line round the wheels [m]
    turning : Array
        +1 where the loop goes anticlockwise round the wheel, -1 where clockwise, :math:`s` [1]
    teeth : Array
        teeth of the wheels, for a plain guide or roller those in its place, :math:`z` [1]
    pitch : Number
        pitch of the chain or belt as it is now [m]
    mark : Number
        direction of the mark of the first wheel from its centre; a mark off the chain counts the short way [rad]
    links : Array
        links from the coloured link of the first wheel to that of each, nought at the first, :math:`M` [1]

    Returns
    -------
    result : Array
        direction of the mark of each wheel from its centre, :math:`\\varphi` [rad]

    Raises
    ------
    OutOfRange
        If ``pitch <= 0`` or ``teeth <= 0`` or ``radius <= 0``, or if the loop cannot be laid.

    Notes
    -----
    No published value: a whole turn of the chain through all wheels agrees, link by link.
    Assumes: all runs but the last are straight and taut.

    References
    ----------
    .. [1] derived, pitches from the first mark to where the loop arrives at each wheel.

    Examples
    --------
    >>> radius = 0.004 / np.sin(np.pi / np.array([21.0, 42]))
    >>> drive = dict(x=np.zeros(2), y=np.array([0.0, 0.35]), turning=-np.ones(2), pitch=0.008)
    >>> marks = mark_angles(**drive, radius=radius, teeth=np.array([21.0, 42]), mark=-np.pi / 2,
    ...     links=np.array([0.0, 60]))
    >>> np.round(np.degrees(marks), 2)
    array([-90.  ,  86.81])
    """
    require("teeth", teeth, "1", above=0, source="derived")
    require("pitch", pitch, "m", above=0, source="derived")
    require("mark", mark, "rad", source="derived")
    require("links", links, "1", source="derived")
    laid = loop(x=x, y=y, radius=radius, turning=turning)
    step = TURN / np.asarray(teeth)
    # The way from the first mark to where the loop leaves is taken about the middle of the wrap.
    middle = laid.wrap[..., 0] / 2 + np.pi
    way = middle - (middle - np.asarray(turning)[..., 0] * (laid.departure[..., 0] - mark)) % TURN
    arcs = np.cumsum(laid.wrap / step, axis=-1)
    reached = np.cumsum(laid.span, axis=-1) / np.asarray(pitch)[..., None] + arcs - arcs[..., :1]
    passed = (way / step[..., 0])[..., None] + reached[..., :-1]
    counted = np.asarray(links)[..., 1:] - np.asarray(links)[..., :1]
    found = laid.arrival[..., 1:] + (turning * step)[..., 1:] * (counted - passed)
    first = np.broadcast_to(np.asarray(mark)[..., None], (*found.shape[:-1], 1))
    return np.concatenate([first, found], axis=-1)


def _pitches(laid: Loop, teeth: Array, pitch: Number) -> Array:
    return np.asarray(np.sum(laid.span, axis=-1) / pitch + np.sum(laid.wrap * teeth, axis=-1) / TURN)


def _one_way_or_other(turning: Array) -> None:
    odd = np.abs(np.asarray(turning)) != 1
    if np.any(odd):
        refuse("turning", turning, odd, "1", "+1 (anticlockwise) or -1 (clockwise)", source="derived")


def _before(values: Array) -> Array:
    """For each wheel what belongs to the run that arrives at it."""
    return np.concatenate([values[..., -1:], values[..., :-1]], axis=-1)


def _next(values: Array) -> Array:
    return np.concatenate([values[..., 1:], values[..., :1]], axis=-1)


def _pairs(x: Array, y: Array, radius: Array, turning: Array) -> tuple[Array, Array, Array]:
    """For each wheel and the next: distance, offset of their tangent, direction of the centres."""
    right, up, signed = _next(x) - x, _next(y) - y, turning * radius
    return np.hypot(right, up), _next(signed) - signed, np.arctan2(up, right)


def _runs(distance: Array, offset: Array, centres: Array, turning: Array) -> tuple[Array, Array, Array]:
    """Free runs, their directions, and the wraps between them."""
    span = np.sqrt(distance**2 - offset**2)
    direction = centres - np.arctan2(offset, span)
    wrap = turning * (direction - _before(direction)) % TURN
    # A wheel that is just touched has no wrap; the last digit must not make a turn of it.
    return span, direction, np.where(TURN - wrap < 1e-9, 0.0, wrap)


def _touched(span: Array, radius: Array, turning: Array, wrap: Array) -> None:
    """Refuse a wheel that the loop passes clear of: its tangents cross, or the loop does not turn round once."""
    meet = radius * np.abs(np.tan(wrap / 2))
    crossed = (wrap > np.pi) & (span > meet) & (_before(span) > meet)
    turned = np.abs(np.sum(turning * wrap, axis=-1, keepdims=True))
    bad = crossed | (np.abs(turned - TURN) > 1e-6)
    if np.any(bad):
        expected = "a loop that touches every wheel from its side, turns round once and does not cross itself"
        refuse("turning", turning, bad, "1", expected, source="derived")
